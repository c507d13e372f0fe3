import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDaysInUse, addMonthsInUse, daysInUseBetween } from '../../core/due/months-in-use.ts'
import {
  addDays,
  addMonths,
  type CalendarDate,
  calendarDate,
  daysInMonth,
  partsOf,
} from '../../core/units/calendar-date.ts'
import { anyDate, anyMonthsAway } from '../builders/any-installation.ts'

const on = calendarDate

/** Every day in use from a date on, walked one at a time. */
function* daysInUse(from: CalendarDate, away: readonly number[]): Generator<CalendarDate> {
  for (let date = from; ; date = addDays(date, 1)) if (!away.includes(partsOf(date).month)) yield date
}

/** The same as `addMonthsInUse` by walking: enters `count` further months in use, then looks for the day of the month. */
function walked(from: CalendarDate, count: number, away: readonly number[]): CalendarDate {
  let [entered, month, wanted] = [-1, 0, 0]
  for (const date of daysInUse(from, away)) {
    const { year, month: now, day } = partsOf(date)
    if (now !== month) [month, entered] = [now, entered + 1]
    if (wanted === 0) wanted = day
    if (entered === count && day === Math.min(wanted, daysInMonth(year, month))) return date
  }
  return from
}

test('DUE-20 six months of a home that is empty from June to August, changed in mid-May, end in mid-February', () => {
  // May, September to January and half of February are in use: worked by hand.
  expect(addMonthsInUse(on('2026-05-15'), 6, [6, 7, 8])).toBe('2027-02-15')
  expect(addMonthsInUse(on('2026-02-10'), 6, [6, 7, 8])).toBe('2026-11-10')
})

test('DUE-20 a filter that is changed while nobody is there begins to wear when somebody comes', () => {
  expect(addMonthsInUse(on('2026-07-20'), 1, [6, 7, 8])).toBe('2026-10-01')
  expect(addMonthsInUse(on('2026-07-20'), 0, [6, 7, 8])).toBe('2026-09-01')
  expect(addDaysInUse(on('2026-12-24'), 3, [12, 1, 2])).toBe('2027-03-04')
})

test('DUE-4 a month too short for the day ends on its last day, months away or not', () => {
  expect(addMonthsInUse(on('2026-05-31'), 1, [6, 7, 8])).toBe('2026-09-30')
  expect(addMonthsInUse(on('2025-12-31'), 1, [1])).toBe('2026-02-28')
})

test('DUE-20 without months away, and with nothing but months away, the calendar counts', () => {
  const all = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]
  fc.assert(
    fc.property(anyDate, fc.integer({ min: 0, max: 240 }), (from, count) => {
      expect(addMonthsInUse(from, count, [])).toBe(addMonths(from, count))
      expect(addMonthsInUse(from, count, all)).toBe(addMonths(from, count))
      expect(addDaysInUse(from, count, [])).toBe(addDays(from, count))
      expect(addDaysInUse(from, count, all)).toBe(addDays(from, count))
    }),
  )
})

test('DUE-20 months in use come out as walking day by day counts them', () => {
  fc.assert(
    fc.property(anyDate, fc.integer({ min: 0, max: 30 }), anyMonthsAway, (from, count, away) => {
      expect(addMonthsInUse(from, count, away)).toBe(walked(from, count, away))
    }),
  )
})

test('DUE-20 days in use come out as walking day by day counts them, there and back', () => {
  fc.assert(
    fc.property(anyDate, fc.integer({ min: 0, max: 900 }), anyMonthsAway, (from, count, away) => {
      const walk = daysInUse(from, away)
      for (let day = 0; day < count; day += 1) walk.next()
      const due = addDaysInUse(from, count, away)
      expect(due).toBe(walk.next().value)
      expect(daysInUseBetween(from, due, away)).toBe(count)
      expect(daysInUseBetween(due, from, away)).toBe(0)
    }),
  )
})

test('DUE-21 a later start never gives an earlier date, and none that lies in a month away', () => {
  fc.assert(
    fc.property(
      anyDate,
      fc.integer({ min: 0, max: 400 }),
      fc.integer({ min: 0, max: 60 }),
      anyMonthsAway,
      (from, later, count, away) => {
        const [months, days] = [addMonthsInUse(from, count, away), addDaysInUse(from, count * 20, away)]
        expect(addMonthsInUse(addDays(from, later), count, away) >= months).toBe(true)
        expect(addDaysInUse(addDays(from, later), count * 20, away) >= days).toBe(true)
        expect(away).not.toContain(partsOf(months).month)
        expect(away).not.toContain(partsOf(days).month)
      },
    ),
  )
})
