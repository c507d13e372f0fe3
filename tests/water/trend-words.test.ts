import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { type MembraneReading, type MembraneThresholds, membraneTrend } from '../../core/water/membrane-trend.ts'
import { membraneInWords, oftenInWords } from '../../core/water/trend-words.ts'

/** Common practice, no source. */
const MARKS: MembraneThresholds = { healthyPercent: 90, replacePercent: 75, overduePercent: 70, widestBandDays: 730 }
const read = (takenOn: string, rejectionPercent: number): MembraneReading => ({
  takenOn: calendarDate(takenOn),
  rejectionPercent,
  unlikely: false,
})
const told = (...readings: MembraneReading[]) => membraneInWords(membraneTrend(readings, MARKS), MARKS, 'en-US')

test('WAT-22 too few readings are counted, and the next step is to measure', () => {
  expect(told()).toEqual({
    says: 'Nothing was measured on this membrane that counts, so the rule of thumb sets its date.',
    because: [],
    next: 'Measure TDS in and out at the next visit.',
  })
  expect(told(read('2025-03-01', 94), read('2026-03-01', 92))).toEqual({
    says: 'It held back 92 of 100 parts on Mar 1, 2026.',
    because: ['Two days with readings so far; a trend needs three, so the rule of thumb sets its date.'],
    next: 'Measure again at the next visit.',
  })
  expect(told(read('2026-03-01', 92)).because[0]).toMatch(/^One day with readings/)
})

test('WAT-22 the hard-water home: a single low reading asks for a second one, two call for a new membrane', () => {
  expect(told(read('2026-03-01', 72))).toEqual({
    says: 'It held back only 72 of 100 parts on Mar 1, 2026: at 75 it is time to replace it.',
    because: [],
    next: 'Measure once more before it is changed: a single reading can be wrong.',
  })
  expect(told(read('2026-03-01', 74), read('2026-09-01', 69))).toEqual({
    says: 'It held back only 69 of 100 parts on Sep 1, 2026: at 70 it is overdue.',
    because: ['Its last 2 readings all lie at 75 or under, since Mar 1, 2026.'],
    next: 'Change the membrane, and sanitise the tank with it.',
  })
})

test('WAT-22 a membrane that goes down evenly is given its month, and how sure that is', () => {
  expect(
    told(read('2023-05-01', 95), read('2024-05-02', 90.2), read('2025-05-01', 84.5), read('2026-05-03', 80.1)),
  ).toEqual({
    says: 'It holds back 80 of 100 parts and loses about 5 a year: it comes to 75 about May 2027.',
    because: ['The day lies between December 2026 and August 2027, nine times in ten with readings like these.'],
    next: 'Change it by May 2027.',
  })
  const three = told(read('2023-05-01', 95), read('2024-05-01', 90), read('2025-05-01', 84.6))
  expect(three.because[0]).toMatch(/, two times in three with readings like these\.$/)
})

test('WAT-22 the soft-water home: an old membrane that holds is left where it is', () => {
  expect(
    told(read('2022-05-01', 95), read('2023-05-01', 94.8), read('2024-05-01', 94.3), read('2025-05-01', 94.1)),
  ).toEqual({
    says: 'It holds back 94 of 100 parts and loses hardly anything a year.',
    because: ['The mark of 75 is out of sight.'],
    next: 'Leave it where it is, and measure again at the next visit.',
  })
  const steady = told(read('2022-05-01', 92), read('2023-05-01', 92), read('2024-05-01', 92))
  expect(steady.says).toBe('It holds back 92 of 100 parts and does not fall.')
  const slow = told(read('2022-05-01', 95), read('2023-05-01', 93), read('2024-05-01', 92), read('2025-05-01', 89.5))
  expect(slow.because).toEqual(['Even if its readings flatter it, it does not come to 75 before October 2030.'])
})

test('WAT-22 readings that rise are told to look at how they were taken', () => {
  const rising = told(read('2023-05-01', 86), read('2024-05-01', 90), read('2025-05-01', 93))
  expect(rising.because[1]).toBe(
    'Its readings even rise, which no membrane does by itself: see that all were taken at the same place.',
  )
})

test('WAT-22 readings that do not agree say between what the day could lie', () => {
  expect(told(read('2024-05-01', 94), read('2024-11-01', 80), read('2025-05-01', 91), read('2025-11-01', 79))).toEqual({
    says: 'It holds back 79 of 100 parts, but its readings do not agree well enough to set a date.',
    because: ['The mark of 75 could be there now, or not for years; the rule of thumb sets the date.'],
    next: 'Measure again at the next visit, at the same tap, with the same meter and the tank shut off.',
  })
})

test('WAT-22 how often a band holds is said in words', () => {
  expect([2 / 3, 11 / 12, 0.9, 0.983].map(oftenInWords)).toEqual([
    'two times in three',
    'nine times in ten',
    'nine times in ten',
    'nearly always',
  ])
})

test('WAT-22 whatever was measured, it is said in whole sentences without a word of mathematics', () => {
  const some = fc.array(fc.tuple(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 300, max: 1000 })), {
    maxLength: 9,
  })
  fc.assert(
    fc.property(some, (days) => {
      const readings = days.map(([day, tenths]) => read(addDays(calendarDate('2018-01-01'), day), tenths / 10))
      const { says, because, next } = told(...readings)
      for (const sentence of [says, ...because, next]) {
        expect(sentence).toMatch(/^[A-Z].*\.$/)
        expect(sentence).not.toMatch(/undefined|NaN|null|slope|median|confiden|interval|regression|\d\.\d/)
      }
    }),
    { numRuns: 300 },
  )
})
