import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDays, calendarDate, daysBetween } from '../../core/units/calendar-date.ts'
import {
  bandOn,
  type MembraneReading,
  type MembraneThresholds,
  membraneTrend,
  percentOn,
  readingsThatCount,
} from '../../core/water/membrane-trend.ts'

/** 90, 75 and 70 of 100: common practice, no source. */
const MARKS: MembraneThresholds = { healthyPercent: 90, replacePercent: 75, overduePercent: 70, widestBandDays: 730 }
const read = (takenOn: string, rejectionPercent: number, unlikely = false): MembraneReading => ({
  takenOn: calendarDate(takenOn),
  rejectionPercent,
  unlikely,
})

test('WAT-3 no reading says nothing, one or two show no trend', () => {
  expect(membraneTrend([], MARKS)).toEqual({ kind: 'none' })
  expect(membraneTrend([read('2026-03-01', 20, true)], MARKS)).toEqual({ kind: 'none' })
  expect(membraneTrend([read('2025-03-01', 94), read('2026-03-01', 92)], MARKS)).toEqual({
    kind: 'too-few',
    readings: 2,
    lastReadOn: '2026-03-01',
    latestPercent: 92,
  })
})

test('WAT-6 a membrane that falls evenly reaches the mark on the day its line does', () => {
  // 95 on the first day, 6 points in each 300 days: 75 is reached after 1000 days.
  const readings = [0, 300, 600, 900].map((day) => read(addDays(calendarDate('2024-01-01'), day), 95 - (6 * day) / 300))
  const finding = membraneTrend(readings, MARKS)
  expect(finding).toMatchObject({
    kind: 'crosses',
    on: addDays(calendarDate('2024-01-01'), 1000),
    earliestOn: addDays(calendarDate('2024-01-01'), 1000),
    latestOn: addDays(calendarDate('2024-01-01'), 1000),
    readings: 4,
  })
  if (finding.kind !== 'crosses') throw new Error('It crosses')
  expect(finding.trend.middle.perYear).toBeCloseTo(-7.305, 9)
  expect(percentOn(finding.trend.middle, addDays(calendarDate('2024-01-01'), 250))).toBeCloseTo(90, 9)
})

test('WAT-7 at or under the mark it is due since the first of the last readings in a row there', () => {
  const readings = [
    read('2024-04-01', 92),
    read('2024-10-01', 74),
    read('2025-04-01', 81),
    read('2025-10-01', 75),
    read('2026-04-01', 69),
  ]
  expect(membraneTrend(readings, MARKS)).toMatchObject({
    kind: 'below',
    since: '2025-10-01',
    inARow: 2,
    overdue: true,
    latestPercent: 69,
  })
  expect(membraneTrend([read('2026-04-01', 72)], MARKS)).toEqual({
    kind: 'below',
    since: '2026-04-01',
    inARow: 1,
    overdue: false,
    trend: null,
    readings: 1,
    lastReadOn: '2026-04-01',
    latestPercent: 72,
  })
})

test('WAT-8 unlikely readings do not count, and of several on one day their mean does', () => {
  const readings = [
    read('2026-04-01', 30, true),
    read('2026-04-01', 90),
    read('2026-04-01', 92),
    read('2024-04-01', 94),
  ]
  expect(readingsThatCount(readings)).toEqual([read('2024-04-01', 94), read('2026-04-01', 91)])
  expect(membraneTrend(readings, MARKS)).toMatchObject({ kind: 'too-few', readings: 2, latestPercent: 91 })
})

test('WAT-9 an old membrane that holds is said to hold, one that does not fall is said so', () => {
  const old = [read('2022-05-01', 95), read('2023-05-01', 94.6), read('2024-05-01', 94.1), read('2025-05-01', 93.8)]
  expect(membraneTrend(old, MARKS)).toMatchObject({ kind: 'holding', earliestOn: null, latestPercent: 93.8 })
  const better = [read('2023-05-01', 91), read('2024-05-01', 92), read('2025-05-01', 92.5)]
  expect(membraneTrend(better, MARKS)).toMatchObject({ kind: 'rising', earliestOn: null })
  const same = [read('2023-05-01', 91), read('2024-05-01', 91), read('2025-05-01', 91)]
  expect(membraneTrend(same, MARKS)).toMatchObject({ kind: 'rising', earliestOn: null })
})

