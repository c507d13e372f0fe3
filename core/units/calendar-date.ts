import { z } from 'zod'

/** A calendar date at the site, `YYYY-MM-DD`, years 0001 to 9999. Not an instant; has no zone. Sorts as text. */
export type CalendarDate = z.infer<typeof calendarDateSchema>

export const calendarDateSchema = z
  .string()
  .refine(isCalendarDate, { message: 'This is not a date of the calendar.' })
  .brand<'CalendarDate'>()

/** Days since 1970-01-01, whole, negative before. The form to reckon in. */
export type DayNumber = number

const FORM = /^(\d{4})-(\d{2})-(\d{2})$/

export function isLeapYear(year: number): boolean {
  return year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0)
}

export function daysInMonth(year: number, month: number): number {
  if (month === 2) return isLeapYear(year) ? 29 : 28
  return month === 4 || month === 6 || month === 9 || month === 11 ? 30 : 31
}

export function isCalendarDate(text: string): boolean {
  const match = FORM.exec(text)
  if (!match) return false
  const [year, month, day] = [Number(match[1]), Number(match[2]), Number(match[3])]
  return year >= 1 && month >= 1 && month <= 12 && day >= 1 && day <= daysInMonth(year, month)
}

/** Checked constructor. Throws RangeError for anything that is not a date: `calendarDate('2026-02-30')` throws. */
export function calendarDate(text: string): CalendarDate {
  if (!isCalendarDate(text)) throw new RangeError(`Not a calendar date: ${text}`)
  return text as CalendarDate
}

/** From year, month 1-12, day; null when there is no such day. */
export function dateFromParts(year: number, month: number, day: number): CalendarDate | null {
  const text = compose(year, month, day)
  return isCalendarDate(text) ? (text as CalendarDate) : null
}

export interface DateParts {
  readonly year: number
  readonly month: number
  readonly day: number
}

export function partsOf(date: CalendarDate): DateParts {
  return { year: Number(date.slice(0, 4)), month: Number(date.slice(5, 7)), day: Number(date.slice(8, 10)) }
}

function compose(year: number, month: number, day: number): string {
  return `${String(year).padStart(4, '0')}-${month < 10 ? '0' : ''}${month}-${day < 10 ? '0' : ''}${day}`
}

/** Civil date to day number by the era method (400-year eras beginning in March); valid for the whole range. */
export function dayNumberOf(date: CalendarDate): DayNumber {
  const { year, month, day } = partsOf(date)
  const shifted = month <= 2 ? year - 1 : year
  const era = Math.floor(shifted / 400)
  const yearOfEra = shifted - era * 400
  const dayOfYear = Math.floor((153 * (month + (month > 2 ? -3 : 9)) + 2) / 5) + day - 1
  const dayOfEra = yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear
  return era * 146_097 + dayOfEra - 719_468
}

/** The inverse of `dayNumberOf`. Throws RangeError outside the years 1 to 9999. */
export function dateOfDayNumber(dayNumber: DayNumber): CalendarDate {
  const shifted = Math.floor(dayNumber) + 719_468
  const era = Math.floor(shifted / 146_097)
  const dayOfEra = shifted - era * 146_097
  const yearOfEra = Math.floor(
    (dayOfEra - Math.floor(dayOfEra / 1460) + Math.floor(dayOfEra / 36_524) - Math.floor(dayOfEra / 146_096)) / 365,
  )
  const dayOfYear = dayOfEra - (365 * yearOfEra + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100))
  const monthIndex = Math.floor((5 * dayOfYear + 2) / 153)
  const day = dayOfYear - Math.floor((153 * monthIndex + 2) / 5) + 1
  const month = monthIndex + (monthIndex < 10 ? 3 : -9)
  const year = yearOfEra + era * 400 + (month <= 2 ? 1 : 0)
  if (year < 1 || year > 9999) throw new RangeError(`Outside the calendar: day ${dayNumber}`)
  return compose(year, month, day) as CalendarDate
}

export function addDays(date: CalendarDate, days: number): CalendarDate {
  return dateOfDayNumber(dayNumberOf(date) + days)
}

/** Whole days from `from` to `to`; negative when `to` lies before. */
export function daysBetween(from: CalendarDate, to: CalendarDate): number {
  return dayNumberOf(to) - dayNumberOf(from)
}

/**
 * Months later (or earlier), clamped to the month's end as ECMAScript Temporal's `constrain` does:
 * 2023-01-31 + 1 is 2023-02-28. Count from the anchor date, never from an already clamped one, or the day drifts.
 */
export function addMonths(date: CalendarDate, months: number): CalendarDate {
  if (!Number.isInteger(months)) throw new RangeError(`Not a whole number of months: ${months}`)
  const { year, month, day } = partsOf(date)
  const index = year * 12 + (month - 1) + months
  const newYear = Math.floor(index / 12)
  const newMonth = index - newYear * 12 + 1
  if (newYear < 1 || newYear > 9999) throw new RangeError(`Outside the calendar: ${date} + ${months} months`)
  return compose(newYear, newMonth, Math.min(day, daysInMonth(newYear, newMonth))) as CalendarDate
}

export function earlierOf(a: CalendarDate, b: CalendarDate): CalendarDate {
  return a <= b ? a : b
}

export function laterOf(a: CalendarDate, b: CalendarDate): CalendarDate {
  return a >= b ? a : b
}

/** 1 Monday to 7 Sunday, as ISO 8601 counts. */
export function weekdayOf(date: CalendarDate): number {
  return ((((dayNumberOf(date) + 3) % 7) + 7) % 7) + 1
}

/** The Monday of the date's week. */
export function mondayOf(date: CalendarDate): CalendarDate {
  return addDays(date, 1 - weekdayOf(date))
}

/** ISO 8601 week: `isoWeekOf('2021-01-03')` is week 53 of 2020. */
export function isoWeekOf(date: CalendarDate): { readonly year: number; readonly week: number } {
  const thursday = addDays(mondayOf(date), 3)
  const year = partsOf(thursday).year
  const first = compose(year, 1, 1) as CalendarDate
  return { year, week: Math.floor(daysBetween(first, thursday) / 7) + 1 }
}
