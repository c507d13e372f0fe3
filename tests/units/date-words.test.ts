import { describe, expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import {
  agoInWords,
  counted,
  dayAndMonth,
  distanceInWords,
  longDate,
  mannerOf,
  monthName,
  shortDate,
  spanInWords,
  weekdayAndDate,
  weekdayName,
} from '../../core/units/date-words.ts'

const nov9 = calendarDate('2026-11-09')

describe('dates as the country writes them', () => {
  test('UNIT-12 short, long and without the year', () => {
    expect(['en-US', 'en-GB', 'de-DE'].map((locale) => shortDate(nov9, locale))).toEqual([
      'Nov 9, 2026',
      '9 Nov 2026',
      '09.11.2026',
    ])
    expect(['en-US', 'en-GB', 'de-DE'].map((locale) => dayAndMonth(nov9, locale))).toEqual(['Nov 9', '9 Nov', '09.11.'])
    expect(longDate(nov9, 'en-US')).toBe('November 9, 2026')
    expect(longDate(nov9, 'en-GB')).toBe('9 November 2026')
    expect(weekdayAndDate(nov9, 'en-US')).toBe('Monday, Nov 9')
    expect([weekdayName(calendarDate('2026-12-01')), monthName(12)]).toEqual(['Tuesday', 'December'])
    expect(mannerOf('fr-FR')).toBe('en-US')
  })
})

describe('distance in time', () => {
  test.each([
    ['2026-12-01', 'today'],
    ['2026-12-02', 'tomorrow'],
    ['2026-12-13', 'in 12 days'],
    ['2026-12-21', 'in 20 days'],
    ['2026-12-22', 'in 3 weeks'],
    ['2027-05-01', 'in 5 months'],
    ['2029-12-01', 'in 3 years'],
    ['2026-11-30', '1 day late'],
    ['2026-11-16', '15 days late'],
    ['2026-11-10', '3 weeks late'],
  ])('UNIT-12 %s is %s', (date, words) => {
    expect(distanceInWords(calendarDate(date), calendarDate('2026-12-01'))).toBe(words)
  })

  test('UNIT-12 what is done lies behind', () => {
    const today = calendarDate('2026-12-01')
    expect(
      [0, 1, 12, 30].map((days) =>
        agoInWords(
          calendarDate(`2026-${days === 30 ? '11-01' : days === 12 ? '11-19' : days === 1 ? '11-30' : '12-01'}`),
          today,
        ),
      ),
    ).toEqual(['today', 'yesterday', '12 days ago', '4 weeks ago'])
    expect(agoInWords(calendarDate('2026-12-02'), today)).toBe('tomorrow')
    expect(spanInWords(1)).toBe('1 day')
    expect([counted(1, 'letter'), counted(1420, 'letter'), counted(2, 'person', 'people')]).toEqual([
      '1 letter',
      '1,420 letters',
      '2 people',
    ])
  })
})
