import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { type Balance, counterMovement, type Movement, onHand } from './ledger.ts'

/** The first and the last day on which anything moved; null while nothing ever did. */
export interface MovedDays {
  readonly first: CalendarDate
  readonly last: CalendarDate
}

/** Which movements lead to a past day in the fewest steps. */
export type WayToDate = 'nothing-yet' | 'as-now' | 'forward' | 'backward'

/**
 * On hand at the end of a day is the sum of the movements up to and including it, and just as well what is there now less what moved since.
 * The shorter of the two is walked: by the days there are on either side.
 */
export function wayToDate(on: CalendarDate, days: MovedDays | null): WayToDate {
  if (days === null || on < days.first) return 'nothing-yet'
  if (on >= days.last) return 'as-now'
  return daysBetween(days.first, on) < daysBetween(on, days.last) ? 'forward' : 'backward'
}

/** What lay there before the later movements: each of them undone. Order: lot, then place. */
export function before(now: readonly Balance[], later: readonly Movement[]): Balance[] {
  const there = now.map(({ lotId, placeId, quantity }) => ({ lotId, fromPlaceId: null, toPlaceId: placeId, quantity }))
  return onHand([...there, ...later.map(counterMovement)])
}
