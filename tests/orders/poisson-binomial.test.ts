import binomialBelow from '@stdlib/stats-base-dists-binomial-cdf'
import binomialAt from '@stdlib/stats-base-dists-binomial-pmf'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  cumulated,
  distributionOf,
  expectedShortage,
  meanAndDeviation,
  quantityAtServiceLevel,
  weightedDistributionOf,
} from '../../core/orders/poisson-binomial.ts'
import { chancesByTransform, chancesOneByOne } from '../judges/poisson-binomial-by-transform.ts'

const sum = (numbers: Iterable<number>) => [...numbers].reduce((total, each) => total + each, 0)
const meanOf = (chances: Float64Array) => sum(chances.map((chance, k) => chance * k))
const farthest = (one: Float64Array, other: ArrayLike<number>) =>
  one.reduce((most, value, k) => Math.max(most, Math.abs(value - (other[k] ?? Number.NaN))), 0)

/** Unequal chances without any pattern, the same in every run. */
function unequal(count: number, least = 0, most = 1): number[] {
  let seed = 20_261_128
  return Array.from({ length: count }, () => {
    seed = (seed * 48_271) % 2_147_483_647
    return least + ((most - least) * seed) / 2_147_483_647
  })
}

describe('against published and exact values', () => {
  // Inputs: the example in the manual of the R package poibin (CRAN), .1 .2 .3 .4 .5 twice each; outputs by exact fractions and by
  // scipy 1.17.1, stats.poisson_binom.
  const twice = [0.1, 0.1, 0.2, 0.2, 0.3, 0.3, 0.4, 0.4, 0.5, 0.5]
  const published = [
    0.02286144, 0.11231136, 0.23694372, 0.28171848, 0.20829484, 0.09968032, 0.03113484, 0.00623848, 0.00076372,
    0.00005136, 0.00000144,
  ]
  const publishedSums = [
    0.02286144, 0.1351728, 0.37211652, 0.653835, 0.86212984, 0.96181016, 0.992945, 0.99918348, 0.9999472, 0.99999856, 1,
  ]

  test('ORD-30 the example of the poibin manual, chance by chance and summed', () => {
    const chances = distributionOf(twice)
    expect(farthest(chances, published)).toBeLessThan(1e-15)
    expect(farthest(cumulated(chances), publishedSums)).toBeLessThan(1e-15)
  })

  test('ORD-30 five unequal tosses, by exact fractions', () => {
    expect(
      farthest(distributionOf([0.1, 0.2, 0.3, 0.4, 0.5]), [0.1512, 0.3714, 0.3274, 0.1274, 0.0214, 0.0012]),
    ).toBeLessThan(1e-15)
  })

  test.each([
    [1, 0.3],
    [23, 0.5],
    [24, 0.01],
    [500, 0.42],
    [3000, 0.9],
    [20_000, 0.07],
  ])('ORD-30 %i equal tosses of %d are the binomial of a reference library', (count, chance) => {
    const chances = distributionOf(Array.from({ length: count }, () => chance))
    const sums = cumulated(chances)
    // @stdlib/stats-base-dists-binomial-pmf and -cdf (Apache-2.0); the second goes by the incomplete beta function
    for (let k = 0; k <= count; k += Math.max(1, Math.floor(count / 100))) {
      expect(Math.abs((chances[k] ?? 0) - binomialAt(k, count, chance))).toBeLessThan(1e-12)
      expect(Math.abs((sums[k] ?? 0) - binomialBelow(k, count, chance))).toBeLessThan(1e-12)
    }
  })

  test.each([1, 2, 3, 10, 57, 500, 2001, 10_000, 20_000])(
    'ORD-30 %i unequal tosses agree with the transform of Hong 2013 to the twelfth digit',
    (count) => {
      const chances = unequal(count)
      const other = cumulated(Float64Array.from(chancesByTransform(chances)))
      expect(farthest(cumulated(distributionOf(chances)), other)).toBeLessThan(1e-12)
    },
  )

  test('ORD-30 many rare and a few likely tosses agree with the transform, too', () => {
    const chances = [...unequal(6000, 0, 0.02), ...unequal(300, 0.95, 1), 1, 1, 0, ...Array(80).fill(0.25)]
    const other = cumulated(Float64Array.from(chancesByTransform(chances)))
    expect(farthest(cumulated(distributionOf(chances)), other)).toBeLessThan(1e-12)
  })

  test('ORD-30 the tails keep their digits, where a transform has lost them', () => {
    const chances = unequal(300, 0.05, 0.4)
    const plain = chancesOneByOne(chances)
    const ours = distributionOf(chances)
    let kept = 0
    for (const [k, value] of ours.entries()) {
      if (value < 1e-25) continue
      expect(Math.abs(value / (plain[k] ?? 0) - 1)).toBeLessThan(1e-11)
      if (value < 1e-20) kept += 1
    }
    expect(kept).toBeGreaterThan(5)
  })
})

const aChance = fc.oneof(
  { weight: 6, arbitrary: fc.double({ min: 0, max: 1, noNaN: true }) },
  { weight: 3, arbitrary: fc.constantFrom(0.1, 0.35, 0.6) },
  { weight: 1, arbitrary: fc.constantFrom(0, 1) },
)
const someChances = fc.array(aChance, { maxLength: 150 })
const someTosses = fc.array(fc.record({ chance: aChance, pieces: fc.integer({ min: 1, max: 6 }) }), { maxLength: 25 })

