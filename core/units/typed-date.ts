import {
  addDays,
  addMonths,
  type CalendarDate,
  dateFromParts,
  isCalendarDate,
  partsOf,
  weekdayOf,
} from './calendar-date.ts'
import { mannerOf, monthName } from './date-words.ts'

/**
 * Reads a date as people type it at the desk, in the office's manner. Null when it is none.
 * Understood: ISO `2026-11-09`; `11/9/26`, `11/9` (US) or `9/11/26`, `9.11.26`, `9.11.` (elsewhere); `Nov 9`, `9 Nov 2026`;
 * `today`, `tomorrow`, `yesterday`; `monday` (the next one); `+14` (days), `+3w`, `+6m`.
 * Without a year: the one nearest to today (within half a year either way). Two figures of a year: 00 to 79 are 2000s.
 */
export function parseTypedDate(text: string, today: CalendarDate, locale: string): CalendarDate | null {
  const typed = text.trim().toLowerCase().replace(/\s+/g, ' ')
  if (typed === '') return null
  if (isCalendarDate(typed)) return typed as CalendarDate
  return relativeDate(typed, today) ?? figuresDate(typed, today, locale) ?? wordsDate(typed, today)
}

function relativeDate(typed: string, today: CalendarDate): CalendarDate | null {
  if (typed === 'today') return today
  if (typed === 'tomorrow') return addDays(today, 1)
  if (typed === 'yesterday') return addDays(today, -1)
  const step = /^([+-])\s?(\d{1,4})\s?([dwm]?)[a-z]*$/.exec(typed)
  if (step) {
    const count = Number(step[2]) * (step[1] === '-' ? -1 : 1)
    if (step[3] === 'm') return addMonths(today, count)
    return addDays(today, count * (step[3] === 'w' ? 7 : 1))
  }
  const weekday = weekdayNumber(typed.replace(/^next /, ''))
  return weekday === null ? null : addDays(today, ((weekday - weekdayOf(today) + 6) % 7) + 1)
}

const WEEKDAYS = ['monday', 'tuesday', 'wednesday', 'thursday', 'friday', 'saturday', 'sunday']

function weekdayNumber(typed: string): number | null {
  if (typed.length < 3) return null
  const index = WEEKDAYS.findIndex((name) => name.startsWith(typed))
  return index < 0 ? null : index + 1
}

function figuresDate(typed: string, today: CalendarDate, locale: string): CalendarDate | null {
  const match = /^(\d{1,2})\s?([/.-])\s?(\d{1,2})(?:\s?[/.-]\s?(\d{4}|\d{2}))?\.?$/.exec(typed)
  if (!match) return null
  const [first, second] = [Number(match[1]), Number(match[3])]
  // A point between figures is written by countries that put the day first.
  const monthFirst = mannerOf(locale) === 'en-US' && match[2] !== '.'
  const [month, day] = monthFirst ? [first, second] : [second, first]
  return withYear(match[4], month, day, today)
}

function wordsDate(typed: string, today: CalendarDate): CalendarDate | null {
  const bare = typed
    .replace(/^[a-z]+day,? /, '')
    .replace(/[,.]/g, ' ')
    .replace(/(\d)(st|nd|rd|th)\b/, '$1')
    .replace(/\s+/g, ' ')
    .trim()
  const monthLed = /^([a-z]{3,9}) (\d{1,2})(?: (\d{4}|\d{2}))?$/.exec(bare)
  if (monthLed) return withYear(monthLed[3], monthNumber(monthLed[1] ?? ''), Number(monthLed[2]), today)
  const dayLed = /^(\d{1,2}) ([a-z]{3,9})(?: (\d{4}|\d{2}))?$/.exec(bare)
  if (dayLed) return withYear(dayLed[3], monthNumber(dayLed[2] ?? ''), Number(dayLed[1]), today)
  return null
}

function monthNumber(name: string): number {
  for (let month = 1; month <= 12; month += 1) if (monthName(month).toLowerCase().startsWith(name)) return month
  return 0
}

function withYear(typedYear: string | undefined, month: number, day: number, today: CalendarDate): CalendarDate | null {
  if (typedYear !== undefined) {
    const year = Number(typedYear)
    return dateFromParts(typedYear.length === 4 ? year : year + (year < 80 ? 2000 : 1900), month, day)
  }
  const thisYear = partsOf(today).year
  const candidates = [thisYear - 1, thisYear, thisYear + 1]
    .map((year) => dateFromParts(year, month, day))
    .filter((date) => date !== null)
  const [from, until] = [addMonths(today, -6), addMonths(today, 6)]
  return candidates.find((date) => date > from && date <= until) ?? candidates[0] ?? null
}
