import { addDays, type CalendarDate, daysBetween, earlierOf } from '../units/calendar-date.ts'

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

/** Days that are read at a time, so that others are answered in between. */
const DAYS_AT_ONCE = 14

/** The days after one and up to another, in stretches: what is read of each is added before the next is asked for. */
export function stretchesOf(after: CalendarDate, until: CalendarDate): { after: CalendarDate; until: CalendarDate }[] {
  const stretches: { after: CalendarDate; until: CalendarDate }[] = []
  for (let from = after; from < until; from = addDays(from, DAYS_AT_ONCE))
    stretches.push({ after: from, until: earlierOf(addDays(from, DAYS_AT_ONCE), until) })
  return stretches
}
