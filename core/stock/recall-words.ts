import { counted } from '../units/date-words.ts'
import type { WayBack } from './recall.ts'

interface LotNamed {
  readonly lotNumber: string
  readonly partName: string
}

interface Quarantining {
  readonly heaps: readonly { readonly place: string; readonly pieces: number }[]
  readonly quarantine: string
}

/** "Lot K-77 of Carbon block is recalled. 14 pieces from A-02-1 and Van 2 are in Quarantine. The pull for Van 2 gave back 3." */
export function recalledSentence(
  lot: LotNamed,
  moved: Quarantining,
  given: readonly { readonly van: string; readonly pieces: number }[],
): string {
  const said = [`Lot ${lot.lotNumber} of ${lot.partName} is recalled.`, movedWords(moved)]
  if (given.length > 0) {
    const pulls = given.map(({ van, pieces }) => `${van} ${pieces}`).join(', ')
    said.push(`Pulls gave back ${counted(sumOf(given), 'piece')} (${pulls}): plan them again.`)
  }
  return said.join(' ')
}

/** What went into quarantine now, or that nothing had to. */
export function quarantinedSentence(lot: LotNamed, moved: Quarantining): string {
  return moved.heaps.length === 0
    ? `Nothing of lot ${lot.lotNumber} lies in a bin or on a van.`
    : `Lot ${lot.lotNumber} of ${lot.partName}: ${lowered(movedWords(moved))}`
}

/** What went back, and what could not and why. */
export function freedSentence(
  lot: LotNamed,
  back: { readonly pieces: number; readonly stays: WayBack['stays'] },
): string {
  const said = [`Lot ${lot.lotNumber} of ${lot.partName} is fit for use again.`]
  if (back.pieces > 0) said.push(`${counted(back.pieces, 'piece')} went back from quarantine.`)
  for (const why of ['closed', 'gone'] as const) {
    const stays = back.stays.filter((each) => each.why === why)
    if (stays.length === 0) continue
    const places = stays.map(({ from, pieces }) => `${pieces} of ${from}`).join(', ')
    said.push(
      why === 'closed'
        ? `${places} stay in quarantine, their place is out of use: move them by hand.`
        : `${places} left quarantine meanwhile and do not come back.`,
    )
  }
  return said.join(' ')
}

function movedWords({ heaps, quarantine }: Quarantining): string {
  if (heaps.length === 0) return 'None of it lay in a bin or on a van.'
  const pieces = sumOf(heaps)
  const places = heaps.map((heap) => `${heap.place} ${heap.pieces}`).join(', ')
  return `${counted(pieces, 'piece')} went to ${quarantine} (${places}).`
}

const lowered = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1)

const sumOf = (heaps: readonly { readonly pieces: number }[]): number =>
  heaps.reduce((sum, each) => sum + each.pieces, 0)
