import type { MonthsAway } from '../customers/months-away.ts'
import {
  addDays,
  addMonths,
  type CalendarDate,
  dateFromParts,
  daysBetween,
  daysInMonth,
  partsOf,
} from '../units/calendar-date.ts'

/*
 * Homes that stand empty in some months wear their filters only in the others. Both functions reckon on a calendar from which the months
 * away are cut out: a day in a month away is the first day of the next month in use. So a later start never gives an earlier date, and
 * nothing falls due while nobody is there.
 */

/** Months in use later, clamped to the month's end. Without months away: `addMonths`. `count` is a whole number, 0 or more. */
export function addMonthsInUse(from: CalendarDate, count: number, away: MonthsAway): CalendarDate {
  if (away.length === 0 || away.length >= 12) return addMonths(from, count)
  const start = firstDayInUse(from, away)
  const inUse = 12 - away.length
  const { year, month, day } = partsOf(start)
  // Whole years at once: each holds the same number of months in use.
  let index = year * 12 + (month - 1) + Math.floor(count / inUse) * 12
  for (let left = count % inUse; left > 0; ) {
    index += 1
    if (!away.includes((index % 12) + 1)) left -= 1
  }
  return onDay(Math.floor(index / 12), (index % 12) + 1, day)
}

/** The day after which `count` whole days in use have passed. Without months away: `addDays`. */
export function addDaysInUse(from: CalendarDate, count: number, away: MonthsAway): CalendarDate {
  if (away.length === 0 || away.length >= 12) return addDays(from, count)
  let date = firstDayInUse(from, away)
  let left = count
  for (;;) {
    const { year, month } = partsOf(date)
    const next = firstOfNextMonth(year, month)
    const toNext = daysBetween(date, next)
    if (left < toNext) return addDays(date, left)
    left -= toNext
    date = firstDayInUse(next, away)
  }
}

/** Days in use from one date up to another, that one not counted; 0 when it is not later. */
export function daysInUseBetween(from: CalendarDate, to: CalendarDate, away: MonthsAway): number {
  if (to <= from) return 0
  if (away.length === 0 || away.length >= 12) return daysBetween(from, to)
  let days = 0
  for (let date = firstDayInUse(from, away); date < to; ) {
    const { year, month } = partsOf(date)
    const next = firstOfNextMonth(year, month)
    days += daysBetween(date, next < to ? next : to)
    date = firstDayInUse(next, away)
  }
  return days
}

/** The date itself, or the first day of the next month in use. */
function firstDayInUse(date: CalendarDate, away: MonthsAway): CalendarDate {
  let { year, month } = partsOf(date)
  if (!away.includes(month)) return date
  while (away.includes(month)) [year, month] = month === 12 ? [year + 1, 1] : [year, month + 1]
  return onDay(year, month, 1)
}

const firstOfNextMonth = (year: number, month: number): CalendarDate =>
  month === 12 ? onDay(year + 1, 1, 1) : onDay(year, month + 1, 1)

function onDay(year: number, month: number, day: number): CalendarDate {
  const date = dateFromParts(year, month, Math.min(day, daysInMonth(year, month)))
  if (date === null) throw new RangeError(`Outside the calendar: ${year}-${month}-${day}`)
  return date
}
