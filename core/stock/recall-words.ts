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

/** What pulls gave back, what is promised in place of it, who goes without, and what lies in totes already. */
export interface GivenBack {
  readonly byVan: readonly { readonly van: string; readonly pieces: number }[]
  readonly instead: readonly { readonly bin: string; readonly lot: string; readonly quantity: number }[]
  readonly without: readonly { readonly stop: number; readonly household: string; readonly quantity: number }[]
  readonly ticked: number
}

/** "Lot K-77 of Carbon block is recalled. 14 pieces went to quarantine: 11 from A-02-1, 3 from Van 1. Pulls gave back 4 pieces: 4 of Van 1." */
export function recalledSentence(lot: LotNamed, moved: Quarantining, given: GivenBack): string {
  return [`Lot ${lot.lotNumber} of ${lot.partName} is recalled.`, movedWords(moved), ...pullWords(given)].join(' ')
}

function pullWords({ byVan, instead, without, ticked }: GivenBack): string[] {
  if (byVan.length === 0) return []
  const said = [
    `Pulls gave back ${counted(sumOf(byVan), 'piece')}: ${byVan.map(({ van, pieces }) => `${pieces} of ${van}`).join(', ')}.`,
  ]
  if (instead.length > 0)
    said.push(
      `Promised in place of it: ${instead.map((each) => `${each.quantity} of lot ${each.lot}, ${each.bin}`).join('; ')}.`,
    )
  if (without.length > 0)
    said.push(
      `Without: ${without.map((each) => `stop ${each.stop}, ${each.household} (${each.quantity})`).join('; ')}.`,
    )
  if (ticked > 0) said.push(`Take ${counted(ticked, 'piece')} out of the totes again.`)
  return said
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
  const places = heaps.map((heap) => `${heap.pieces} from ${heap.place}`).join(', ')
  return `${counted(pieces, 'piece')} went to ${quarantine}: ${places}.`
}

const lowered = (sentence: string): string => sentence.charAt(0).toLowerCase() + sentence.slice(1)

const sumOf = (heaps: readonly { readonly pieces: number }[]): number =>
  heaps.reduce((sum, each) => sum + each.pieces, 0)
