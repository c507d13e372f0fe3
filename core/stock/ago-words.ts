import { calendarDate, daysBetween } from '../units/calendar-date.ts'
import { counted } from '../units/date-words.ts'

/**
 * How long ago a moment was, in words, whatever the time zone: "just now", "12 minutes ago", "3 hours ago", "2 days ago". Both are
 * instants as the books keep them, `YYYY-MM-DDTHH:MM:SS.sssZ`; one that lies ahead was just now.
 */
export function agoWords(then: string, now: string): string {
  const minutes = Math.floor(secondsBetween(then, now) / 60)
  if (minutes < 1) return 'just now'
  if (minutes < 60) return `${counted(minutes, 'minute')} ago`
  const hours = Math.floor(minutes / 60)
  return hours < 24 ? `${counted(hours, 'hour')} ago` : `${counted(Math.floor(hours / 24), 'day')} ago`
}

/** Whole seconds, so that two seconds over the turn of a minute are no minute. */
function secondsBetween(then: string, now: string): number {
  const days = daysBetween(calendarDate(then.slice(0, 10)), calendarDate(now.slice(0, 10)))
  const ofDay = (instant: string): number =>
    Number(instant.slice(11, 13)) * 3600 + Number(instant.slice(14, 16)) * 60 + Number(instant.slice(17, 19))
  return days * 86_400 + ofDay(now) - ofDay(then)
}
