import fc from 'fast-check'
import { expect, test } from 'vitest'
import {
  type CreditableInvoice,
  type CreditableLine,
  creditLines,
  creditWhole,
} from '../../core/invoices/credit-note.ts'
import type { DocumentAmount } from '../../core/invoices/invoice-lines.ts'
import { quantity, unitPrice } from '../../core/invoices/invoice-lines.ts'
import { invoiceTotals } from '../../core/invoices/invoice-totals.ts'
import { spreadAllowance } from '../../core/invoices/spread-allowance.ts'
import { cents, NO_MONEY, taxRate } from '../../core/units/money.ts'
import { aLine, pieces } from '../builders/a-draft.ts'

const fresh = (line: ReturnType<typeof aLine>, index: number): CreditableLine => ({
  position: index,
  ...line,
  creditedQuantity: 0,
  creditedAllowance: NO_MONEY,
  creditedCharge: NO_MONEY,
})
function invoiced(
  lines: readonly ReturnType<typeof aLine>[],
  amounts: readonly DocumentAmount[] = [],
): CreditableInvoice {
  const totals = invoiceTotals({ lines, documentAmounts: amounts, minorDigits: 2 })
  return {
    lines: lines.map(fresh),
    documentAmounts: amounts.map((each, index) => ({ ...each, position: index, credited: NO_MONEY })),
    owed: cents(totals.withTax + totals.rounding),
    creditedTogether: NO_MONEY,
    minorDigits: 2,
  }
}
/** What is left to credit after a credit note was issued. */
function after(
  invoice: CreditableInvoice,
  note: ReturnType<typeof creditLines>,
  choice: ReadonlyMap<number, number>,
): CreditableInvoice {
  const { withTax } = invoiceTotals({ ...note, minorDigits: 2 })
  let next = 0
  return {
    ...invoice,
    lines: invoice.lines.map((line, index) => {
      if (!choice.get(index)) return line
      const given = note.lines[next]
      next += 1
      return {
        ...line,
        creditedQuantity: line.creditedQuantity + (given?.quantity ?? 0),
        creditedAllowance: cents(line.creditedAllowance + (given?.allowance ?? 0)),
        creditedCharge: cents(line.creditedCharge + (given?.charge ?? 0)),
      }
    }),
    documentAmounts: invoice.documentAmounts.map((each) => {
      const back = note.documentAmounts.find((other) => other.rate === each.rate && other.kind === each.kind)
      return { ...each, credited: cents(each.credited + (back?.amount ?? 0)) }
    }),
    creditedTogether: cents(invoice.creditedTogether + withTax + note.rounding),
  }
}

test('INV-10 a credit note for the whole invoice gives back exactly what was asked', () => {
  const lines = [aLine(), aLine({ quantity: pieces(3), unitPrice: unitPrice(33_300), allowance: cents(100) })]
  const invoice = invoiced(lines, [
    { kind: 'allowance', reason: 'goodwill', amount: cents(500), category: 'standard', rate: taxRate(5600) },
  ])
  const note = creditWhole(invoice)
  expect(invoiceTotals({ ...note, minorDigits: 2 })).toMatchObject({ withoutTax: 2399, due: invoice.owed })
  expect(note.rounding).toBe(0)
})

test('INV-10 a credit note for one line leaves the others alone', () => {
  const invoice = invoiced([aLine(), aLine({ description: 'Membrane', unitPrice: unitPrice(864_000) })])
  const note = creditLines(invoice, new Map([[1, 1000]]))
  expect(note.lines.map((line) => line.description)).toEqual(['Membrane'])
  expect(invoiceTotals({ ...note, minorDigits: 2 })).toMatchObject({ withoutTax: 8640, tax: 484, due: 9124 })
})

test('INV-10 credited piece by piece, in any order, an invoice is given back to the cent and no further', () => {
  const anyLine = fc
    .record({
      count: fc.integer({ min: 1, max: 4 }),
      price: fc.integer({ min: 1, max: 2_000_000 }),
      off: fc.nat(100),
      rate: fc.constantFrom(5600, 8875),
    })
    .map(({ count, price, off, rate }) => {
      const line = aLine({ quantity: quantity(count * 1000), unitPrice: unitPrice(price), rate: taxRate(rate) })
      const gross = Math.floor((count * price) / 100)
      return { ...line, allowance: cents(Math.floor((gross * off) / 100)) }
    })
  fc.assert(
    fc.property(
      fc.array(anyLine, { minLength: 1, maxLength: 5 }),
      fc.nat(100),
      fc.array(fc.nat(), { maxLength: 20 }),
      (lines, off, order) => {
        const together = invoiceTotals({ lines, documentAmounts: [], minorDigits: 2 }).linesTogether
        const amounts = spreadAllowance(cents(Math.floor((together * off) / 100)), 'goodwill', lines, 2)
        let invoice = invoiced(lines, amounts)
        const steps = order.map((pick) => pick % lines.length)
        for (const index of [...steps, ...lines.flatMap((_, i) => [i, i, i, i])]) {
          const line = invoice.lines[index]
          if (!line || line.creditedQuantity >= line.quantity) continue
          const choice = new Map([[index, 1000]])
          invoice = after(invoice, creditLines(invoice, choice), choice)
        }
        expect(invoice.creditedTogether).toBe(invoice.owed)
        expect(invoice.lines.map((line) => [line.creditedQuantity, line.creditedAllowance])).toEqual(
          lines.map((line) => [line.quantity, line.allowance]),
        )
        expect(invoice.documentAmounts.map((each) => each.credited)).toEqual(amounts.map((each) => each.amount))
      },
    ),
  )
})

test('INV-12 an allowance on the whole invoice is laid on its tax rates by what each comes to, and no cent is lost', () => {
  const lines = [
    aLine({ unitPrice: unitPrice(1_000_000) }),
    aLine({ unitPrice: unitPrice(500_000), rate: taxRate(8875) }),
    aLine({ unitPrice: unitPrice(0), category: 'zero', rate: taxRate(0) }),
  ]
  expect(spreadAllowance(cents(1000), 'goodwill', lines, 2).map((each) => [each.rate, each.amount])).toEqual([
    [5600, 667],
    [8875, 333],
  ])
  expect(spreadAllowance(cents(1000), 'goodwill', [], 2)).toEqual([])
})
