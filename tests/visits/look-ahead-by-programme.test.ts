import fc from 'fast-check'
import { expect, test } from 'vitest'
import { evenOut } from '../../core/visits/look-ahead-peak.ts'
import { type AlikeVisits, shiftVisits } from '../../core/visits/look-ahead-shift.ts'
import { evenWeeksSolver } from '../judges/even-weeks-programme.ts'

const solve = evenWeeksSolver()

const aYearOf = (weeks: number, groups: number, visits: number) =>
  fc
    .record({
      hours: fc.array(fc.constantFrom(0, 1440, 2400, 2400, 4800), { minLength: weeks, maxLength: weeks }),
      fixed: fc.array(fc.constantFrom(0, 0, 70, 640), { minLength: weeks, maxLength: weeks }),
      alike: fc.array(
        fc.record({
          planned: fc.nat(weeks - 1),
          before: fc.nat(4),
          after: fc.nat(4),
          minutes: fc.integer({ min: 30, max: 140 }),
          visits: fc.integer({ min: 1, max: visits }),
        }),
        { minLength: 1, maxLength: groups },
      ),
    })
    .map(({ hours, fixed, alike }) => ({
      hours,
      fixed: fixed.map((minutes, week) => ((hours[week] ?? 0) > 0 ? minutes : 0)),
      alike: alike
        .map(
          ({ before, after, ...group }): AlikeVisits => ({
            ...group,
            earliest: Math.max(0, group.planned - before),
            latest: Math.min(weeks - 1, group.planned + after),
          }),
        )
        .filter(({ earliest, latest }) => hours.slice(earliest, latest + 1).some((there) => there > 0)),
    }))

const evened = (year: { alike: readonly AlikeVisits[]; fixed: readonly number[]; hours: readonly number[] }) => {
  const { alike, fixed, hours } = year
  const bound = [
    ...alike.map(({ earliest, latest, minutes, visits }) => ({ earliest, latest, minutes: minutes * visits })),
    ...fixed.map((minutes, week) => ({ earliest: week, latest: week, minutes })),
  ]
  const { fullest, shares } = evenOut(bound, hours)
  const { loads } = shiftVisits(alike, fixed, hours, shares)
  return {
    least: fullest === null ? 0 : fullest.minutes / fullest.hours,
    reached: Math.max(...loads.map((load, week) => (load === 0 ? 0 : load / (hours[week] ?? 0)))),
  }
}

test('AHEAD-4 over 52 weeks a linear programme finds the same smallest peak (HiGHS)', async () => {
  const leastOf = await solve
  fc.assert(
    fc.property(aYearOf(52, 120, 30), (year) => {
      expect(evened(year).least).toBeCloseTo(leastOf(year, false), 6)
    }),
    { numRuns: 25 },
  )
}, 60_000)

test('AHEAD-5 an integer programme of whole visits finds none better than the bound, nor one a visit better than what is reached', async () => {
  const leastOf = await solve
  fc.assert(
    fc.property(aYearOf(8, 6, 4), (year) => {
      const { least, reached } = evened(year)
      const best = leastOf(year, true)
      expect(best).toBeGreaterThanOrEqual(least - 1e-6)
      expect(reached).toBeGreaterThanOrEqual(best - 1e-6)
      const longest = Math.max(0, ...year.alike.map(({ minutes }) => minutes))
      const shortestWeek = Math.min(...year.hours.filter((there) => there > 0), 4800)
      expect(reached - best).toBeLessThan(longest / shortestWeek + 1e-6)
    }),
    { numRuns: 25 },
  )
}, 60_000)
