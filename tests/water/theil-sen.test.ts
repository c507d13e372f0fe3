import fc from 'fast-check'
import { TheilSenRegression } from 'ml-regression-theil-sen'
import { expect, test } from 'vitest'
import {
  BAND_CONFIDENCE,
  kendallVariance,
  type Point,
  shareWithFewInversions,
  theilSen,
} from '../../core/water/theil-sen.ts'

const points = (xs: readonly number[], ys: readonly number[]): Point[] =>
  xs.map((x, index) => ({ x, y: ys[index] ?? 0 }))
const Z_95 = 1.959963984540054

function fitted(all: readonly Point[], z?: number) {
  const line = theilSen(all, z)
  if (!line) throw new Error('No line through these points')
  return line
}

test('WAT-4 the textbook case of five years: the slopes by hand, their middle, and the band', () => {
  // Hollander, Wolfe & Chicken, Nonparametric Statistical Methods, Example 9.1 (cloud seeding). The ten slopes by hand, sorted:
  // -0.15 -0.13 -0.08 -0.07 -0.0575 -0.055 -0.045 -0.0333 0.01 0.04, so the middle is -0.05625.
  const seeding = points([1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03])
  const line = fitted(seeding)
  expect(line.slope).toBeCloseTo(-0.05625, 12)
  expect(line.intercept).toBeCloseTo(1.31625, 12)
  // S varies by 5 x 4 x 15 / 18; 90 % leaves out one slope at each end, 95 % none (scipy 1.17.1, stats.theilslopes, joint, gives the same).
  expect(kendallVariance(seeding)).toBeCloseTo(50 / 3, 12)
  expect([line.lowest.slope, line.highest.slope]).toEqual([expect.closeTo(-0.13, 12), expect.closeTo(0.01, 12)])
  const wide = fitted(seeding, Z_95)
  expect([wide.lowest.slope, wide.highest.slope]).toEqual([expect.closeTo(-0.15, 12), expect.closeTo(0.04, 12)])
})

test('WAT-4 a published example with ties', () => {
  // R package statpsych, ci.theil, its own example: 0.5 with 95 % limits 0.3243243 and 0.75.
  const line = fitted(
    points(
      [67, 28, 30, 28, 52, 40, 25, 37, 44, 10, 14, 20, 28, 40, 51],
      [21, 4, 9, 12, 35, 18, 10, 22, 24, 1, 6, 8, 13, 16, 19],
    ),
    Z_95,
  )
  expect(line.slope).toBeCloseTo(0.5, 12)
  expect(line.lowest.slope).toBeCloseTo(0.3243243, 7)
  expect(line.highest.slope).toBeCloseTo(0.75, 12)
})

// scipy 1.17.1, stats.theilslopes(y, x, alpha=0.9, method='joint').
test.each([
  {
    what: 'one wild reading',
    x: [0, 121, 305, 480, 702, 811, 1004, 1190],
    y: [94.1, 93.6, 92.9, 60, 91.2, 90.9, 90.1, 88.7],
    expected: [-0.004068265705372071, 94.09613007517501, -0.00474576271186441, -0.0038043478260868947],
  },
  {
    what: 'several readings on a day',
    x: [0, 0, 180, 180, 365, 400, 400],
    y: [95, 94, 93, 93, 91, 92, 90],
    expected: [-0.010405405405405407, 94.87297297297297, -0.0125, -0.005],
  },
  {
    what: 'many equal readings',
    x: [0, 100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100],
    y: [95, 95, 94, 94, 94, 93, 92, 92, 91, 91, 90, 88],
    expected: [-0.005, 95.25, -0.006666666666666667, -0.005],
  },
  {
    what: 'three readings',
    x: [0, 365, 730],
    y: [94, 91, 87],
    expected: [-0.009589041095890411, 94, -0.010958904109589041, -0.00821917808219178],
  },
])('WAT-4 the same as a reference library: $what', ({ x, y, expected }) => {
  const line = fitted(points(x, y))
  expect([line.slope, line.intercept, line.lowest.slope, line.highest.slope]).toEqual(
    expected.map((value) => expect.closeTo(value, 12)),
  )
})

test('WAT-4 fewer than three points, or all on one day, show no trend', () => {
  expect(theilSen(points([0, 1], [3, 4]))).toBeNull()
  expect(theilSen([])).toBeNull()
  expect(theilSen(points([7, 7, 7, 7], [3, 4, 5, 9]))).toBeNull()
})

test('WAT-5 the band says how often it holds: three points two times in three, five nine times in ten', () => {
  // Among the 3! orders one has no inversion: 1 - 2/6. Among the 4! one: 1 - 2/24. Among the 5! five have at most one: 1 - 10/120.
  expect(fitted(points([0, 1, 2], [3, 2, 0])).confidence).toBeCloseTo(2 / 3, 12)
  expect(fitted(points([0, 1, 2, 3], [9, 7, 2, 0])).confidence).toBeCloseTo(11 / 12, 12)
  expect(fitted(points([0, 1, 2, 3, 4], [9, 7, 6, 2, 0])).confidence).toBeCloseTo(11 / 12, 12)
  expect(fitted(points([0, 1, 2, 3], [9, 9, 2, 0])).confidence).toBe(BAND_CONFIDENCE)
})

/** All orders of n things and how many inversions each has: the count by another way. */
function inversionsOfAllOrders(n: number): number[] {
  const orders = (rest: readonly number[]): number[][] =>
    rest.length === 0
      ? [[]]
      : rest.flatMap((one) => orders(rest.filter((other) => other !== one)).map((o) => [one, ...o]))
  return orders(Array.from({ length: n }, (_, index) => index)).map((order) =>
    order.reduce((sum, one, at) => sum + order.slice(at + 1).filter((later) => later < one).length, 0),
  )
}

