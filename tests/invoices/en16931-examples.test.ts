import { expect, test } from 'vitest'
import { checkInvoice } from '../../core/invoices/check-invoice.ts'
import {
  type DocumentAmount,
  lineNet,
  quantity,
  type ReckonedLine,
  type TaxCategory,
  unitPrice,
} from '../../core/invoices/invoice-lines.ts'
import { type InvoiceToReckon, invoiceTotals } from '../../core/invoices/invoice-totals.ts'
import { type Cents, cents, NO_MONEY, taxRate } from '../../core/units/money.ts'

/*
 * Source of every figure in this file: the example invoices published with the EN 16931 validation artefacts by the European Commission
 * (ConnectingEurope/eInvoicing-EN16931, release 1.3.16, folder ubl/examples and one CII test), read and typed in here.
 * Lines whose published net is not quantity x price (example 1 line 20, example 2 line 1, example 3 both lines) are no anchor
 * of line arithmetic: their totals are checked with the published net, carried as quantity 1.
 */

/** Quantity, unit price as printed, tax rate in percent, published net. */
type PublishedLine = readonly [pieces: number, price: string, percent: number, net: string, category?: TaxCategory]

/** "12.1" to 121000 ten-thousandths, or to 1210 cents, without floating point. */
function fixed(text: string, digits: number): number {
  const [whole = '0', tail = ''] = text.replace('-', '').split('.')
  return Number(whole + tail.padEnd(digits, '0')) * (text.startsWith('-') ? -1 : 1)
}
const money = (text: string): Cents => cents(fixed(text, 2))
const percentRate = (percent: number) => taxRate(percent * 1000)

function line([pieces, price, percent, , category = 'standard']: PublishedLine): ReckonedLine {
  return {
    quantity: quantity(pieces * 1000),
    unitPrice: unitPrice(fixed(price, 4)),
    allowance: NO_MONEY,
    charge: NO_MONEY,
    category,
    rate: percentRate(percent),
  }
}
/** A line that carries its published net as it stands. */
const netOnly = (net: string, percent: number, category: TaxCategory = 'standard') =>
  line([1, net, percent, net, category])
const whole = (kind: DocumentAmount['kind'], amount: string, percent: number): DocumentAmount => ({
  kind,
  reason: '',
  amount: money(amount),
  category: 'standard',
  rate: percentRate(percent),
})

function reckoned(lines: readonly ReckonedLine[], documentAmounts: readonly DocumentAmount[] = [], prepaid = '0') {
  const invoice: InvoiceToReckon = { lines, documentAmounts, prepaid: money(prepaid), minorDigits: 2 }
  const totals = invoiceTotals(invoice)
  expect(checkInvoice(invoice, totals)).toEqual([])
  return totals
}
const taxRows = (totals: ReturnType<typeof invoiceTotals>) =>
  totals.taxByRate.map((row) => [row.category, row.rate / 1000, row.taxable, row.tax])

const EXAMPLE_1: readonly PublishedLine[] = [
  [2, '9.95', 6, '19.90'],
  [1, '9.85', 6, '9.85'],
  [1, '8.29', 6, '8.29'],
  [2, '7.23', 6, '14.46'],
  [1, '35.00', 6, '35.00'],
  [1, '35.00', 6, '35.00'],
  [1, '10.65', 6, '10.65'],
  [1, '1.55', 6, '1.55'],
  [3, '4.79', 6, '14.37'],
  [1, '8.29', 6, '8.29'],
  [2, '8.29', 6, '16.58'],
  [1, '9.95', 6, '9.95'],
  [2, '1.65', 6, '3.30'],
  [1, '10.80', 21, '10.80'],
  [1, '3.90', 6, '3.90'],
  [2, '3.80', 21, '7.60'],
  [2, '4.67', 21, '9.34'],
  [1, '18.63', 21, '18.63'],
  [6, '17.02', 6, '102.12'],
]

/** Every clean line of examples 1, 2, 4, 6, 7, 9, the discount example, the credit note, both BIS examples and the CII rounding test. */
const CLEAN_LINES: readonly PublishedLine[] = [
  ...EXAMPLE_1,
  [-1, '3.96', 15, '-3.96'],
  [2, '2.48', 15, '4.96'],
  [-1, '25.00', 0, '-25.00', 'exempt'],
  [250, '0.75', 25, '187.50'],
  [1000, '1.00', 25, '1000.00'],
  [100, '5.00', 25, '500.00'],
  [500, '5.00', 12, '2500.00'],
  [1, '2500.00', 0, '2500.00', 'outside'],
  [1, '700.00', 0, '700.00', 'outside'],
  [3, '49.00', 21, '147.00'],
  [100, '0.1212', 25, '12.12'],
  [1, '100.11', 0, '100.11', 'exempt'],
  [1, '625743.54', 25, '625743.54'],
  [-1, '625743.54', 25, '-625743.54'],
  [1, '720.81', 19, '720.81'],
  [-1, '720.81', 19, '-720.81'],
  [1, '0.01', 0, '0.01', 'zero'],
  [-1, '0.01', 0, '-0.01', 'zero'],
]

