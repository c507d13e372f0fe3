import type { ShortageRow, VanPullRow } from '../../core/stock/pull-contract.ts'
import { type CalendarDate, partsOf } from '../../core/units/calendar-date.ts'
import { dayAndMonth, monthName } from '../../core/units/date-words.ts'

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
