import { Temporal } from '@js-temporal/polyfill'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  addDays,
  addMonths,
  calendarDate,
  dateFromParts,
  dateOfDayNumber,
  dayNumberOf,
  daysBetween,
  daysInMonth,
  earlierOf,
  isCalendarDate,
  isLeapYear,
  isoWeekOf,
  laterOf,
  mondayOf,
  weekdayOf,
} from '../../core/units/calendar-date.ts'

const FIRST = dayNumberOf(calendarDate('0001-01-01'))
const LAST = dayNumberOf(calendarDate('9999-12-31'))
const anyDate = fc.integer({ min: FIRST, max: LAST }).map(dateOfDayNumber)
const nearDate = fc
  .integer({ min: dayNumberOf(calendarDate('1900-01-01')), max: dayNumberOf(calendarDate('2199-12-31')) })
  .map(dateOfDayNumber)
const manyRuns = { numRuns: 5000 }

describe('months', () => {
  // Worked dates: the overflow "constrain" of ECMAScript Temporal (tc39/proposal-temporal, docs/plaindate.md: 2019-01-31 + 1 month =
  // 2019-02-28), the others recomputed with @js-temporal/polyfill 0.5.1, temporal-polyfill 1.0.8 and date-fns 4.4.0, which agree.
  test.each([
    ['2019-01-31', 1, '2019-02-28'],
    ['2024-01-31', 1, '2024-02-29'],
    ['2023-01-31', 1, '2023-02-28'],
    ['2024-03-31', 1, '2024-04-30'],
    ['2024-08-31', 6, '2025-02-28'],
    ['2024-02-29', 12, '2025-02-28'],
    ['2024-02-29', 48, '2028-02-29'],
    ['2025-12-31', 2, '2026-02-28'],
    ['2024-05-31', -3, '2024-02-29'],
  ])('UNIT-1 %s and %i months is %s', (start, months, end) => {
    expect(addMonths(calendarDate(start), months)).toBe(end)
  })

  test('UNIT-1 months agree with Temporal on thousands of random dates', () => {
    fc.assert(
      fc.property(nearDate, fc.integer({ min: -600, max: 600 }), (date, months) => {
        expect(addMonths(date, months)).toBe(
          Temporal.PlainDate.from(date).add({ months }, { overflow: 'constrain' }).toString(),
        )
      }),
      manyRuns,
    )
  })

  test('UNIT-2 two months from January 31 is March 31, though one month and one month is March 29', () => {
    const anchor = calendarDate('2024-01-31')
    expect(addMonths(anchor, 2)).toBe('2024-03-31')
    expect(addMonths(addMonths(anchor, 1), 1)).toBe('2024-03-29')
  })

  test('UNIT-1 part of a month, and a date past the calendar, are refused', () => {
    expect(() => addMonths(calendarDate('2024-01-31'), 1.5)).toThrow(RangeError)
    expect(() => addMonths(calendarDate('9999-12-31'), 1)).toThrow(RangeError)
    expect(() => addMonths(calendarDate('0001-01-01'), -1)).toThrow(RangeError)
  })
})

describe('days', () => {
  test('UNIT-3 day numbers and days between agree with Temporal over the whole calendar', () => {
    fc.assert(
      fc.property(anyDate, anyDate, (from, to) => {
        const a = Temporal.PlainDate.from(from)
        expect(daysBetween(from, to)).toBe(a.until(to, { largestUnit: 'day' }).days)
        expect(dateOfDayNumber(dayNumberOf(from))).toBe(from)
      }),
      manyRuns,
    )
    expect(dayNumberOf(calendarDate('1970-01-01'))).toBe(0)
  })

  test('UNIT-3 days later agree with Temporal', () => {
    fc.assert(
      fc.property(nearDate, fc.integer({ min: -40_000, max: 40_000 }), (date, days) => {
        expect(addDays(date, days)).toBe(Temporal.PlainDate.from(date).add({ days }).toString())
      }),
      manyRuns,
    )
  })

  test('UNIT-3 outside the years 1 to 9999 there is no date', () => {
    expect(() => dateOfDayNumber(FIRST - 1)).toThrow(RangeError)
    expect(() => dateOfDayNumber(LAST + 1)).toThrow(RangeError)
  })

  test('UNIT-3 a text is a date only if there is such a day', () => {
    for (const text of ['2026-02-28', '2024-02-29', '2000-02-29', '0001-01-01', '9999-12-31'])
      expect(isCalendarDate(text)).toBe(true)
    for (const text of [
      '2026-02-29',
      '1900-02-29',
      '2026-13-01',
      '2026-00-10',
      '2026-04-31',
      '2026-1-1',
      '0000-01-01',
      '',
      'today',
      '2026-01-01T00:00',
    ])
      expect(isCalendarDate(text)).toBe(false)
    expect(() => calendarDate('2026-02-30')).toThrow(RangeError)
    expect(dateFromParts(2026, 2, 29)).toBeNull()
    expect(dateFromParts(2028, 2, 29)).toBe('2028-02-29')
  })

  test('UNIT-3 month lengths and leap years agree with Temporal', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 9999 }), fc.integer({ min: 1, max: 12 }), (year, month) => {
        const first = Temporal.PlainDate.from({ year, month, day: 1 })
        expect(daysInMonth(year, month)).toBe(first.daysInMonth)
        expect(isLeapYear(year)).toBe(first.inLeapYear)
      }),
    )
  })

  test('UNIT-3 the earlier and the later of two dates', () => {
    const [a, b] = [calendarDate('2026-11-25'), calendarDate('2026-12-01')]
    expect([earlierOf(a, b), earlierOf(b, a), laterOf(a, b), laterOf(b, a)]).toEqual([a, a, b, b])
  })
})

describe('weeks', () => {
  // ISO 8601 week dates, recomputed with @js-temporal/polyfill 0.5.1.
  test.each([
    ['2020-12-31', 2020, 53],
    ['2021-01-03', 2020, 53],
    ['2021-01-04', 2021, 1],
    ['2018-12-31', 2019, 1],
    ['2016-01-01', 2015, 53],
    ['2026-01-01', 2026, 1],
    ['2027-01-01', 2026, 53],
  ])('UNIT-4 %s lies in week %i-%i', (date, year, week) => {
    expect(isoWeekOf(calendarDate(date))).toEqual({ year, week })
  })

  test('UNIT-4 weeks and weekdays agree with Temporal', () => {
    fc.assert(
      fc.property(nearDate, (date) => {
        const plain = Temporal.PlainDate.from(date)
        expect(isoWeekOf(date)).toEqual({ year: plain.yearOfWeek, week: plain.weekOfYear })
        expect(weekdayOf(date)).toBe(plain.dayOfWeek)
        expect(mondayOf(date)).toBe(plain.subtract({ days: plain.dayOfWeek - 1 }).toString())
      }),
      manyRuns,
    )
  })
})
