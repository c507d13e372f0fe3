import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkShift } from '../../core/visits/check-look-ahead.ts'
import { type BoundMinutes, compareShares, evenOut } from '../../core/visits/look-ahead-peak.ts'
import { type AlikeVisits, shiftVisits } from '../../core/visits/look-ahead-shift.ts'
import { leastShareOfEverySet, leastShareOfWholeVisits } from '../judges/every-set-of-weeks.ts'

const WEEKS = 7
const span = fc
  .tuple(fc.nat(WEEKS - 1), fc.nat(WEEKS - 1))
  .map(([a, b]) => ({ earliest: Math.min(a, b), latest: Math.max(a, b) }))
const someHours = fc.array(fc.constantFrom(0, 300, 480, 960, 2400), { minLength: WEEKS, maxLength: WEEKS })

const canBeSomewhere =
  (hours: readonly number[]) =>
  ({ earliest, latest }: { readonly earliest: number; readonly latest: number }): boolean =>
    hours.slice(earliest, latest + 1).some((each) => each > 0)

/** Visits by span, planned somewhere in it; minutes fixed in some of the weeks; hours. Nothing that only fits where nobody works. */
const aYear = fc
  .record({
    hours: someHours,
    fixed: fc.array(fc.constantFrom(0, 0, 45, 200), { minLength: WEEKS, maxLength: WEEKS }),
    alike: fc.array(
      fc.record({
        span,
        minutes: fc.constantFrom(30, 44, 65, 120),
        visits: fc.integer({ min: 1, max: 3 }),
        at: fc.nat(WEEKS),
      }),
      { maxLength: 7 },
    ),
  })
  .map(({ hours, fixed, alike }) => ({
    hours,
    fixed: fixed.map((minutes, week) => ((hours[week] ?? 0) > 0 ? minutes : 0)),
    alike: alike
      .map(
        ({ span: weeks, minutes, visits, at }): AlikeVisits => ({
          ...weeks,
          planned: Math.min(weeks.earliest + at, weeks.latest),
          minutes,
          visits,
        }),
      )
      .filter(canBeSomewhere(hours)),
  }))

function boundOf(alike: readonly AlikeVisits[], fixed: readonly number[]): BoundMinutes[] {
  return [
    ...alike.map(({ earliest, latest, minutes, visits }) => ({ earliest, latest, minutes: minutes * visits })),
    ...fixed.map((minutes, week) => ({ earliest: week, latest: week, minutes })),
  ]
}

describe('the fullest week', () => {
  test('AHEAD-4 three weeks of 40 h: what is bound to the middle one says how full it must be', () => {
    const hours = [2400, 2400, 2400]
    const bound = [
      { earliest: 1, latest: 1, minutes: 1860 },
      { earliest: 0, latest: 2, minutes: 600 },
    ]
    const { fullest, shares } = evenOut(bound, hours)
    expect(fullest).toEqual({ from: 1, until: 1, minutes: 1860, hours: 2400 })
    expect(shares).toEqual([
      { minutes: 600, hours: 4800 },
      { minutes: 1860, hours: 2400 },
      { minutes: 600, hours: 4800 },
    ])
  })

  test('AHEAD-4 no set of weeks, with gaps or without, says that it must be fuller (Hall 1935)', () => {
    fc.assert(
      fc.property(aYear, ({ hours, fixed, alike }) => {
        const bound = boundOf(alike, fixed)
        const { fullest } = evenOut(bound, hours)
        const [minutes, there] = leastShareOfEverySet(bound, hours)
        expect(compareShares(fullest ?? { minutes: 0, hours: 1 }, { minutes, hours: there })).toBe(0)
      }),
      { numRuns: 400 },
    )
  })

  test('AHEAD-4 the shares are no stretch too small, add up, and no other way of laying the visits is more even', () => {
    fc.assert(
      fc.property(
        aYear,
        fc.array(fc.nat(WEEKS), { minLength: 21, maxLength: 21 }),
        ({ hours, fixed, alike }, choices) => {
          const bound = boundOf(alike, fixed)
          const { shares } = evenOut(bound, hours)
          const loads = shares.map((share, week) => (share.minutes * (hours[week] ?? 0)) / share.hours)
          const total = bound.reduce((sum, { minutes }) => sum + minutes, 0)
          expect(loads.reduce((sum, load) => sum + load, 0)).toBeCloseTo(total, 6)
          for (let from = 0; from < WEEKS; from += 1)
            for (let until = from; until < WEEKS; until += 1) {
              const inside = bound
                .filter(({ earliest, latest }) => from <= earliest && latest <= until)
                .reduce((sum, { minutes }) => sum + minutes, 0)
              expect(loads.slice(from, until + 1).reduce((sum, load) => sum + load, 0)).toBeGreaterThanOrEqual(
                inside - 1e-6,
              )
            }
          const other: number[] = [...fixed]
          const whole = alike.flatMap((group) => Array.from({ length: group.visits }, () => group))
          for (const [index, { earliest, latest, minutes }] of whole.entries()) {
            const weeks = [...hours.keys()].filter(
              (week) => earliest <= week && week <= latest && (hours[week] ?? 0) > 0,
            )
            const week = weeks[(choices[index] ?? 0) % weeks.length] ?? 0
            other[week] = (other[week] ?? 0) + minutes
          }
          const unevenness = (minutes: readonly number[]) =>
            minutes.reduce((sum, each, week) => sum + (each === 0 ? 0 : each ** 2 / (hours[week] ?? 0)), 0)
          expect(unevenness(loads)).toBeLessThanOrEqual(unevenness(other) + 1e-6)
        },
      ),
      { numRuns: 300 },
    )
  })
})

