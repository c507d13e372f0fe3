import { expect, test } from 'vitest'
import { dailyPace, reorderPoint } from '../../core/orders/reorder-point.ts'

// z of 1.65 in the textbooks below is the quantile of 0.9505285, not of 0.95
const Z_165 = 95.0528531

/** B. W. Taylor, Introduction to Management Science, ch. 16: 30 a day, deviation 5, lead time 10 days, z 1.65: R 326.09, stock 26.09. */
test('ORD-4 reorder point with changing demand, the textbook store', () => {
  const found = reorderPoint({
    dailyUse: 30,
    dailyDeviation: 5,
    leadDays: 10,
    leadDeviation: 0,
    serviceLevelPercent: Z_165,
  })
  expect(found.point).toBeCloseTo(326.09, 2)
  expect(found.safetyStock).toBeCloseTo(26.09, 2)
})

/** The same store with a lead time that strays by 3 days: constant demand 448.5, both straying 450.77 (formula; that the book prints them is from memory). */
test('ORD-4 reorder point with a supplier who is not punctual', () => {
  const common = { dailyUse: 30, leadDays: 10, leadDeviation: 3, serviceLevelPercent: Z_165 }
  expect(reorderPoint({ ...common, dailyDeviation: 0 }).point).toBeCloseTo(448.5, 1)
  expect(reorderPoint({ ...common, dailyDeviation: 5 }).point).toBeCloseTo(450.77, 1)
})

/** Render and Stair, constant demand 5 a day, lead time 3 days straying by 2, 95 % (z 1.65): safety stock 16.5, reorder point 31.5. */
test('ORD-4 reorder point with constant demand, the textbook part', () => {
  const found = reorderPoint({
    dailyUse: 5,
    dailyDeviation: 0,
    leadDays: 3,
    leadDeviation: 2,
    serviceLevelPercent: Z_165,
  })
  expect(found.safetyStock).toBeCloseTo(16.5, 2)
  expect(found.point).toBeCloseTo(31.5, 2)
})

test('the pace of days is their mean and sample deviation', () => {
  // NIST/SEMATECH e-Handbook, section 1.3.5.6 gives the sample standard deviation by n - 1; figures ours
  expect(dailyPace([2, 4, 4, 4, 5, 5, 7, 9])).toEqual({ mean: 5, deviation: Math.sqrt(32 / 7) })
  expect(dailyPace([3])).toEqual({ mean: 3, deviation: 0 })
  expect(dailyPace([])).toEqual({ mean: 0, deviation: 0 })
})
