import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkInvoice } from '../../core/invoices/check-invoice.ts'
import {
  lineNet,
  quantity,
  TAX_CATEGORIES,
  TAX_CATEGORY_CODES,
  unitPrice,
  unitPriceOfCents,
} from '../../core/invoices/invoice-lines.ts'
import { type InvoiceToReckon, invoiceTotals, taxOn } from '../../core/invoices/invoice-totals.ts'
import { cents, minorDigits, NO_MONEY, taxRate } from '../../core/units/money.ts'

const anyTaxed = fc
  .record({ category: fc.constantFrom(...TAX_CATEGORIES), rate: fc.integer({ min: 0, max: 100_000 }) })
  .map(({ category, rate }) => ({ category, rate: taxRate(category === 'standard' ? rate : 0) }))
const anyLine = fc
  .record({
    pieces: fc.integer({ min: -10_000_000, max: 10_000_000 }),
    price: fc.integer({ min: 0, max: 10_000_000_000 }),
    allowance: fc.nat(1_000_000),
    charge: fc.nat(1_000_000),
    taxed: anyTaxed,
  })
  .map(({ pieces, price, allowance, charge, taxed }) => ({
    quantity: quantity(pieces),
    unitPrice: unitPrice(price),
    allowance: cents(allowance),
    charge: cents(charge),
    ...taxed,
  }))
const anyDocumentAmount = fc
  .record({
    kind: fc.constantFrom('allowance' as const, 'charge' as const),
    amount: fc.nat(5_000_000),
    taxed: anyTaxed,
  })
  .map(({ kind, amount, taxed }) => ({ kind, reason: 'a reason', amount: cents(amount), ...taxed }))
const anyInvoice: fc.Arbitrary<InvoiceToReckon> = fc
  .record({
    lines: fc.array(anyLine, { maxLength: 30 }),
    documentAmounts: fc.array(anyDocumentAmount, { maxLength: 4 }),
    prepaid: fc.nat(1_000_000),
    rounding: fc.integer({ min: -5, max: 5 }),
    minorDigits: fc.constantFrom(0, 2, 3),
  })
  .map((each) => ({ ...each, prepaid: cents(each.prepaid), rounding: cents(each.rounding) }))

test('INV-2 the judge finds nothing wrong with any invoice that was reckoned', () => {
  fc.assert(
    fc.property(anyInvoice, (invoice) => {
      expect(checkInvoice(invoice, invoiceTotals(invoice))).toEqual([])
    }),
    { numRuns: 500 },
  )
})

test('INV-2 the judge finds a cent that was moved, wherever it was moved', () => {
  const invoice: InvoiceToReckon = {
    lines: [
      {
        quantity: quantity(2000),
        unitPrice: unitPrice(123_400),
        allowance: NO_MONEY,
        charge: NO_MONEY,
        category: 'standard',
        rate: taxRate(5600),
      },
    ],
    documentAmounts: [{ kind: 'charge', reason: '', amount: cents(500), category: 'standard', rate: taxRate(5600) }],
    minorDigits: 2,
  }
  const right = invoiceTotals(invoice)
  expect(checkInvoice(invoice, right)).toEqual([])
  const off = (amount: number) => cents(amount + 1)
  expect(checkInvoice(invoice, { ...right, lineNets: right.lineNets.map(off) }).join()).toContain('Line 1')
  expect(checkInvoice(invoice, { ...right, linesTogether: off(right.linesTogether) }).join()).toContain('BR-CO-10')
  expect(checkInvoice(invoice, { ...right, allowances: off(right.allowances) }).join()).toContain('BR-CO-11')
  expect(checkInvoice(invoice, { ...right, charges: off(right.charges) }).join()).toContain('BR-CO-12')
  expect(checkInvoice(invoice, { ...right, withoutTax: off(right.withoutTax) }).join()).toContain('BR-CO-13')
  expect(checkInvoice(invoice, { ...right, tax: off(right.tax) }).join()).toContain('BR-CO-14')
  expect(checkInvoice(invoice, { ...right, withTax: off(right.withTax) }).join()).toContain('BR-CO-15')
  expect(checkInvoice(invoice, { ...right, due: off(right.due) }).join()).toContain('BR-CO-16')
  const rows = right.taxByRate
  expect(
    checkInvoice(invoice, { ...right, taxByRate: rows.map((row) => ({ ...row, tax: off(row.tax) })) }).join(),
  ).toContain('BR-CO-17')
  expect(
    checkInvoice(invoice, { ...right, taxByRate: rows.map((row) => ({ ...row, taxable: off(row.taxable) })) }).join(),
  ).toContain('BR-S-08')
  expect(checkInvoice(invoice, { ...right, taxByRate: [] }).join()).toContain('No tax row')
  expect(checkInvoice(invoice, { ...right, taxByRate: [...rows, ...rows] }).join()).toContain('stands twice')
})

