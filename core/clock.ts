import type { CalendarDate } from './units/calendar-date.ts'

/** The only source of "now"; read once per request. */
export interface Clock {
  /** The calendar date at the office. */
  today(): CalendarDate
  /** The instant, UTC, `YYYY-MM-DDTHH:MM:SS.sssZ`. */
  now(): string
}
