import fc from 'fast-check'
import { expect, test } from 'vitest'
import { nextBreak, packHint, packsInWords, priceForQuantity } from '../../core/orders/order-quantity.ts'
import { differenceWords, priceDifference } from '../../core/orders/price-difference.ts'
import { cents } from '../../core/units/money.ts'

/**
 * Breaks 0/400/800 at 0.75/0.72/0.68, all-units: the data of Rossi, Inventory Analytics, and of Snyder and Shen, Fundamentals of
 * Supply Chain Theory, chapter 3, in cents.
 */
const ALL_UNITS = {
  price: cents(75),
  breaks: [
    { from: 800, price: cents(68) },
    { from: 400, price: cents(72) },
  ],
}

test('ORD-72 every piece has the price of the highest break that is reached', () => {
  const price = (quantity: number) => priceForQuantity(ALL_UNITS, quantity)
  expect([1, 399, 400, 799, 800, 5000].map(price)).toEqual([75, 75, 72, 72, 68, 68])
})

test('ORD-72 the next break says what is missing to it and what it costs or saves', () => {
  // 390 x 0.75 = 292.50 against 400 x 0.72 = 288.00
  expect(nextBreak(ALL_UNITS, 390)).toEqual({ from: 400, price: 72, more: 10, costs: -450 })
  // 100 x 0.75 = 75.00 against 288.00
  expect(nextBreak(ALL_UNITS, 100)).toEqual({ from: 400, price: 72, more: 300, costs: 21_300 })
  expect(nextBreak(ALL_UNITS, 800)).toBeNull()
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 1200 }), (quantity) => {
      const next = nextBreak(ALL_UNITS, quantity)
      expect(next === null).toBe(quantity >= 800)
      if (next === null) return
      expect(quantity + next.more).toBe(next.from)
      expect(priceForQuantity(ALL_UNITS, next.from)).toBe(next.price)
      expect(priceForQuantity(ALL_UNITS, next.from - 1)).toBeGreaterThan(next.price)
      expect(next.costs).toBe(next.from * next.price - quantity * priceForQuantity(ALL_UNITS, quantity))
    }),
  )
})

test('ORD-73 a quantity that is not sold says which are', () => {
  const packs = { packSize: 6, minimumQuantity: 0 }
  expect(packHint(packs, 12)).toBeNull()
  expect(packHint(packs, 0)).toBeNull()
  expect(packHint(packs, 13)).toEqual({ words: 'Sold in packs of 6.', instead: [12, 18] })
  expect(packHint(packs, 4)).toEqual({ words: 'Sold in packs of 6.', instead: [6] })
  expect(packHint({ packSize: 6, minimumQuantity: 20 }, 12)).toEqual({
    words: 'At least 20 pieces are sold at once.',
    instead: [24],
  })
  expect(packsInWords(24, 12)).toBe('2 packs of 12')
  expect(packsInWords(12, 12)).toBe('1 pack of 12')
  expect(packsInWords(7, 12)).toBe('7 pieces')
  fc.assert(
    fc.property(
      fc.integer({ min: 1, max: 500 }),
      fc.integer({ min: 1, max: 24 }),
      fc.integer({ min: 0, max: 60 }),
      (quantity, packSize, minimumQuantity) => {
        const hint = packHint({ packSize, minimumQuantity }, quantity)
        expect(hint === null).toBe(quantity % packSize === 0 && quantity >= minimumQuantity)
        for (const instead of hint?.instead ?? []) expect(packHint({ packSize, minimumQuantity }, instead)).toBeNull()
      },
    ),
  )
})

test('ORD-83 a difference is a piece, in percent of what was ordered, and in all', () => {
  // 0.40 on 6.00 is 6.666... %
  expect(priceDifference(cents(600), cents(640), 12)).toEqual({ each: 40, all: 480, perMille: 67 })
  expect(priceDifference(cents(600), cents(540), 10)).toEqual({ each: -60, all: -600, perMille: -100 })
  expect(priceDifference(cents(600), cents(600), 12)).toBeNull()
  expect(priceDifference(cents(0), cents(50), 2)).toEqual({ each: 50, all: 100, perMille: null })
  const dollars = { currency: 'USD', locale: 'en-US' }
  const words = (ordered: number, charged: number, pieces: number) => {
    const difference = priceDifference(cents(ordered), cents(charged), pieces)
    return difference && differenceWords(difference, pieces, dollars)
  }
  expect(words(600, 640, 12)).toBe('$0.40 more a piece (6.7 %), $4.80 on 12 pieces')
  expect(words(600, 540, 1)).toBe('$0.60 less a piece (10.0 %)')
  expect(words(0, 50, 2)).toBe('$0.50 more a piece, $1.00 on 2 pieces')
})