describe('whatever the tosses', () => {
  test('ORD-30 the chances add up to 1, with the mean and the variance that tosses have', () => {
    fc.assert(
      fc.property(someChances, (chances) => {
        const found = distributionOf(chances)
        const mean = sum(chances)
        expect(found).toHaveLength(chances.length + 1)
        expect(sum(found)).toBeCloseTo(1, 12)
        expect(meanOf(found)).toBeCloseTo(mean, 9)
        const variance = sum(found.map((chance, k) => chance * (k - mean) ** 2))
        expect(variance).toBeCloseTo(sum(chances.map((chance) => chance * (1 - chance))), 8)
      }),
    )
  })

  test('ORD-30 they are those of the plain convolution, in whatever order the tosses stand', () => {
    fc.assert(
      fc.property(someChances, fc.integer({ min: 0, max: 149 }), (chances, turn) => {
        const found = distributionOf(chances)
        expect(farthest(found, chancesOneByOne(chances))).toBeLessThan(1e-13)
        const turned = [...chances.slice(turn), ...chances.slice(0, turn)].reverse()
        expect(farthest(distributionOf(turned), found)).toBeLessThan(1e-13)
      }),
    )
  })

  test('ORD-31 a likelier toss never makes less enough, and a higher level never needs less', () => {
    fc.assert(
      fc.property(someChances, aChance, fc.double({ min: 0.5, max: 0.999, noNaN: true }), (chances, more, level) => {
        const at = quantityAtServiceLevel(distributionOf(chances), level)
        expect(quantityAtServiceLevel(distributionOf([...chances, more]), level)).toBeGreaterThanOrEqual(at)
        const likelier = chances.map((chance) => chance + (1 - chance) * more)
        expect(quantityAtServiceLevel(distributionOf(likelier), level)).toBeGreaterThanOrEqual(at)
        expect(quantityAtServiceLevel(distributionOf(chances), (level + 1) / 2)).toBeGreaterThanOrEqual(at)
      }),
    )
  })

  test('ORD-31 the level is the least number that is enough so often', () => {
    fc.assert(
      fc.property(someChances, fc.double({ min: 0.5, max: 0.999, noNaN: true }), (chances, level) => {
        const found = distributionOf(chances)
        const sums = cumulated(found)
        const quantity = quantityAtServiceLevel(found, level)
        expect(sums[quantity]).toBeGreaterThanOrEqual(level - 1e-11)
        if (quantity > 0) expect(sums[quantity - 1]).toBeLessThan(level)
      }),
    )
  })

  test('ORD-32 tosses for several pieces are tried one by one on all their outcomes', () => {
    fc.assert(
      fc.property(someTosses, (tosses) => {
        let outcomes = new Map([[0, 1]])
        for (const { chance, pieces } of tosses) {
          const next = new Map<number, number>()
          for (const [k, so] of outcomes) {
            next.set(k, (next.get(k) ?? 0) + so * (1 - chance))
            next.set(k + pieces, (next.get(k + pieces) ?? 0) + so * chance)
          }
          outcomes = next
        }
        const found = weightedDistributionOf(tosses)
        expect(found).toHaveLength(sum(tosses.map((toss) => toss.pieces)) + 1)
        for (const [k, value] of found.entries()) expect(value).toBeCloseTo(outcomes.get(k) ?? 0, 12)
        const { mean, deviation } = meanAndDeviation(tosses)
        expect(meanOf(found)).toBeCloseTo(mean, 8)
        expect(sum(found.map((chance, k) => chance * (k - mean) ** 2))).toBeCloseTo(deviation ** 2, 7)
      }),
    )
  })

  test('ORD-32 tosses for one piece each are the unweighted ones', () => {
    fc.assert(
      fc.property(someChances, (chances) => {
        const one = chances.map((chance) => ({ chance, pieces: 1 }))
        expect(weightedDistributionOf(one)).toEqual(distributionOf(chances))
      }),
    )
  })

  test('ORD-33 the shortage to be expected falls by the chance of needing more, piece by piece', () => {
    fc.assert(
      fc.property(someChances, (chances) => {
        const found = distributionOf(chances)
        const sums = cumulated(found)
        expect(expectedShortage(found, 0)).toBeCloseTo(sum(chances), 9)
        for (let k = 0; k < chances.length; k++)
          expect(expectedShortage(found, k) - expectedShortage(found, k + 1)).toBeCloseTo(1 - (sums[k] ?? 0), 9)
        expect(expectedShortage(found, chances.length)).toBe(0)
      }),
    )
  })
})

test('ORD-31 nothing to come needs nothing, and what is certain is needed in full', () => {
  expect(distributionOf([])).toEqual(Float64Array.of(1))
  expect(quantityAtServiceLevel(distributionOf([]), 0.99)).toBe(0)
  expect(quantityAtServiceLevel(distributionOf([1, 1, 1]), 0.99)).toBe(3)
  expect(quantityAtServiceLevel(weightedDistributionOf([{ chance: 1, pieces: 4 }]), 0.5)).toBe(4)
  expect(quantityAtServiceLevel(distributionOf([0.5, 0.5]), 0.75)).toBe(1)
  expect(quantityAtServiceLevel(distributionOf([0.5, 0.5]), 1)).toBe(2)
})

test('what is no chance, and no number of pieces, is not reckoned with', () => {
  expect(() => distributionOf([0.2, 1.1])).toThrow(RangeError)
  expect(() => distributionOf([Number.NaN])).toThrow(RangeError)
  expect(() => weightedDistributionOf([{ chance: 0.5, pieces: 0 }])).toThrow(RangeError)
  expect(() => weightedDistributionOf([{ chance: 0.5, pieces: 1.5 }])).toThrow(RangeError)
})
