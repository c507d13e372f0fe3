import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkDigitOf, gtin14, gtinFault, gtinFaultWords, isGtin } from '../../core/stock/gtin.ts'

test.each([
  ['6291041500213', 'gs1.org, "How to calculate a check digit manually"'],
  ['7300011000017', 'gs1.se'],
  ['8904000210037', 'gs1india.org'],
  ['036000241457', 'a UPC of the textbooks'],
  ['5012345678900', 'the example number of the United Kingdom'],
])('STK-31 the check digit of %s is right (%s)', (gtin) => {
  expect(checkDigitOf(gtin.slice(0, -1))).toBe(gtin.at(-1))
  expect(isGtin(gtin)).toBe(true)
})

const digits = (count: number) => fc.stringMatching(new RegExp(`^\\d{${count}}$`))

test('STK-31 every single wrong digit is found, and zeros in front change nothing', () => {
  const body = fc.constantFrom(7, 11, 12, 13).chain(digits)
  fc.assert(
    fc.property(body, fc.nat(20), fc.integer({ min: 1, max: 9 }), (typed, at, off) => {
      const gtin = typed + checkDigitOf(typed)
      const wrong = [...gtin]
      const place = at % gtin.length
      wrong[place] = String((Number(wrong[place]) + off) % 10)
      expect(isGtin(gtin)).toBe(true)
      expect(isGtin(gtin14(gtin))).toBe(true)
      expect(gtinFault(wrong.join(''))).toMatchObject({ kind: 'check-digit' })
    }),
  )
})

test('STK-31 what is wrong is said: letters, another length, or the digit that would be right', () => {
  expect(gtinFault('62910415O0213')).toEqual({ kind: 'not-digits' })
  expect(gtinFault('6291041500214')).toEqual({ kind: 'check-digit', right: '3' })
  expect(gtinFault('123456789')).toEqual({ kind: 'length' })
  expect(gtinFault('')).toEqual({ kind: 'not-digits' })
  expect(gtinFaultWords({ kind: 'check-digit', right: '3' })).toBe('its last figure would be 3')
  expect(() => checkDigitOf('12a')).toThrow(RangeError)
})