test.each([2, 3, 4, 5, 6])('WAT-5 the share of orders with few inversions, counted out for %d things', (n) => {
  const all = inversionsOfAllOrders(n)
  for (let most = 0; most <= (n * (n - 1)) / 2; most++)
    expect(shareWithFewInversions(n, most)).toBeCloseTo(all.filter((count) => count <= most).length / all.length, 12)
})

const someReadings = fc
  .uniqueArray(fc.tuple(fc.integer({ min: 0, max: 4000 }), fc.integer({ min: 400, max: 990 })), {
    minLength: 3,
    maxLength: 24,
    selector: ([x]) => x,
  })
  .map((pairs) => pairs.map(([x, y]) => ({ x, y: y / 10 })))

test('WAT-4 adding a line to the readings adds its slope, nothing else', () => {
  fc.assert(
    fc.property(someReadings, fc.integer({ min: -50, max: 50 }), fc.integer({ min: -90, max: 90 }), (all, b, a) => {
      const [plain, tilted] = [fitted(all), fitted(all.map(({ x, y }) => ({ x, y: y + a + (b * x) / 100 })))]
      expect(tilted.slope).toBeCloseTo(plain.slope + b / 100, 8)
      expect(tilted.intercept).toBeCloseTo(plain.intercept + a, 6)
    }),
  )
})

test('WAT-4 another unit or another first day changes the figures, not the line', () => {
  fc.assert(
    fc.property(someReadings, fc.integer({ min: 1, max: 40 }), fc.integer({ min: -2000, max: 2000 }), (all, k, d) => {
      const plain = fitted(all)
      const moved = fitted(all.map(({ x, y }) => ({ x: k * x + d, y: -2 * y })))
      expect(moved.slope).toBeCloseTo((-2 * plain.slope) / k, 8)
      expect(moved.intercept + moved.slope * d).toBeCloseTo(-2 * plain.intercept, 5)
      // Turned upside down, the lowest becomes the highest.
      expect(moved.lowest.slope).toBeCloseTo((-2 * plain.highest.slope) / k, 8)
      expect(moved.highest.slope).toBeCloseTo((-2 * plain.lowest.slope) / k, 8)
    }),
  )
})

test('WAT-4 the band holds the slope, and the order of the readings does not matter', () => {
  fc.assert(
    fc.property(someReadings, (all) => {
      const line = fitted(all)
      expect(line.lowest.slope).toBeLessThanOrEqual(line.slope)
      expect(line.highest.slope).toBeGreaterThanOrEqual(line.slope)
      expect(fitted([...all].reverse())).toEqual(line)
    }),
  )
})

test('WAT-4 up to 29 readings of a hundred may be anything', () => {
  fc.assert(
    fc.property(
      fc.integer({ min: 7, max: 30 }),
      fc.array(fc.tuple(fc.nat(), fc.integer({ min: -1_000_000, max: 1_000_000 })), { minLength: 30, maxLength: 30 }),
      fc.integer({ min: -20, max: 20 }),
      (n, wild, slope) => {
        const all = Array.from({ length: n }, (_, x) => ({ x, y: 90 + slope * x }))
        // With m of n wild, the true slopes are the majority while (n - m)(n - m - 1) > n (n - 1) / 2: m below 29 % of n.
        let spoilt = 0
        while ((n - spoilt - 1) * (n - spoilt - 2) > (n * (n - 1)) / 2) spoilt++
        for (const [place, value] of wild.slice(0, spoilt)) {
          const x = place % n
          all[x] = { x, y: value }
        }
        expect(fitted(all).slope).toBeCloseTo(slope, 9)
      },
    ),
  )
})

test('WAT-4 the same line as a library that others wrote, on any readings', () => {
  // Of an even number of values that library takes the lower middle one, so the counts here are those with odd numbers of points and of slopes.
  const odd = fc.constantFrom(3, 7, 11, 15, 19)
  const days = fc.integer({ min: 0, max: 200 })
  const percents = fc.integer({ min: 400, max: 990 })
  const some = odd.chain((n) => fc.array(fc.tuple(days, percents), { minLength: n, maxLength: n }))
  fc.assert(
    fc.property(some, (pairs) => {
      const all = pairs.map(([gap, tenths], at) => ({ x: 300 * at + gap, y: tenths / 10 }))
      const theirs = new TheilSenRegression(
        all.map(({ x }) => x),
        all.map(({ y }) => y),
      )
      expect(fitted(all).slope).toBeCloseTo(theirs.slope, 12)
      expect(fitted(all).intercept).toBeCloseTo(theirs.intercept, 9)
    }),
    { numRuns: 300 },
  )
})

/** Numbers that scatter as the bell curve does, always the same ones: a linear congruential sequence (Numerical Recipes) through Box and Muller. */
function* bell(seed: number): Generator<number, never> {
  let state = seed
  const even = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0
    return (state + 0.5) / 2 ** 32
  }
  for (;;) yield Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even())
}

test.each([3, 4, 5, 7, 10])(
  'WAT-5 made-up membranes with %d readings: the band holds the true slope as often as it says',
  (n) => {
    const scatter = bell(20_261_125 + n)
    const trials = 3000
    let [held, said] = [0, 0]
    for (let trial = 0; trial < trials; trial++) {
      const line = fitted(Array.from({ length: n }, (_, x) => ({ x, y: 95 - 2 * x + 1.5 * scatter.next().value })))
      if (line.lowest.slope <= -2 && -2 <= line.highest.slope) held++
      said = line.confidence
    }
    // Three standard deviations of such a count.
    expect(Math.abs(held / trials - said)).toBeLessThan(3 * Math.sqrt((said * (1 - said)) / trials))
  },
)
