import fc from 'fast-check'
import { expect, test } from 'vitest'
import { type CountedHeap, countDifference, movementOfDifference } from '../../core/stock/count-difference.ts'
import { onHand } from '../../core/stock/ledger.ts'
import { cents } from '../../core/units/money.ts'
import { lotId, placeId } from '../builders/a-pull.ts'

const heap = (own: Partial<CountedHeap> = {}): CountedHeap => ({
  lotId: lotId(1),
  placeId: placeId(1),
  counted: 7,
  booksSaid: 10,
  booksNow: 10,
  promised: 0,
  cost: cents(600),
  ...own,
})
const WORDS = { place: 'A-02-1', lot: '2607-031' }

test('STK-50 the difference stands against what the books said when it was counted; what moved since is kept', () => {
  expect(countDifference(heap())).toEqual({ difference: -3, value: -1800, movedSince: 0, willBe: 7, lacking: 0 })
  expect(countDifference(heap({ booksNow: 6 }))).toMatchObject({ difference: -3, movedSince: -4, willBe: 3 })
  expect(countDifference(heap({ counted: 12, booksNow: 14 }))).toMatchObject({ difference: 2, value: 1200, willBe: 16 })
  expect(countDifference(heap({ promised: 9 })).lacking).toBe(2)
  expect(countDifference(heap({ counted: 0, promised: 4, booksNow: 8 }))).toMatchObject({ willBe: -2, lacking: 4 })
})

test('STK-50 after the approval the books say what was counted and what moved since, or nothing is written', () => {
  fc.assert(
    fc.property(fc.nat(50), fc.nat(50), fc.nat(50), (counted, booksSaid, booksNow) => {
      const result = movementOfDifference(heap({ counted, booksSaid, booksNow }), WORDS)
      const expected = counted + (booksNow - booksSaid)
      expect(result.ok).toBe(expected >= 0)
      if (!result.ok) return
      const there = { lotId: lotId(1), fromPlaceId: null, toPlaceId: placeId(1), quantity: booksNow }
      const movements = [...(booksNow > 0 ? [there] : []), ...(result.value ? [result.value] : [])]
      expect(onHand(movements)[0]?.quantity ?? 0).toBe(expected)
    }),
  )
})

test('STK-50 a lot from which more left since than was counted is counted again', () => {
  const result = movementOfDifference(heap({ counted: 2, booksNow: 6 }), WORDS)
  expect(result.ok ? '' : result.problem.sentence).toBe(
    'Lot 2607-031 in A-02-1: 2 were counted, but 4 left by the books since.',
  )
})