test('INV-2 the order of the lines changes no total', () => {
  fc.assert(
    fc.property(anyInvoice, (invoice) => {
      const { lineNets: _, ...forwards } = invoiceTotals(invoice)
      const { lineNets: __, ...backwards } = invoiceTotals({ ...invoice, lines: [...invoice.lines].reverse() })
      expect(backwards).toEqual(forwards)
    }),
  )
})

test('INV-3 tax below zero is the mirror of tax above zero', () => {
  fc.assert(
    fc.property(fc.nat(1_000_000_000), fc.integer({ min: 0, max: 100_000 }), (amount, rate) => {
      expect(taxOn(cents(-amount), taxRate(rate))).toBe(cents(-taxOn(cents(amount), taxRate(rate))))
    }),
  )
})

/*
 * US Streamlined Sales and Use Tax Agreement, section 324 (R.I. Gen. Laws 44-18.1-25; Mass. G.L. c. 64I s. 5): carry the tax to the third
 * decimal place, and round up to the next whole cent when the third decimal is greater than four. Reckoned here on the digits themselves.
 */
function streamlined(amount: number, rateThousandths: number): number {
  const digits = (BigInt(amount) * BigInt(rateThousandths)).toString().padStart(6, '0') // in 1/100 000 of a cent
  const wholeCents = Number(digits.slice(0, -5))
  return Number(digits.at(-5)) > 4 ? wholeCents + 1 : wholeCents
}

test('INV-3 tax agrees with the digits rule of the Streamlined Sales Tax agreement', () => {
  const cases = [
    [1000, 8875, 89], // 0.8875: third decimal 7
    [1004, 5600, 56], // 0.56224: third decimal 2
    [1125, 4000, 45], // 0.45
    [110, 6500, 7], // 0.0715: third decimal 1
    [150, 7000, 11], // 0.105: third decimal 5
  ] as const
  for (const [amount, rate, tax] of cases) {
    expect(streamlined(amount, rate)).toBe(tax)
    expect(taxOn(cents(amount), taxRate(rate))).toBe(tax)
  }
  fc.assert(
    fc.property(fc.nat(100_000_000), fc.integer({ min: 0, max: 100_000 }), (amount, rate) => {
      expect(taxOn(cents(amount), taxRate(rate))).toBe(streamlined(amount, rate))
    }),
    { numRuns: 2000 },
  )
})

test('INV-1 amounts carry the minor digits of their currency (ISO 4217 list of 2024-06-25)', () => {
  const published = {
    USD: 2,
    EUR: 2,
    HUF: 2,
    MGA: 2,
    JPY: 0,
    ISK: 0,
    KWD: 3,
    BHD: 3,
    OMR: 3,
    JOD: 3,
    TND: 3,
    LYD: 3,
    IQD: 3,
    CLF: 4,
    UYW: 4,
  }
  for (const [currency, digits] of Object.entries(published)) expect(minorDigits(currency), currency).toBe(digits)
  const line = {
    quantity: quantity(2000),
    unitPrice: unitPrice(15_000_000),
    allowance: NO_MONEY,
    charge: NO_MONEY,
    category: 'standard',
    rate: taxRate(0),
  } as const
  expect(lineNet(line, minorDigits('JPY'))).toBe(3000)
  expect(lineNet(line, minorDigits('USD'))).toBe(300_000)
  expect(lineNet(line, minorDigits('KWD'))).toBe(3_000_000)
})

test('INV-1 a price in whole cents is the same price as a unit price', () => {
  expect(unitPriceOfCents(cents(6400), 2)).toBe(640_000)
  expect(unitPriceOfCents(cents(1500), 0)).toBe(15_000_000)
  fc.assert(
    fc.property(fc.nat(1_000_000), fc.constantFrom(0, 2, 3), (amount, digits) => {
      const line = {
        quantity: quantity(1000),
        unitPrice: unitPriceOfCents(cents(amount), digits),
        allowance: NO_MONEY,
        charge: NO_MONEY,
        category: 'standard',
        rate: taxRate(0),
      } as const
      expect(lineNet(line, digits)).toBe(amount)
    }),
  )
})

test('INV-2 each way of being taxed has its code of UNCL5305 as EN 16931 lists them: S, Z, E, O', () => {
  expect(TAX_CATEGORIES.map((category) => TAX_CATEGORY_CODES[category])).toEqual(['S', 'Z', 'E', 'O'])
})
