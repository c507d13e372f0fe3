import currencyCodes from 'currency-codes'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import {
  addCents,
  cents,
  divideHalfAwayFromZero,
  formatCents,
  formatTaxRate,
  minorDigits,
  negateCents,
  parseCents,
  splitCents,
  subtractCents,
  taxRate,
} from '../../core/units/money.ts'

describe('amounts', () => {
  test('UNIT-7 an amount is a whole number of cents', () => {
    expect(() => cents(0.5)).toThrow(RangeError)
    expect(() => cents(Number.MAX_SAFE_INTEGER + 1)).toThrow(RangeError)
    expect(Object.is(cents(-0), 0)).toBe(true)
    expect(addCents(cents(10), cents(20), cents(-5))).toBe(25)
    expect(subtractCents(cents(10), cents(25))).toBe(-15)
    expect(negateCents(cents(10))).toBe(-10)
  })

  test('UNIT-8 a split loses no cent, and no share is more than a cent from its due', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -10_000_000, max: 10_000_000 }),
        fc
          .array(fc.integer({ min: 0, max: 1000 }), { minLength: 1, maxLength: 12 })
          .filter((weights) => weights.some((w) => w > 0)),
        (amount, weights) => {
          const parts = splitCents(cents(amount), weights)
          const total = weights.reduce((sum, weight) => sum + weight, 0)
          expect(addCents(...parts)).toBe(amount)
          parts.forEach((part, index) => {
            expect(Math.abs(part - (amount * (weights[index] ?? 0)) / total)).toBeLessThan(1)
          })
        },
      ),
      { numRuns: 2000 },
    )
    expect(splitCents(cents(100), [1, 1, 1])).toEqual([34, 33, 33])
    expect(() => splitCents(cents(100), [0, 0])).toThrow(RangeError)
    expect(() => splitCents(cents(100), [1, -1])).toThrow(RangeError)
  })

  test('UNIT-9 a half is rounded away from zero, on both sides of it', () => {
    // EN 16931 example "BIS3_Invoice_positive" and its negative twin: 625 743.54 x 25 % = 156 435.885, printed as 156 435.89.
    expect(divideHalfAwayFromZero(62_574_354n * 25n, 100n)).toBe(15_643_589)
    expect(divideHalfAwayFromZero(-62_574_354n * 25n, 100n)).toBe(-15_643_589)
    // EN 16931 "ubl-tc434-example2": 1 460.50 x 25 % = 365.125, printed as 365.13; rounding to even would give 365.12.
    expect(divideHalfAwayFromZero(146_050n * 25n, 100n)).toBe(36_513)
    expect(divideHalfAwayFromZero(1n, 3n)).toBe(0)
    expect(() => divideHalfAwayFromZero(1n, 0n)).toThrow(RangeError)
  })

  test('UNIT-9 rounding agrees with whole-number arithmetic on random fractions', () => {
    fc.assert(
      fc.property(
        fc.bigInt({ min: -(10n ** 14n), max: 10n ** 14n }),
        fc.bigInt({ min: 1n, max: 100_000n }),
        (numerator, denominator) => {
          const rounded = BigInt(divideHalfAwayFromZero(numerator, denominator))
          const miss = numerator - rounded * denominator
          const size = miss < 0n ? -miss : miss
          expect(size * 2n <= denominator).toBe(true)
          if (size * 2n === denominator) expect(miss < 0n).toBe(numerator > 0n)
        },
      ),
      { numRuns: 3000 },
    )
  })
})

describe('currencies', () => {
  test('UNIT-10 the digits of every currency are those of ISO 4217', () => {
    // ISO 4217 list one of 2024-06-25, as carried by the npm package currency-codes 2.2.0.
    const differing = currencyCodes.data.filter(
      ({ code, digits }) => /^[A-Z]{3}$/.test(code) && !code.startsWith('X') && minorDigits(code) !== digits,
    )
    expect(differing.map(({ code, digits }) => `${code} ${digits}`)).toEqual([])
  })

  test('UNIT-10 forint, ariary and Iraqi dinar keep their ISO digits, whatever a display library shows', () => {
    expect([
      minorDigits('HUF'),
      minorDigits('MGA'),
      minorDigits('IQD'),
      minorDigits('USD'),
      minorDigits('JPY'),
    ]).toEqual([2, 2, 3, 2, 0])
  })

  test('UNIT-10 amounts are written as the country does', () => {
    expect(formatCents(cents(15_620), 'USD', 'en-US')).toBe('$156.20')
    expect(formatCents(cents(123_456), 'USD', 'en-US', true)).toBe('1,234.56')
    expect(formatCents(cents(123_456), 'EUR', 'de-DE', true)).toBe('1.234,56')
    expect(formatCents(cents(500), 'JPY', 'en-US', true)).toBe('500')
    expect(formatTaxRate(taxRate(8875), 'en-US')).toBe('8.875 %')
  })
})

describe('amounts as people type them', () => {
  test.each([
    ['$1,234.50', 'USD', 123_450],
    ['1.234,50', 'EUR', 123_450],
    ['1.234,50 €', 'EUR', 123_450],
    ['12', 'USD', 1200],
    ['12.5', 'USD', 1250],
    ['-3.5', 'USD', -350],
    ['(45.00)', 'USD', -4500],
    ['.99', 'USD', 99],
    ['1,234,567', 'USD', 123_456_700],
    ['1,234', 'USD', 123_400],
    ['1500', 'JPY', 1500],
    ['1,500', 'JPY', 1500],
    ['1.234', 'KWD', 1234],
  ])('UNIT-11 "%s" in %s', (text, currency, amount) => {
    expect(parseCents(text, currency)).toBe(amount)
  })

  test.each(['', 'about ten', '1.2345', '12,34,56', '--', '.', '1.23.45'])('UNIT-11 "%s" is no amount', (text) => {
    expect(parseCents(text, 'USD')).toBeNull()
  })

  test('UNIT-11 what was written can be read again', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -1_000_000_000, max: 1_000_000_000 }),
        fc.constantFrom('USD', 'EUR', 'KWD'),
        (amount, currency) => {
          expect(parseCents(formatCents(cents(amount), currency, 'en-US', true), currency)).toBe(amount)
          expect(parseCents(formatCents(cents(amount), currency, 'de-DE', true), currency)).toBe(amount)
        },
      ),
    )
  })
})
