import { expect, test } from 'vitest'
import { type EditedDraft, type EditedLine, judgeDraft } from '../../core/invoices/draft-edit.ts'
import { cents, NO_MONEY } from '../../core/units/money.ts'

const money = { currency: 'USD', locale: 'en-US', minorDigits: 2 }
const line = (own: Partial<EditedLine> = {}): EditedLine => ({
  description: 'Membrane',
  quantity: 1000,
  unit: 'each',
  unitPrice: 864_000,
  allowance: NO_MONEY,
  category: 'standard',
  rate: 5600,
  partId: null,
  visitTaskId: null,
  ...own,
})
const draft = (lines: EditedLine[], own: Partial<EditedDraft> = {}): EditedDraft => ({
  lines,
  allowance: NO_MONEY,
  allowanceReason: '',
  note: '',
  buyerReference: '',
  ...own,
})
const refusal = (edited: EditedDraft) => {
  const judged = judgeDraft(edited, money)
  return judged.ok ? 'nothing was refused' : `${judged.problem.code}: ${judged.problem.sentence}`
}

test('INV-13 an edited draft is reckoned again', () => {
  const judged = judgeDraft(
    draft([line({ quantity: 1500 })], { allowance: cents(1296), allowanceReason: 'goodwill' }),
    money,
  )
  expect(judged).toMatchObject({
    ok: true,
    value: { totals: { linesTogether: 12960, allowances: 1296, withoutTax: 11664, tax: 653, due: 12317 } },
  })
})

test('INV-13 a quantity of nothing or less is refused with its line', () => {
  expect(refusal(draft([line(), line({ quantity: -2000 })]))).toBe(
    'INVOICE_QUANTITY_NOT_ABOVE_ZERO: Line 2 has the quantity -2; an invoice asks for more than none.',
  )
  expect(refusal(draft([line({ quantity: 0 })]))).toContain('INVOICE_QUANTITY_NOT_ABOVE_ZERO')
})

test('INV-13 a tax rate of 300 % is refused with its line', () => {
  expect(refusal(draft([line({ rate: 300_000 })]))).toBe(
    'INVOICE_TAX_RATE_OUTSIDE: Line 1 has a tax rate of 300 %; a rate lies between 0 and 100 %.',
  )
})

test('INV-13 no words, a price below zero, a line of billions and an allowance above its line are refused', () => {
  expect(refusal(draft([line({ description: '  ' })]))).toContain('INVOICE_LINE_WITHOUT_WORDS')
  expect(refusal(draft([line({ unitPrice: -1 })]))).toContain('INVOICE_PRICE_BELOW_ZERO')
  expect(refusal(draft([line({ quantity: 2_000_000_000 })]))).toContain('INVOICE_LINE_TOO_LARGE')
  expect(refusal(draft([line({ allowance: cents(8641) })]))).toBe(
    'INVOICE_LINE_ALLOWANCE_ABOVE_LINE: Line 1 takes off $86.41, and comes to $86.40 before that.',
  )
})

test('INV-13 an allowance above the whole invoice, or below zero, is refused', () => {
  expect(refusal(draft([line()], { allowance: cents(9000) }))).toBe(
    'INVOICE_ALLOWANCE_ABOVE_LINES: The invoice takes off $90.00, and its lines come to $86.40.',
  )
  expect(refusal(draft([line()], { allowance: cents(-1) }))).toContain('INVOICE_ALLOWANCE_ABOVE_LINES')
})

test('INV-7 a line that is not taxed carries no rate', () => {
  const judged = judgeDraft(draft([line({ category: 'exempt' })]), money)
  expect(judged.ok && judged.value.lines[0]?.rate).toBe(0)
})
