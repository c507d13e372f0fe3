import below from '@stdlib/stats-base-dists-normal-cdf'
import quantile from '@stdlib/stats-base-dists-normal-quantile'
import fc from 'fast-check'
import { expect, test } from 'vitest'
import { normalBelow, normalDensity, normalLoss, normalQuantile } from '../../core/orders/normal.ts'

const relative = (value: number, of: number) => Math.abs(value - of) / Math.abs(of)

/** The usual printed table, to ten digits with @stdlib/stats-base-dists-normal-quantile 0.3.1 (Apache-2.0). */
const TABLE = [
  [0.75, 0.6744897502],
  [0.8, 0.8416212336],
  [0.9, 1.2815515655],
  [0.95, 1.644853627],
  [0.975, 1.9599639845],
  [0.98, 2.0537489106],
  [0.99, 2.326347874],
  [0.995, 2.5758293035],
  [0.999, 3.0902323062],
] as const

test.each(TABLE)('ORD-34 the normal quantile of %d is %d, and below the middle its mirror', (share, z) => {
  expect(normalQuantile(share)).toBeCloseTo(z, 9)
  expect(normalQuantile(1 - share)).toBeCloseTo(-z, 9)
})

test('ORD-34 the chance below and the quantile are those of a reference library', () => {
  // @stdlib/stats-base-dists-normal-cdf and -quantile 0.3.1
  for (let z = -9; z <= 9; z += 0.01) expect(relative(normalBelow(z), below(z, 0, 1))).toBeLessThan(2e-13)
  for (let share = 0.0005; share < 1; share += 0.0005)
    expect(Math.abs(normalQuantile(share) - quantile(share, 0, 1))).toBeLessThan(
      1e-13 * (1 + 9 * Math.abs(quantile(share, 0, 1))),
    )
  // Further out that library's quantile keeps seven digits; these are scipy 1.17.1, stats.norm.ppf
  expect(normalQuantile(1e-5)).toBeCloseTo(-4.264890793922825, 13)
  expect(normalQuantile(1e-8)).toBeCloseTo(-5.612001244174789, 13)
  expect(normalQuantile(1e-12)).toBeCloseTo(-7.034483825301131, 13)
  expect(normalBelow(40)).toBe(1)
  expect(normalBelow(-40)).toBe(0)
})

test('ORD-34 the quantile and the chance below undo one another', () => {
  fc.assert(
    fc.property(fc.double({ min: 1e-9, max: 1 - 1e-9, noNaN: true }), (share) => {
      expect(normalBelow(normalQuantile(share))).toBeCloseTo(share, 13)
    }),
  )
})

/** Unit normal loss to ten digits; reckoned with the reference library above. L(1.3) = 0.04552796208651397 also stands in the docstrings of stockpyl (MIT). */
const LOSS = [
  [0, 0.3989422804],
  [0.5, 0.1977965574],
  [1, 0.0833154706],
  [1.3, 0.0455279621],
  [1.645, 0.0208856415],
  [1.96, 0.0094450698],
  [2.33, 0.0033523194],
  [3, 0.0003821543],
] as const

test.each(LOSS)('ORD-34 the unit loss at %d is %d', (z, loss) => {
  expect(normalLoss(z)).toBeCloseTo(loss, 10)
  // What is missed above and what is left below differ by z
  expect(normalLoss(-z)).toBeCloseTo(loss + z, 10)
})

test('ORD-34 far out the loss is still the area under the chance of more', () => {
  expect(normalLoss(1.3)).toBeCloseTo(0.04552796208651397, 15)
  for (const z of [2, 2.0001, 4, 6]) {
    // Simpson's rule over what the reference library says of the tail
    const steps = 4000
    const width = 12 / steps
    let area = below(-z, 0, 1)
    for (let k = 1; k < steps; k++) area += (k % 2 === 1 ? 4 : 2) * below(-(z + k * width), 0, 1)
    expect(relative(normalLoss(z), (area * width) / 3)).toBeLessThan(1e-9)
  }
  expect(normalLoss(40)).toBe(0)
  expect(normalDensity(0)).toBeCloseTo(1 / Math.sqrt(2 * Math.PI), 16)
})

test('the normal quantile is refused outside 0 and 1', () => {
  expect(() => normalQuantile(0)).toThrow(RangeError)
  expect(() => normalQuantile(1)).toThrow(RangeError)
  expect(() => normalQuantile(Number.NaN)).toThrow(RangeError)
  expect(() => normalBelow(Number.NaN)).toThrow(RangeError)
})
