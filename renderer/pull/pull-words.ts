import type { PullLineRow, ShortageRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { sharePieces } from '../../core/stock/share-pieces.ts'
import { type CalendarDate, partsOf } from '../../core/units/calendar-date.ts'
import { counted, dayAndMonth, monthName } from '../../core/units/date-words.ts'

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

/** Which line a scanned or typed word means: its bin, its part's number or its lot; the next unticked one first. */
export function lineMeant(van: VanPullRow, typed: string): number {
  const word = typed.trim().toLowerCase()
  if (word === '') return -1
  const means = (line: VanPullRow['lines'][number]) =>
    [line.bin, line.part.number, line.lot].some((each) => each.toLowerCase() === word)
  const open = van.lines.findIndex((line) => means(line) && line.pulled === null)
  return open >= 0 ? open : van.lines.findIndex(means)
}

/** "stop 3 goes without 2, stop 4 without 1": whom the pieces that were not found would have gone to. */
export function whoGoesWithout(line: Pick<PullLineRow, 'totes'>, found: number): string {
  const without = sharePieces(line.totes, found).filter((tote) => tote.lacks > 0)
  return without
    .map((tote, index) => `stop ${tote.stop} ${index === 0 ? 'goes without' : 'without'} ${tote.lacks}`)
    .join(', ')
}

/** What a line says when fewer were found than it asks for; empty when all were, or when nobody looked yet. */
export function foundWords(line: PullLineRow): string {
  if (line.pulled === null || line.pulled >= line.quantity) return ''
  const found = line.pulled === 0 ? 'none found' : `${line.pulled} of ${line.quantity} found`
  const without = whoGoesWithout(line, line.pulled)
  return without === '' ? found : `${found}; ${without}`
}

/** What becomes of the rest when a van is closed before everything is ticked, a sentence each. */
export function restSentences(van: VanPullRow): string[] {
  const fewer = van.lines.filter((line) => line.pulled !== null && line.pulled < line.quantity)
  const untouched = van.lines.filter((line) => line.pulled === null)
  const left = untouched.reduce((sum, line) => sum + line.quantity, 0)
  const sentences = fewer.map((line) => {
    const found = line.pulled ?? 0
    const without = whoGoesWithout(line, found)
    return `${line.part.name}, bin ${line.bin}: ${found} of ${line.quantity} found${without === '' ? '' : `, ${without}`}.`
  })
  if (fewer.length > 0)
    sentences.push(`The books still have what was not found. Count ${binsOf(fewer)} when it is not there.`)
  if (left > 0) sentences.push(`${counted(left, 'piece')} not ticked ${left === 1 ? 'stays' : 'stay'} on the shelf.`)
  if (fewer.length + untouched.length > 0)
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
