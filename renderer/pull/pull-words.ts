import type { FindingDone, Found, PullLineRow, ShortageRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { sharePieces } from '../../core/stock/share-pieces.ts'
import { type CalendarDate, partsOf } from '../../core/units/calendar-date.ts'
import { counted, dayAndMonth, monthName } from '../../core/units/date-words.ts'
import type { TroubleDraft } from './trouble-draft.ts'

/** "to Aug 2028": what stands on the label is the month. */
export function expiryWords(expiresOn: CalendarDate | null): string {
  if (expiresOn === null) return ''
  const { year, month } = partsOf(expiresOn)
  return `, to ${monthName(month).slice(0, 3)} ${year}`
}

/** Pieces asked for, and pieces ticked. */
export function progressOf(van: VanPullRow): { readonly asked: number; readonly pulled: number } {
  return {
    asked: van.lines.reduce((sum, line) => sum + line.quantity, 0),
    pulled: van.lines.reduce((sum, line) => sum + (line.pulled ?? 0), 0),
  }
}

/** How far a van is, for the line of vans: "van 2 ready", "van 3 not begun". */
export function stateWords(van: VanPullRow): string {
  if (van.state === 'ready') return 'ready'
  if (van.state === 'nothing') return 'nothing to pull'
  if (van.state === 'not-begun') return 'not begun'
  const { asked, pulled } = progressOf(van)
  return `${pulled} of ${asked}`
}

/** Why a part is short and when more comes. */
export function shortageWords(row: ShortageRow, locale: string): string {
  const stops = [...new Set(row.totes.map((tote) => tote.stop))]
  const who = stops.length === 1 ? `stop ${stops[0]} goes without` : `stops ${stops.join(', ')} go without`
  const unfit = row.unfit > 0 ? `; ${row.unfit} in the warehouse are past their date or recalled` : ''
  const next = row.nextDelivery
  if (next === null) return `${who}${unfit}; none is on order`
  const when = next.on === null ? 'on order' : `arrive ${dayAndMonth(next.on, locale)}`
  return `${who}${unfit}; ${next.quantity} ${when}`
}

/** "stop 3 goes without 2, stop 4 without 1": whom the pieces that were not found would have gone to. */
export function whoGoesWithout(line: Pick<PullLineRow, 'totes'>, found: number): string {
  const without = sharePieces(line.totes, found).filter((tote) => tote.lacks > 0)
  return without
    .map((tote, index) => `stop ${tote.stop} ${index === 0 ? 'goes without' : 'without'} ${tote.lacks}`)
    .join(', ')
}

/** The time of day of an instant of the books, where this machine stands: "2:05 PM". */
function clockWords(instant: string, locale: string): string {
  return new Date(instant).toLocaleTimeString(locale, { hour: 'numeric', minute: '2-digit' })
}

/** What is in the totes so far, and who put it there: "4 of 9 so far, Ines, 2:05 PM". Empty while nobody reached for it. */
export function tickedWords(line: PullLineRow, locale: string): string {
  if (line.pulled === null) return ''
  const who = [line.pulledBy, line.pulledAt === null ? '' : clockWords(line.pulledAt, locale)]
  const by = who.filter((word) => word !== '').join(', ')
  const far = line.pulled < line.quantity ? `${line.pulled} of ${line.quantity} so far` : 'In the totes'
  return by === '' ? far : `${far}, ${by}`
}

/** What will happen when a trouble is written down as it stands. */
export function troubleWords(line: PullLineRow, draft: TroubleDraft): string {
  const { kind, pieces } = draft
  const { quantity, bin } = line
  if (kind === null) return ''
  if (pieces === null)
    return {
      short: `How many of ${quantity} are there, those in the totes included?`,
      damaged: 'How many cannot be fitted?',
      elsewhere: 'How many did you take from there?',
    }[kind]
  if (pieces > quantity || (kind === 'short' && pieces === quantity))
    return kind === 'short' ? 'All of them are there: tick the line instead.' : `The line asks for ${quantity}.`
  if (kind === 'short')
    return `${bin} is counted as empty of lot ${line.lot} then. ${counted(quantity - pieces, 'piece')} will be promised from elsewhere, or somebody goes without and is named.`
  if (pieces === 0) return 'With none of them there is nothing to write down.'
  if (kind === 'damaged')
    return `${counted(pieces, 'piece')} will go to quarantine, and others will be promised in their place where there are any.`
  return `${counted(pieces, 'piece')} will be ticked from there. ${pieces < quantity ? `${counted(quantity - pieces, 'piece')} stay on this line.` : 'Nothing stays on this line.'}`
}

/** What became of what was found, a line each. */
export function outcomeLines(done: FindingDone): string[] {
  return [
    ...done.instead.map((each) => `Pull ${each.quantity} of ${each.part.name} from ${each.bin}, lot ${each.lot}.`),
    ...done.without.map(
      (each) => `Stop ${each.stop}, ${each.household}, goes without ${each.quantity} of ${each.part.name}. ${each.why}`,
    ),
    ...(done.putBack > 0 ? [`Put ${counted(done.putBack, 'piece')} back from the totes on the shelf.`] : []),
  ]
}

const FOUND: Readonly<Record<Found['kind'], string>> = {
  short: 'missing from',
  damaged: 'damaged, from',
  elsewhere: 'taken from',
}

/** What was found on a pull, a line each: "2 of Carbon block missing from A-02-3, lot 2607-031 (Ines, 2:05 PM)". */
export function foundLines(found: readonly Found[], locale: string): string[] {
  return found.map(({ kind, quantity, part, place, lot, note, by, at }) => {
    const why = note === '' ? '' : `, ${note}`
    return `${quantity} of ${part.name} ${FOUND[kind]} ${place}, lot ${lot}${why} (${by}, ${clockWords(at, locale)})`
  })
}

/** The line below the title of a list. */
export function progressWords(van: VanPullRow, asked: number, pulled: number, locale: string): string {
  if (van.state === 'open') return `${pulled} of ${asked} pieces pulled, in the order of the walk`
  if (van.state === 'ready') {
    const at = van.confirmedAt === null ? '' : `, ${clockWords(van.confirmedAt, locale)}`
    return `${counted(pulled, 'piece')} put on ${van.van}${van.by === null ? '' : ` by ${van.by}`}${at}`
  }
  return `${counted(asked, 'piece')} to pull, in the order of the walk; nothing is promised yet`
}

/** What becomes of the rest when a van is loaded before every line is full, a sentence each. */
export function restSentences(van: VanPullRow): string[] {
  const begun = van.lines.filter((line) => line.pulled !== null && line.pulled < line.quantity)
  const untouched = van.lines.filter((line) => line.pulled === null)
  const left = untouched.reduce((sum, line) => sum + line.quantity, 0)
  const sentences = begun.map((line) => {
    const pulled = line.pulled ?? 0
    const without = whoGoesWithout(line, pulled)
    return `${line.part.name}, bin ${line.bin}: ${pulled} of ${line.quantity} in the totes${without === '' ? '' : `, ${without}`}.`
  })
  if (begun.length > 0)
    sentences.push(
      `When the rest is not in ${binsOf(begun)}, go back and say so on the line: it is then promised from elsewhere.`,
    )
  if (left > 0) sentences.push(`${counted(left, 'piece')} not ticked ${left === 1 ? 'stays' : 'stay'} on the shelf.`)
  if (begun.length + untouched.length > 0)
    sentences.push(
      'The rest is promised to nobody any more. It is planned again on the next pull of this day; what cannot be, is named as short with the stops that lack it.',
    )
  return sentences
}

function binsOf(lines: readonly PullLineRow[]): string {
  const bins = [...new Set(lines.map((line) => line.bin))]
  const last = bins.at(-1) ?? ''
  return bins.length < 2 ? `bin ${last}` : `bins ${bins.slice(0, -1).join(', ')} and ${last}`
}
