import type { Clock } from '../../core/clock.ts'
import { type CalendarDate, calendarDate } from '../../core/units/calendar-date.ts'

/** A clock that stands still. */
export function clockAt(today: string): Clock {
  const date: CalendarDate = calendarDate(today)
  return { today: () => date, now: () => `${date}T12:00:00.000Z` }
}
