import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkStockValue } from '../../core/stock/check-stock-value.ts'
import { type Delivery, type Heap, valueHeaps, valueOfLot } from '../../core/stock/stock-value.ts'
import type { LotId, PlaceId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

const lot = (id: number) => id as LotId
const place = (id: number) => id as PlaceId
const came = (id: number, pieces: number, price: number): Delivery => ({ lotId: lot(id), pieces, price: cents(price) })

test('STK-60 the worked example of a textbook: what is left came last', () => {
  // OpenStax, Principles of Accounting, volume 1, chapter 10, first in first out (from memory): 150 units at $21 to begin with, bought 225 at
  // $27 and 210 at $33, sold 300; the 285 that are left have cost $8,955 and those sold $7,200.
  const bought = [came(1, 150, 2100), came(1, 225, 2700), came(1, 210, 3300)]
  expect(valueOfLot(285, bought, cents(0))).toBe(895_500)
  expect(valueOfLot(585, bought, cents(0)) - valueOfLot(285, bought, cents(0))).toBe(720_000)
})

test('STK-60 what no delivery line tells of is the oldest and has the cost of its lot', () => {
  expect(valueOfLot(12, [came(1, 5, 1100), came(1, 4, 1300)], cents(900))).toBe(3 * 900 + 5 * 1100 + 4 * 1300)
  expect(valueOfLot(7, [], cents(900))).toBe(6300)
  expect(valueOfLot(0, [came(1, 5, 1100)], cents(900))).toBe(0)
})

test('STK-60 a lot in two places is worth the same as in one, shared by pieces to the cent', () => {
  const heaps: Heap[] = [
    { lotId: lot(1), placeId: place(7), quantity: 2 },
    { lotId: lot(2), placeId: place(7), quantity: 1 },
    { lotId: lot(1), placeId: place(9), quantity: 1 },
  ]
  const costs = new Map([
    [lot(1), cents(1000)],
    [lot(2), cents(555)],
  ])
  const valued = valueHeaps(heaps, [came(1, 1, 1001)], costs)
  // 1000 + 1000 + 1001 = 3001: two thirds and one third
  expect(valued.map((heap) => heap.value)).toEqual([2001, 555, 1000])
})

const deliveries = fc.array(
  fc.record({
    lotId: fc.integer({ min: 1, max: 4 }).map(lot),
    pieces: fc.integer({ min: 0, max: 30 }),
    price: fc.integer({ min: 0, max: 9999 }).map(cents),
  }),
  { maxLength: 12 },
)
const heaps = fc.uniqueArray(
  fc.record({
    lotId: fc.integer({ min: 1, max: 4 }).map(lot),
    placeId: fc.integer({ min: 1, max: 5 }).map(place),
    quantity: fc.integer({ min: 1, max: 40 }),
  }),
  { maxLength: 12, selector: (heap) => `${heap.lotId}/${heap.placeId}` },
)
const costs = new Map([1, 2, 3, 4].map((id) => [lot(id), cents(100 * id + 1)]))

test('STK-60 every heap is worth what a queue of its lot’s pieces leaves, says the judge', () => {
  fc.assert(
    fc.property(heaps, deliveries, (lying, arrived) => {
      expect(checkStockValue(lying, arrived, costs, valueHeaps(lying, arrived, costs))).toEqual([])
    }),
  )
})

test('the judge of a stock value finds a cent too many, another heap and a cent on the wrong place', () => {
  const lying: Heap[] = [
    { lotId: lot(1), placeId: place(1), quantity: 3 },
    { lotId: lot(1), placeId: place(2), quantity: 3 },
  ]
  const right = valueHeaps(lying, [], costs)
  const [first, second] = right
  if (!first || !second) throw new Error('Two heaps have two values')
  expect(checkStockValue(lying, [], costs, right)).toEqual([])
  expect(checkStockValue(lying, [], costs, [{ ...first, value: cents(first.value + 1) }, second])).not.toEqual([])
  expect(checkStockValue(lying, [], costs, [second, first])).not.toEqual([])
  expect(checkStockValue(lying, [], costs, [first])).not.toEqual([])
  const shifted = [
    { ...first, value: cents(first.value + 2) },
    { ...second, value: cents(second.value - 2) },
  ]
  expect(checkStockValue(lying, [], costs, shifted)).not.toEqual([])
})