describe('whole visits shifted', () => {
  test('AHEAD-5 every visit stays in its weeks and no week runs over its share by a whole visit', () => {
    fc.assert(
      fc.property(aYear, ({ hours, fixed, alike }) => {
        const { shares } = evenOut(boundOf(alike, fixed), hours)
        const shifted = shiftVisits(alike, fixed, hours, shares)
        expect(checkShift({ alike, fixed, hours, ...shifted })).toEqual([])
        const longest = Math.max(0, ...alike.map(({ minutes }) => minutes))
        for (const [week, load] of shifted.loads.entries()) {
          const share = shares[week] ?? { minutes: 0, hours: 1 }
          const target = (share.minutes * (hours[week] ?? 0)) / share.hours
          expect(load === 0 || load < target + longest || load <= target).toBe(true)
        }
      }),
      { numRuns: 400 },
    )
  })

  test('AHEAD-5 the best of all ways to lay whole visits lies between the bound and less than a visit below what is reached', () => {
    fc.assert(
      fc.property(aYear, (year) => {
        const { hours, fixed } = year
        const alike = year.alike.slice(0, 6).map((group) => ({ ...group, visits: 1 }))
        const { shares, fullest } = evenOut(boundOf(alike, fixed), hours)
        const shifted = shiftVisits(alike, fixed, hours, shares)
        const [minutes, there] = leastShareOfWholeVisits(alike, fixed, hours)
        const best = { minutes, hours: there }
        expect(compareShares(best, fullest ?? { minutes: 0, hours: 1 })).toBeGreaterThanOrEqual(0)
        const longest = Math.max(0, ...alike.map((group) => group.minutes))
        for (const [week, load] of shifted.loads.entries()) {
          const within = hours[week] ?? 0
          if (within > 0 && load > 0) expect(load).toBeLessThanOrEqual((best.minutes * within) / best.hours + longest)
        }
      }),
      { numRuns: 200 },
    )
  })

  test('AHEAD-5 the judge finds a visit that was put where it cannot be, lost, or made up', () => {
    const alike = [{ earliest: 0, planned: 1, latest: 1, minutes: 60, visits: 2 }]
    const judge = (placed: { from: number; to: number; visits: number; minutes: number }[], loads: number[]) =>
      checkShift({ alike, fixed: [0, 0, 0], hours: [480, 480, 480], loads, placed })
    expect(judge([{ from: 1, to: 0, visits: 2, minutes: 120 }], [120, 0, 0])).toEqual([])
    expect(judge([{ from: 1, to: 2, visits: 2, minutes: 120 }], [0, 0, 120])).not.toEqual([])
    expect(judge([{ from: 1, to: 1, visits: 1, minutes: 60 }], [0, 60, 0])).not.toEqual([])
    expect(judge([{ from: 1, to: 1, visits: 2, minutes: 120 }], [0, 60, 0])).not.toEqual([])
  })
})
