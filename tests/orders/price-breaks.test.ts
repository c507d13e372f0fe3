import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  cheapestOrder,
  cheapestYearly,
  type OneOrder,
  orderCandidates,
  priceAt,
  yearlyCandidates,
} from '../../core/orders/price-breaks.ts'

test('ORD-36 all-units discounts over a year, the textbook case', () => {
  // R. Rossi, Inventory Analytics, with the data of Snyder and Shen: K 8, i 0.3, 1300 a year, 0.75 / 0.72 / 0.68 from 0 / 400 / 800
  const candidates = yearlyCandidates({
    orderCost: 8,
    holdingShare: 0.3,
    yearlyUse: 1300,
    breaks: [
      { from: 0, price: 0.75 },
      { from: 400, price: 0.72 },
      { from: 800, price: 0.68 },
    ],
  })
  expect(candidates.map((each) => each.quantity)).toEqual([expect.closeTo(304.0468, 4), 400, 800])
  expect(candidates.map((each) => each.yearlyCost)).toEqual([
    expect.closeTo(1043.4105, 4),
    expect.closeTo(1005.2, 10),
    expect.closeTo(978.6, 10),
  ])
  expect(cheapestYearly(candidates)).toMatchObject({ quantity: 800, price: 0.68 })
})

test('ORD-36 all-units discounts over a year, a second case', () => {
  // The docstrings of stockpyl (MIT), economic order quantity with all-units discounts; its last price is a mean cost of 472,900 a year
  const candidates = yearlyCandidates({
    orderCost: 200,
    holdingShare: 0.2,
    yearlyUse: 1000,
    breaks: [
      { from: 500, price: 450 },
      { from: 0, price: 500 },
      { from: 200, price: 475 },
    ],
  })
  expect(candidates.map((each) => each.yearlyCost)).toEqual([
    expect.closeTo(506_324.56, 2),
    expect.closeTo(485_500, 6),
    expect.closeTo(472_900, 6),
  ])
  expect(cheapestYearly(candidates)?.quantity).toBe(500)
})

const somePrices = fc
  .array(fc.record({ from: fc.integer({ min: 2, max: 900 }), price: fc.integer({ min: 1, max: 2000 }) }), {
    maxLength: 4,
  })
  .map((steps) => [
    { from: 1, price: 1500 },
    ...steps.filter((step, at) => steps.findIndex((s) => s.from === step.from) === at),
  ])

test('ORD-36 no whole quantity costs less in a year than the cheapest candidate, tried one by one', () => {
  fc.assert(
    fc.property(
      somePrices,
      fc.integer({ min: 1, max: 800 }),
      fc.integer({ min: 1, max: 9000 }),
      (breaks, use, orderCost) => {
        const best = cheapestYearly(yearlyCandidates({ orderCost, holdingShare: 0.25, yearlyUse: use, breaks }))
        const tried = Array.from({ length: 1200 }, (_, at) => {
          const price = priceAt(breaks, at + 1)
          return price * use + (orderCost * use) / (at + 1) + (0.25 * price * (at + 1)) / 2
        })
        expect(best?.yearlyCost).toBeLessThanOrEqual(Math.min(...tried) * (1 + 1e-9))
      },
    ),
    { numRuns: 40 },
  )
})

const filters: OneOrder = {
  need: 90,
  packSize: 10,
  minimumQuantity: 0,
  most: null,
  breaks: [
    { from: 1, price: 1000 },
    { from: 100, price: 900 },
    { from: 500, price: 850 },
  ],
  holdingShare: 0.2,
  daysCovered: 30,
  dailyUse: 3,
}

test('ORD-37 ten more pieces that lower the price of all are bought, four hundred more are not', () => {
  const candidates = orderCandidates(filters)
  expect(candidates.map((each) => each.quantity)).toEqual([90, 100, 500])
  expect(candidates[0]).toMatchObject({ paid: 90_000, kept: 0, spared: 0, cost: 90_000 })
  // 100 for 90,000; ten kept for 30 days and then 1⅔ on average at 20 % a year; they spare ten at 1000 later
  expect(candidates[1]?.paid).toBe(90_000)
  expect(candidates[1]?.kept).toBeCloseTo((10 * 900 * 0.2 * (30 + 10 / 3 / 2)) / 365, 9)
  expect(candidates[1]?.spared).toBe(10_000)
  expect(cheapestOrder(candidates)?.quantity).toBe(500)
  // With the rent of dear money four hundred more eat up what they save
  expect(cheapestOrder(orderCandidates({ ...filters, holdingShare: 0.9 }))?.quantity).toBe(100)
})

test('ORD-37 pieces that nobody will use spare nothing, and none are bought past their date', () => {
  const unused = orderCandidates({ ...filters, dailyUse: 0 })
  // A hundred at 900 is as much money as ninety at 1000, and keeping the ten costs more
  expect(unused.map((each) => each.spared)).toEqual([0, 0, 0])
  expect(cheapestOrder(unused)?.quantity).toBe(90)
  expect(cheapestOrder(orderCandidates({ ...filters, dailyUse: 0, need: 95, packSize: 1 }))?.quantity).toBe(100)
  expect(orderCandidates({ ...filters, most: 120 }).map((each) => each.quantity)).toEqual([90, 100])
  expect(orderCandidates({ ...filters, most: 95 }).map((each) => each.quantity)).toEqual([90])
})

test('ORD-37 packs and minimums come first, and nothing needed buys nothing', () => {
  expect(orderCandidates({ ...filters, need: 0 })).toEqual([])
  expect(cheapestOrder([])).toBeNull()
  expect(orderCandidates({ ...filters, need: 13, packSize: 12, breaks: filters.breaks.slice(0, 1) })[0]?.quantity).toBe(
    24,
  )
  // A box of 12 whose contents will not all be used in time is bought all the same; two of the three past the date spare nothing
  const forced = orderCandidates({ ...filters, need: 9, packSize: 12, most: 10, breaks: filters.breaks.slice(0, 1) })
  expect(forced).toMatchObject([{ quantity: 12, paid: 12_000, spared: 1000 }])
  expect(orderCandidates({ ...filters, need: 1, minimumQuantity: 25 })[0]?.quantity).toBe(30)
})

test('ORD-37 the cheapest way never costs more than just what is missing, and a lower price never more than a higher', () => {
  fc.assert(
    fc.property(
      somePrices,
      fc.integer({ min: 1, max: 300 }),
      fc.integer({ min: 1, max: 24 }),
      (breaks, need, packSize) => {
        const order = { ...filters, breaks, need, packSize }
        const candidates = orderCandidates(order)
        const best = cheapestOrder(candidates)
        expect(best?.cost).toBeLessThanOrEqual(candidates[0]?.cost ?? Number.NaN)
        for (const each of candidates) {
          expect(each.quantity % packSize).toBe(0)
          expect(each.quantity).toBeGreaterThanOrEqual(need)
          expect(each.price).toBe(priceAt(breaks, each.quantity))
        }
        expect(new Set(candidates.map((each) => each.quantity)).size).toBe(candidates.length)
      },
    ),
  )
})

test('a part that is sold has a price', () => {
  expect(priceAt([{ from: 10, price: 7 }], 3)).toBe(7)
  expect(() => priceAt([], 3)).toThrow(RangeError)
})
