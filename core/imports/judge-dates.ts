import { type CalendarDate, dateFromParts, dateOfDayNumber, partsOf } from '../units/calendar-date.ts'

/** How a column writes its dates where the order of the numbers is open: "3/4/2026" is March 4 or 3 April. */
export const DATE_ORDERS = ['month-first', 'day-first'] as const
export type DateOrder = (typeof DATE_ORDERS)[number]

/** What a whole column says about its dates, and how sure that is. */
export interface DateColumn {
  /** Null when nothing in the column depends on it. */
  readonly order: DateOrder | null
  /** `shown`: a day above 12 stands in the column; `mixed`: both orders occur; `open`: every date could be read either way. */
  readonly grounds: 'shown' | 'mixed' | 'open' | 'none'
  /** Spreadsheet day numbers occur, such as 45992. */
  readonly hasSerials: boolean
  /** The line whose date shows the order: "31/12/2025". */
  readonly example: string
}

export type ReadDate =
  | { readonly kind: 'date'; readonly date: CalendarDate; readonly monthOnly: boolean }
  | { readonly kind: 'blank' }
  | { readonly kind: 'unreadable' }
  /** A date only in the other order: "31/12/2025" in a column that is month-first. */
  | { readonly kind: 'other-order' }

interface NumericDate {
  readonly first: number
  readonly second: number
  readonly year: number
  /** Written with dots, which is day first in every country that uses them. */
  readonly dotted: boolean
}

const MONTH_WORDS = ['jan', 'feb', 'mar', 'apr', 'may', 'jun', 'jul', 'aug', 'sep', 'oct', 'nov', 'dec'] as const
/** German month names where they differ in the first three letters. */
const GERMAN_MONTHS: Readonly<Record<string, number>> = { mär: 3, mrz: 3, mai: 5, okt: 10, dez: 12 }

/** Cells that spreadsheets and people write for "no date". */
const NO_DATE = /^(?:-+|n\/?a|none|never|unknown|\?+|0|0?[01]\/0?[01]\/1900|1900-01-0[01]|00\/00\/0{2,4}|0000-00-00)$/i

/** A time of day behind the date, and the weekday before it, say nothing here. */
const TIME_BEHIND = /[T ]+\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?\s*(?:[ap]\.?m\.?)?\s*(?:Z|[+-]\d{2}:?\d{2})?$/i
const WEEKDAY_BEFORE = /^(?:mon|tue|wed|thu|fri|sat|sun)[a-z]*\.?,?\s+/i

/**
 * Judges a whole column of date cells: a number above 12 shows which of the two is the day; where both orders are shown the more
 * frequent one stands, and the others are refused row by row rather than guessed.
 */
export function judgeDateColumn(cells: Iterable<string>): DateColumn {
  const seen = { dayFirst: 0, monthFirst: 0, open: 0, serials: 0 }
  const examples = { dayFirst: '', monthFirst: '' }
  for (const cell of cells) {
    const text = cleanDate(cell)
    if (isSerial(text)) seen.serials += 1
    const numeric = numericDate(text)
    if (numeric === null || numeric.dotted) continue
    if (numeric.first > 12 && numeric.second <= 12) {
      seen.dayFirst += 1
      examples.dayFirst ||= text
    } else if (numeric.second > 12 && numeric.first <= 12) {
      seen.monthFirst += 1
      examples.monthFirst ||= text
    } else if (numeric.first !== numeric.second) seen.open += 1
  }
  const dayFirst = seen.dayFirst > seen.monthFirst
  const order: DateOrder = dayFirst ? 'day-first' : 'month-first'
  const hasSerials = seen.serials > 0
  const example = dayFirst ? examples.dayFirst : examples.monthFirst
  if (seen.dayFirst > 0 && seen.monthFirst > 0) return { order, grounds: 'mixed', hasSerials, example }
  if (seen.dayFirst + seen.monthFirst > 0) return { order, grounds: 'shown', hasSerials, example }
  return { order: null, grounds: seen.open > 0 ? 'open' : 'none', hasSerials, example: '' }
}

/**
 * The order to read an open column by: what another date column of the same list shows, else the manner of the office's country
 * (month first in the United States, day first elsewhere).
 */
export function orderForOpenColumn(others: readonly DateColumn[], locale: string): DateOrder {
  const shown =
    others.find((column) => column.grounds === 'shown') ?? others.find((column) => column.grounds === 'mixed')
  return shown?.order ?? (locale === 'en-US' ? 'month-first' : 'day-first')
}

/**
 * Reads one cell: ISO 8601, numbers with slashes, dashes or dots, months in words, and spreadsheet day numbers. Two-digit years
 * lie within ninety years back and ten ahead of `today`. "Nov 2025" is the first of the month, and says so.
 */
