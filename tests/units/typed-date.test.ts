import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { shortDate } from '../../core/units/date-words.ts'
import { parseTypedDate } from '../../core/units/typed-date.ts'

const TODAY = calendarDate('2026-12-01')

test.each([
  ['2026-11-09', 'en-US', '2026-11-09'],
  ['11/9/26', 'en-US', '2026-11-09'],
  ['11/9/26', 'en-GB', '2026-09-11'],
  ['9.11.2026', 'de-DE', '2026-11-09'],
  ['9.11.', 'de-DE', '2026-11-09'],
  ['9.11.2026', 'en-US', '2026-11-09'],
  ['Nov 9', 'en-US', '2026-11-09'],
  ['9 nov 2026', 'en-GB', '2026-11-09'],
  ['November 9th, 2026', 'en-US', '2026-11-09'],
  ['Monday, Nov 9', 'en-US', '2026-11-09'],
  ['today', 'en-US', '2026-12-01'],
  ['Tomorrow', 'en-US', '2026-12-02'],
  ['yesterday', 'en-US', '2026-11-30'],
  ['tue', 'en-US', '2026-12-08'],
  ['next monday', 'en-US', '2026-12-07'],
  ['+14', 'en-US', '2026-12-15'],
  ['+3w', 'en-US', '2026-12-22'],
  ['-1 month', 'en-US', '2026-11-01'],
])('UNIT-15 "%s" in the manner of %s is %s', (typed, locale, date) => {
  expect(parseTypedDate(typed, TODAY, locale)).toBe(date)
})

test.each(['', 'soon', '2/30/26', '13/13', '31.2.', 'Feb 30', '0/0'])('UNIT-15 "%s" is not a date', (typed) => {
  expect(parseTypedDate(typed, TODAY, 'en-US')).toBeNull()
})

test('UNIT-15 a date without a year is the one nearest to today', () => {
  expect(parseTypedDate('1/15', TODAY, 'en-US')).toBe('2027-01-15')
  expect(parseTypedDate('10/15', TODAY, 'en-US')).toBe('2026-10-15')
  expect(parseTypedDate('2/29', calendarDate('2028-03-10'), 'en-US')).toBe('2028-02-29')
})

test('UNIT-15 what the office writes, the office reads', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: -10_000, max: 10_000 }),
      fc.constantFrom('en-US', 'en-GB', 'de-DE'),
      (days, locale) => {
        const date = addDays(TODAY, days)
        expect(parseTypedDate(shortDate(date, locale), TODAY, locale)).toBe(date)
      },
    ),
  )
})
