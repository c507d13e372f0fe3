import { type CalendarDate, daysBetween, partsOf, weekdayOf } from './calendar-date.ts'

/** How the office's country writes a date. `en-US`: "Nov 9, 2026"; `en-GB`: "9 Nov 2026"; `de-DE`: "09.11.2026". */
export type DateManner = 'en-US' | 'en-GB' | 'de-DE'

const MONTHS = [
  'January',
  'February',
  'March',
  'April',
  'May',
  'June',
  'July',
  'August',
  'September',
  'October',
  'November',
  'December',
] as const
const WEEKDAYS = ['Monday', 'Tuesday', 'Wednesday', 'Thursday', 'Friday', 'Saturday', 'Sunday'] as const

export function monthName(month: number): string {
  return MONTHS[month - 1] ?? ''
}

export function weekdayName(date: CalendarDate): string {
  return WEEKDAYS[weekdayOf(date) - 1] ?? ''
}

export function mannerOf(locale: string): DateManner {
  return locale === 'de-DE' || locale === 'en-GB' ? locale : 'en-US'
}

/** "Nov 9, 2026". */
export function shortDate(date: CalendarDate, locale: string): string {
  const { year, month, day } = partsOf(date)
  const name = monthName(month).slice(0, 3)
  const manner = mannerOf(locale)
  if (manner === 'de-DE') return `${String(day).padStart(2, '0')}.${String(month).padStart(2, '0')}.${year}`
  return manner === 'en-GB' ? `${day} ${name} ${year}` : `${name} ${day}, ${year}`
}

/** "Nov 9": for a column where the year is plain. */
export function dayAndMonth(date: CalendarDate, locale: string): string {
  const { month, day } = partsOf(date)
  const name = monthName(month).slice(0, 3)
  const manner = mannerOf(locale)
  if (manner === 'de-DE') return `${String(day).padStart(2, '0')}.${String(month).padStart(2, '0')}.`
  return manner === 'en-GB' ? `${day} ${name}` : `${name} ${day}`
}

/** "November 9, 2026": letters and invoices. */
export function longDate(date: CalendarDate, locale: string): string {
  const { year, month, day } = partsOf(date)
  return mannerOf(locale) === 'en-US' ? `${monthName(month)} ${day}, ${year}` : `${day} ${monthName(month)} ${year}`
}

/** "Wednesday, Dec 2": where someone has to be there. */
export function weekdayAndDate(date: CalendarDate, locale: string): string {
  return `${weekdayName(date)}, ${dayAndMonth(date, locale)}`
}

/**
 * Distance in time, in words: "today", "tomorrow", "in 12 days", "in 3 weeks", "in 5 months", "12 days late", "3 weeks late".
 * Days up to 20, weeks up to 12, then months (a month is 30.44 days, rounded), then years.
 */
export function distanceInWords(date: CalendarDate, today: CalendarDate): string {
  const days = daysBetween(today, date)
  if (days === 0) return 'today'
  if (days === 1) return 'tomorrow'
  const span = spanInWords(Math.abs(days))
  return days > 0 ? `in ${span}` : `${span} late`
}

/** "yesterday", "12 days ago", "3 weeks ago" for things that are done; "tomorrow", "in 12 days" for what is to come. */
export function agoInWords(date: CalendarDate, today: CalendarDate): string {
  const days = daysBetween(date, today)
  if (days === 0) return 'today'
  if (days === 1) return 'yesterday'
  if (days === -1) return 'tomorrow'
  return days > 0 ? `${spanInWords(days)} ago` : `in ${spanInWords(-days)}`
}

/** "1 day", "15 days", "3 weeks", "5 months", "2 years". */
export function spanInWords(days: number): string {
  if (days <= 20) return counted(days, 'day')
  if (days <= 84) return counted(Math.round(days / 7), 'week')
  const months = Math.round(days / 30.44)
  if (months < 24) return counted(months, 'month')
  return counted(Math.round(days / 365.25), 'year')
}

/** "1 letter", "42 letters"; an irregular plural can be given. */
export function counted(count: number, one: string, many = `${one}s`): string {
  return `${count.toLocaleString('en-US')} ${count === 1 ? one : many}`
}