export function readDate(cell: string, order: DateOrder, today: CalendarDate): ReadDate {
  const text = cleanDate(cell)
  if (text === '' || NO_DATE.test(text)) return { kind: 'blank' }
  if (isSerial(text)) return dated(dateOfSerial(Number(text)))
  const worded = wordedDate(text, today)
  if (worded !== null) return worded
  const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})$/.exec(text) ?? /^(\d{4})(\d{2})(\d{2})$/.exec(text)
  if (iso) return dated(dateFromParts(Number(iso[1]), Number(iso[2]), Number(iso[3])))
  const monthYear = /^(\d{1,2})[-/.](\d{4})$/.exec(text)
  if (monthYear) return dated(dateFromParts(Number(monthYear[2]), Number(monthYear[1]), 1), true)
  const numeric = numericDate(text)
  return numeric === null ? { kind: 'unreadable' } : ordered(numeric, order, today)
}

function ordered(numeric: NumericDate, order: DateOrder, today: CalendarDate): ReadDate {
  const year = fullYear(numeric.year, today)
  const dayFirst = dateFromParts(year, numeric.second, numeric.first)
  const monthFirst = dateFromParts(year, numeric.first, numeric.second)
  if (numeric.dotted) return dated(dayFirst)
  const read = order === 'day-first' ? dayFirst : monthFirst
  const other = order === 'day-first' ? monthFirst : dayFirst
  if (read === null && other !== null) return { kind: 'other-order' }
  return dated(read)
}

/**
 * The date of a spreadsheet's day number (1900 date system): 39448 is 2008-01-01. Day 60, a 29 February 1900 that never was, is why
 * the count starts from 1899-12-30. Source: Microsoft Support, "DATEVALUE function" (from memory).
 */
export function dateOfSerial(serial: number): CalendarDate {
  return dateOfDayNumber(Math.floor(serial) - 25_569)
}

/** A number in the range of day numbers from 1968 to 2064, with or without a time behind the point. */
function isSerial(text: string): boolean {
  if (!/^\d{5}(?:[.,]\d+)?$/.test(text)) return false
  const days = Number(text.slice(0, 5))
  return days >= 25_000 && days <= 60_000
}

/** Whether a cell could be a date of any kind; the look of a column is judged by it. A day number alone does not count. */
export function looksLikeDate(cell: string, today: CalendarDate): boolean {
  const text = cleanDate(cell)
  if (text === '' || isSerial(text) || /^\d{8}$/.test(text)) return false
  const asMonthFirst = readDate(text, 'month-first', today)
  return asMonthFirst.kind === 'date' || asMonthFirst.kind === 'other-order'
}

export function looksLikeSerial(cell: string): boolean {
  return isSerial(cleanDate(cell))
}

function dated(date: CalendarDate | null, monthOnly = false): ReadDate {
  return date === null ? { kind: 'unreadable' } : { kind: 'date', date, monthOnly }
}

function cleanDate(cell: string): string {
  return cell.trim().replace(/^'/, '').replace(WEEKDAY_BEFORE, '').replace(TIME_BEHIND, '').trim()
}

function numericDate(text: string): NumericDate | null {
  const match = /^(\d{1,2})\s?([-/.])\s?(\d{1,2})\s?\2\s?(\d{2}|\d{4})$/.exec(text)
  if (!match) return null
  return { first: Number(match[1]), second: Number(match[3]), year: Number(match[4]), dotted: match[2] === '.' }
}

/** "Nov 9, 2025", "9 November 25", "9-Nov-2025", "Nov-25" and "November 2025". "9-Nov" lacks its year and cannot be read. */
function wordedDate(text: string, today: CalendarDate): ReadDate | null {
  const words = text.match(/\p{L}+|\d+/gu)
  const name = words?.find((word) => /^\p{L}/u.test(word) && !/^(?:st|nd|rd|th|of)$/i.test(word))
  if (!words || name === undefined) return null
  const month = monthOfName(name)
  if (month === null) return { kind: 'unreadable' }
  const numbers = words.filter((word) => /^\d/.test(word)).map(Number)
  const [a, b] = numbers
  if (numbers.length === 1 && a !== undefined && words.indexOf(name) === 0) {
    return dated(dateFromParts(fullYear(a, today), month, 1), true)
  }
  if (numbers.length !== 2 || a === undefined || b === undefined) return { kind: 'unreadable' }
  return a > 31 ? dated(dateFromParts(a, month, b)) : dated(dateFromParts(fullYear(b, today), month, a))
}

function monthOfName(name: string): number | null {
  const start = name.toLowerCase().slice(0, 3)
  const english = (MONTH_WORDS as readonly string[]).indexOf(start)
  return english >= 0 ? english + 1 : (GERMAN_MONTHS[start] ?? null)
}

function fullYear(year: number, today: CalendarDate): number {
  if (year >= 100) return year
  const latest = partsOf(today).year + 10
  const inCentury = Math.floor(latest / 100) * 100 + year
  return inCentury > latest ? inCentury - 100 : inCentury
}