test.each(CLEAN_LINES.map((published) => ({ published, name: published.slice(0, 4).join(' | ') })))(
  'INV-1 a published line: $name',
  ({ published }) => {
    expect(lineNet(line(published), 2)).toBe(money(published[3]))
  },
)

test('INV-2 EN 16931 example 1: two rates, twenty lines', () => {
  const totals = reckoned([...EXAMPLE_1.map(line), netOnly('-109.98', 6)])
  expect(taxRows(totals)).toEqual([
    ['standard', 21, 4637, 974],
    ['standard', 6, 18323, 1099],
  ])
  expect(totals).toMatchObject({ linesTogether: 22960, withoutTax: 22960, tax: 2073, withTax: 25033, due: 25033 })
})

test('INV-2 EN 16931 example 2: allowance, charge, exempt line, prepaid, and a half cent that goes up', () => {
  const lines = [
    netOnly('1273.00', 25),
    line([-1, '3.96', 15, '-3.96']),
    line([2, '2.48', 15, '4.96']),
    line([-1, '25.00', 0, '-25.00', 'exempt']),
    line([250, '0.75', 25, '187.50']),
  ]
  const totals = reckoned(lines, [whole('allowance', '100.00', 25), whole('charge', '100.00', 25)], '1000.00')
  expect(taxRows(totals)).toEqual([
    ['standard', 25, 146050, 36513], // 365.125: half to even would print 365.12
    ['standard', 15, 100, 15],
    ['exempt', 0, -2500, 0],
  ])
  expect(totals).toMatchObject({ linesTogether: 143650, allowances: 10000, charges: 10000, withoutTax: 143650 })
  expect(totals).toMatchObject({ tax: 36528, withTax: 180178, prepaid: 100000, due: 80178 })
})

test('INV-2 EN 16931 example 2, line 1: a line with its own allowance and charge of 12.00 nets to its price', () => {
  const first = { ...netOnly('1273.00', 25), allowance: money('12.00'), charge: money('12.00') }
  expect(lineNet(first, 2)).toBe(127300)
})

test('INV-2 EN 16931 example 3: a charge belongs to one rate', () => {
  const totals = reckoned([netOnly('800.00', 25), netOnly('800.00', 10)], [whole('charge', '100.00', 25)])
  expect(taxRows(totals)).toEqual([
    ['standard', 25, 90000, 22500],
    ['standard', 10, 80000, 8000],
  ])
  expect(totals).toMatchObject({ linesTogether: 160000, charges: 10000, withoutTax: 170000, tax: 30500, due: 200500 })
})

test('INV-2 EN 16931 examples 4 and 6: 25 % and 12 %', () => {
  const totals = reckoned([
    line([1000, '1.00', 25, '1000.00']),
    line([100, '5.00', 25, '500.00']),
    line([500, '5.00', 12, '2500.00']),
  ])
  expect(taxRows(totals)).toEqual([
    ['standard', 25, 150000, 37500],
    ['standard', 12, 250000, 30000],
  ])
  expect(totals).toMatchObject({ withoutTax: 400000, tax: 67500, withTax: 467500 })
})

test('INV-2 EN 16931 example 7: outside the scope of tax', () => {
  const totals = reckoned([line([1, '2500.00', 0, '', 'outside']), line([1, '700.00', 0, '', 'outside'])])
  expect(taxRows(totals)).toEqual([['outside', 0, 320000, 0]])
  expect(totals).toMatchObject({ tax: 0, withTax: 320000, due: 320000 })
})

test('INV-2 EN 16931 example 9, the discounted price and the exempt credit note', () => {
  expect(reckoned([line([3, '49.00', 21, '147.00'])])).toMatchObject({ withoutTax: 14700, tax: 3087, due: 17787 })
  expect(reckoned([line([100, '0.1212', 25, '12.12'])])).toMatchObject({ withoutTax: 1212, tax: 303, due: 1515 })
  expect(reckoned([line([1, '100.11', 0, '100.11', 'exempt'])])).toMatchObject({ tax: 0, due: 10011 })
})

test('INV-3 a half cent is rounded away from zero, above zero and below (BIS examples: 156 435.885)', () => {
  const above = reckoned([line([1, '625743.54', 25, ''])])
  expect(above).toMatchObject({ tax: 15643589, withTax: 78217943 })
  const below = reckoned([line([-1, '625743.54', 25, ''])])
  expect(below).toMatchObject({ tax: -15643589, withTax: -78217943 })
})

test('INV-2 EN 16931 CII rounding test of BR-CO-10: lines that cancel leave nothing, at 19 % and at 0 %', () => {
  const totals = reckoned([
    line([1, '720.81', 19, '']),
    line([1, '0.01', 0, '', 'zero']),
    line([-1, '720.81', 19, '']),
    line([-1, '0.01', 0, '', 'zero']),
  ])
  expect(taxRows(totals)).toEqual([
    ['standard', 19, 0, 0],
    ['zero', 0, 0, 0],
  ])
  expect(totals).toMatchObject({ linesTogether: 0, tax: 0, due: 0 })
})