test('WAT-10 a band too wide to act on is unsure, whichever way the middle goes', () => {
  const scattered = [read('2024-05-01', 94), read('2024-11-01', 80), read('2025-05-01', 91), read('2025-11-01', 79)]
  expect(membraneTrend(scattered, MARKS)).toMatchObject({ kind: 'unsure', latestOn: null })
  const risingButScattered = [
    read('2024-05-01', 80),
    read('2024-11-01', 95),
    read('2025-05-01', 78),
    read('2025-11-01', 96),
  ]
  expect(membraneTrend(risingButScattered, MARKS)).toMatchObject({ kind: 'unsure', on: null, latestOn: null })
})

const someReadings = fc
  .array(
    fc.tuple(fc.integer({ min: 0, max: 3000 }), fc.integer({ min: 400, max: 1000 }), fc.integer({ min: 0, max: 9 })),
    { maxLength: 12 },
  )
  .map((all) =>
    all.map(([day, tenths, chance]) => read(addDays(calendarDate('2018-01-01'), day), tenths / 10, chance === 0)),
  )

test('WAT-6 earliest, expected and latest crossing stand in this order, none before the last reading', () => {
  fc.assert(
    fc.property(someReadings, (readings) => {
      const finding = membraneTrend(readings, MARKS)
      if (finding.kind !== 'crosses' && finding.kind !== 'unsure') return
      const days = [finding.lastReadOn, finding.earliestOn, finding.on, finding.latestOn].filter((on) => on !== null)
      expect([...days].sort()).toEqual(days)
      if (finding.kind === 'crosses')
        expect(daysBetween(finding.earliestOn, finding.latestOn)).toBeLessThanOrEqual(MARKS.widestBandDays)
    }),
    { numRuns: 400 },
  )
})

test('WAT-8 a marked reading changes nothing, wherever it stands and whatever it says', () => {
  fc.assert(
    fc.property(
      someReadings,
      fc.integer({ min: 0, max: 3000 }),
      fc.integer({ min: 0, max: 100 }),
      (all, day, percent) => {
        const marked = read(addDays(calendarDate('2018-01-01'), day), percent, true)
        expect(membraneTrend([marked, ...all], MARKS)).toEqual(membraneTrend(all, MARKS))
        expect(membraneTrend([...all].reverse(), MARKS)).toEqual(membraneTrend(all, MARKS))
      },
    ),
  )
})

test('WAT-7 a last reading at or under the mark is below, and nothing else is', () => {
  fc.assert(
    fc.property(someReadings, (all) => {
      const latest = readingsThatCount(all).at(-1)
      expect(membraneTrend(all, MARKS).kind === 'below').toBe(latest !== undefined && latest.rejectionPercent <= 75)
    }),
  )
})

test('WAT-6 the band of the picture holds the line of the trend on every day', () => {
  fc.assert(
    fc.property(someReadings, fc.integer({ min: -500, max: 6000 }), (all, day) => {
      const finding = membraneTrend(all, MARKS)
      if (!('trend' in finding) || finding.trend === null) return
      const date = addDays(calendarDate('2018-01-01'), day)
      const { low, high } = bandOn(finding.trend, date)
      const middle = percentOn(finding.trend.middle, date)
      expect(low).toBeLessThanOrEqual(middle)
      expect(high).toBeGreaterThanOrEqual(middle)
    }),
  )
})

test('WAT-6 raising the mark never puts the crossing later', () => {
  fc.assert(
    fc.property(someReadings, fc.integer({ min: 60, max: 80 }), (all, mark) => {
      const [lower, higher] = [mark, mark + 3].map((replacePercent) =>
        membraneTrend(all, { ...MARKS, replacePercent, widestBandDays: 20_000 }),
      )
      if (lower?.kind === 'crosses' && higher?.kind === 'crosses')
        expect(higher.on <= lower.on && higher.earliestOn <= lower.earliestOn).toBe(true)
      else expect(lower?.kind === 'below' && higher?.kind !== 'below').toBe(false)
    }),
  )
})
