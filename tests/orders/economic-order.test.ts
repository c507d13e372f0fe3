import fc from 'fast-check'
import { expect, test } from 'vitest'
import { economicOrder, yearlyOrderingCost } from '../../core/orders/economic-order.ts'

test('ORD-35 the textbook quantity and its cost', () => {
  // L. V. Snyder and Z.-J. M. Shen, Fundamentals of Supply Chain Theory, 2nd ed., example 3.1 (figures as carried in the docstrings of stockpyl, MIT)
  const found = economicOrder({ orderCost: 8, holdingCost: 0.225, yearlyUse: 1300 })
  expect(found.quantity).toBeCloseTo(304.0467800264368, 10)
  expect(found.yearlyCost).toBeCloseTo(68.41052550594829, 10)
  expect(found.waitingShare).toBe(0)
})

test('ORD-35 a second textbook: quantity, whole cost, turns', () => {
  // R. Rossi, Inventory Analytics, 2021 (figures in the tests of inventoryanalytics, MIT): K 3.2, h 0.24, 2400 a year at 0.40 a piece
  const purchase = { orderCost: 3.2, holdingCost: 0.24, yearlyUse: 2400 }
  const found = economicOrder(purchase)
  expect(found.quantity).toBeCloseTo(252.98221281347034, 10)
  expect(found.yearlyCost).toBeCloseTo(60.7157, 4)
  expect(found.yearlyCost + 2400 * 0.4).toBeCloseTo(1020.72, 2)
  expect(2400 / (found.quantity / 2)).toBeCloseTo(18.97, 2)
})

test('ORD-35 the textbook quantity where a customer may wait', () => {
  // Snyder and Shen, example 3.8
  const found = economicOrder({ orderCost: 8, holdingCost: 0.225, yearlyUse: 1300, waitingCost: 5 })
  expect(found.quantity).toBeCloseTo(310.81255515896464, 10)
  expect(found.waitingShare).toBeCloseTo(0.0430622009569378, 12)
  expect(found.yearlyCost).toBeCloseTo(66.92136355097325, 10)
})

const above0 = fc.double({ min: 0.01, max: 1e4, noNaN: true })

test('ORD-35 no other quantity costs less in a year', () => {
  fc.assert(
    fc.property(above0, above0, above0, fc.double({ min: 0.1, max: 10, noNaN: true }), (order, keep, use, other) => {
      const purchase = { orderCost: order, holdingCost: keep, yearlyUse: use }
      const best = economicOrder(purchase)
      expect(yearlyOrderingCost(purchase, best.quantity) / best.yearlyCost).toBeCloseTo(1, 9)
      expect(yearlyOrderingCost(purchase, best.quantity * other)).toBeGreaterThanOrEqual(best.yearlyCost * (1 - 1e-12))
    }),
  )
})

test('ORD-35 planned waiting costs less the cheaper it is, and without bound nothing waits', () => {
  fc.assert(
    fc.property(above0, above0, above0, above0, (orderCost, holdingCost, yearlyUse, waitingCost) => {
      const plain = economicOrder({ orderCost, holdingCost, yearlyUse })
      const waits = economicOrder({ orderCost, holdingCost, yearlyUse, waitingCost })
      expect(waits.yearlyCost).toBeLessThanOrEqual(plain.yearlyCost)
      expect(waits.quantity).toBeGreaterThanOrEqual(plain.quantity)
      const hardly = economicOrder({ orderCost, holdingCost, yearlyUse, waitingCost: waitingCost * 1e9 })
      expect(hardly.quantity / plain.quantity).toBeCloseTo(1, 3)
    }),
  )
})

test('nothing used orders nothing, and keeping is never free', () => {
  expect(economicOrder({ orderCost: 8, holdingCost: 1, yearlyUse: 0 }).quantity).toBe(0)
  expect(() => economicOrder({ orderCost: 8, holdingCost: 0, yearlyUse: 10 })).toThrow(RangeError)
  expect(() => economicOrder({ orderCost: 8, holdingCost: 1, yearlyUse: 10, waitingCost: 0 })).toThrow(RangeError)
})
