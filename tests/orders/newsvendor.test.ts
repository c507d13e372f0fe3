import poissonBelow from '@stdlib/stats-base-dists-poisson-cdf'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  bestLevel,
  bestNormalLevel,
  costAtLevel,
  criticalRatio,
  normalCostAtLevel,
  normalService,
  poissonChances,
} from '../../core/orders/newsvendor.ts'
import { cumulated, distributionOf } from '../../core/orders/poisson-binomial.ts'

// L. V. Snyder and Z.-J. M. Shen, Fundamentals of Supply Chain Theory, 2nd ed., ch. 4 (figures as carried in the docstrings of stockpyl, MIT)
const papers = { tooMany: 0.18, tooFew: 0.7 }

test('ORD-38 the textbook level under a normal demand', () => {
  // Example 4.3: demand of 50, straying by 8
  expect(criticalRatio(papers)).toBeCloseTo(0.7954545454545454, 15)
  const best = bestNormalLevel(50, 8, papers)
  expect(best.level).toBeCloseTo(56.60395592743389, 9)
  expect(best.cost).toBeCloseTo(1.9976051931766445, 9)
  expect(normalCostAtLevel(50, 8, papers, 60)).toBeCloseTo(2.1561316, 7)
  expect(normalService(50, 8, best.level)).toBeCloseTo(criticalRatio(papers), 12)
  expect(normalService(50, 0, 49)).toBe(0)
})

test('ORD-38 the textbook levels under a Poisson demand', () => {
  expect(bestLevel(poissonChances(50), papers)).toEqual({ level: 56, cost: expect.closeTo(1.797235211809178, 9) })
  // Example 4.7, as a discrete demand
  const six = poissonChances(6)
  const costs = { tooMany: 1, tooFew: 4 }
  expect(bestLevel(six, costs)).toEqual({ level: 8, cost: expect.closeTo(3.570106945770941, 9) })
  expect(costAtLevel(six, costs, 5)).toBeCloseTo(6.590296, 6)
})

test.each([0, 0.3, 6, 50])('ORD-38 the Poisson chances of mean %d are those of a reference library', (mean) => {
  // @stdlib/stats-base-dists-poisson-cdf 0.3.1 (Apache-2.0)
  const sums = cumulated(poissonChances(mean))
  for (const [k, below] of sums.entries()) expect(Math.abs(below - poissonBelow(k, mean))).toBeLessThan(1e-12)
})

test('ORD-38 a large Poisson demand, too', () => {
  // scipy 1.17.1, stats.poisson.cdf; the library above is wrong in the third digit for means this large
  const sums = cumulated(poissonChances(1234.5))
  expect(sums[1200]).toBeCloseTo(0.1666692586582055, 12)
  expect(sums[1250]).toBeCloseTo(0.6769317149142631, 12)
  expect(sums[1300]).toBeCloseTo(0.9690332538001835, 12)
})

test('ORD-38 no other level costs less under the demand of unequal tosses, tried one by one', () => {
  const aCost = fc.integer({ min: 1, max: 90 })
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 60 }),
      aCost,
      aCost,
      (chances, tooMany, tooFew) => {
        const demand = distributionOf(chances)
        const best = bestLevel(demand, { tooMany, tooFew })
        for (let level = 0; level <= chances.length + 1; level += 1)
          expect(costAtLevel(demand, { tooMany, tooFew }, level)).toBeGreaterThanOrEqual(best.cost - 1e-9)
      },
    ),
  )
})

test('what costs nothing has no best level', () => {
  expect(() => criticalRatio({ tooMany: 0, tooFew: 1 })).toThrow(RangeError)
  expect(() => poissonChances(-1)).toThrow(RangeError)
})
