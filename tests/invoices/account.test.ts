import fc from 'fast-check'
import { expect, test } from 'vitest'
import { AGES, ageing, ageOf } from '../../core/invoices/ageing.ts'
import { checkAllocation } from '../../core/invoices/check-allocation.ts'
import { gapsInNumbers, invoiceNumber, partsOfInvoiceNumber } from '../../core/invoices/invoice-number.ts'
import { allocatePayment, type OpenInvoice } from '../../core/invoices/payment-allocation.ts'
import { type AccountEntry, statementOfAccount } from '../../core/invoices/statement-of-account.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { invoiceIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

const today = calendarDate('2026-12-01')
const open = (id: number, dueOn: string, amount: number): OpenInvoice => ({
  invoiceId: invoiceIdSchema.parse(id),
  number: invoiceNumber(2026, id),
  dueOn: calendarDate(dueOn),
  open: cents(amount),
})

test('PAY-5 what is owed ages from the day it fell due: current, 1-30, 31-60, 61-90, over 90', () => {
  const ages = [0, 1, 30, 31, 60, 61, 90, 91, 4000].map((days) => ageOf(addDays(today, -days), today))
  expect(ages).toEqual(['current', '1-30', '1-30', '31-60', '31-60', '61-90', '61-90', 'over-90', 'over-90'])
  expect(ageOf(addDays(today, 14), today)).toBe('current')
})

test('PAY-5 the ages add up to what is owed', () => {
  const anyOpen = fc.record({ days: fc.integer({ min: -60, max: 400 }), amount: fc.nat(1_000_000) })
  fc.assert(
    fc.property(fc.array(anyOpen), (all) => {
      const sums = ageing(
        all.map(({ days, amount }) => ({ dueOn: addDays(today, -days), open: cents(amount) })),
        today,
      )
      expect(AGES.reduce((sum, age) => sum + sums[age], 0)).toBe(all.reduce((sum, { amount }) => sum + amount, 0))
    }),
  )
})

test('PAY-1 a payment goes to the invoice that fell due first, and the last one may be paid in part', () => {
  const all = [open(7, '2026-11-20', 5000), open(5, '2026-10-01', 3000), open(6, '2026-10-01', 2000)]
  expect(allocatePayment(cents(6000), all)).toEqual({
    parts: [
      { invoiceId: 5, amount: 3000 },
      { invoiceId: 6, amount: 2000 },
      { invoiceId: 7, amount: 1000 },
    ],
    left: 0,
  })
})

test('PAY-1 an invoice that the customer names is paid before the others', () => {
  const all = [open(5, '2026-10-01', 3000), open(7, '2026-11-20', 5000)]
  expect(allocatePayment(cents(6000), all, invoiceIdSchema.parse(7)).parts).toEqual([
    { invoiceId: 7, amount: 5000 },
    { invoiceId: 5, amount: 1000 },
  ])
})

test('PAY-3 what no invoice asks for is left as credit', () => {
  expect(allocatePayment(cents(6000), [open(5, '2026-10-01', 2500)])).toEqual({
    parts: [{ invoiceId: 5, amount: 2500 }],
    left: 3500,
  })
})

test('PAY-1 the judge finds nothing wrong with any allocation, and finds what is wrong with a bad one', () => {
  const anyOpen = fc
    .uniqueArray(fc.integer({ min: 1, max: 99 }), { maxLength: 12 })
    .chain((ids) =>
      fc.tuple(
        ...ids.map((id) =>
          fc
            .record({ days: fc.integer({ min: -40, max: 200 }), amount: fc.integer({ min: 1, max: 90_000 }) })
            .map(({ days, amount }) => open(id, addDays(today, -days), amount)),
        ),
      ),
    )
  fc.assert(
    fc.property(anyOpen, fc.integer({ min: 1, max: 400_000 }), fc.nat(11), (all, amount, pick) => {
      const first = all[pick]?.invoiceId ?? null
      expect(checkAllocation(cents(amount), all, first, allocatePayment(cents(amount), all, first))).toEqual([])
    }),
  )
  const two = [open(1, '2026-10-01', 500), open(2, '2026-11-01', 500)]
  const [one, other] = two.map((each) => each.invoiceId)
  if (!one || !other) throw new Error('two invoices')
  const complaints = (parts: { invoiceId: typeof one; amount: ReturnType<typeof cents> }[], left: number) =>
    checkAllocation(cents(500), two, null, { parts, left: cents(left) }).join(' ')
  expect(complaints([{ invoiceId: other, amount: cents(500) }], 0)).toContain('a younger one is paid')
  expect(complaints([{ invoiceId: one, amount: cents(600) }], -100)).toContain('above what it owes')
  expect(complaints([{ invoiceId: one, amount: cents(300) }], 200)).toContain('though money is left')
  expect(complaints([{ invoiceId: one, amount: cents(300) }], 0)).toContain('not the amount')
  expect(
    complaints(
      [
        { invoiceId: one, amount: cents(250) },
        { invoiceId: one, amount: cents(250) },
      ],
      0,
    ),
  ).toContain('paid twice')
})

test('PAY-6 a statement brings forward what was owed, lists every entry with the balance after it, and ages what is open', () => {
  const entry = (on: string, kind: AccountEntry['kind'], words: string, amount: number): AccountEntry => ({
    on: calendarDate(on),
    kind,
    words,
    amount: cents(amount),
  })
  const entries = [
    entry('2026-11-05', 'payment', 'Payment', 4000),
    entry('2026-08-10', 'invoice', 'Invoice 2026-00012', 4000),
    entry('2026-10-02', 'invoice', 'Invoice 2026-00030', 9000),
    entry('2026-10-02', 'credit-note', 'Credit note 2026-00031', 1000),
    entry('2026-11-06', 'payment-undone', 'Payment undone', 4000),
    entry('2026-12-24', 'invoice', 'Invoice 2026-00050', 700),
  ]
  const statement = statementOfAccount(
    entries,
    [
      { dueOn: calendarDate('2026-08-24'), open: cents(4000) },
      { dueOn: calendarDate('2026-10-16'), open: cents(8000) },
    ],
    calendarDate('2026-09-01'),
    today,
  )
  expect(statement.broughtForward).toBe(4000)
  expect(statement.lines.map((line) => [line.words, line.balance])).toEqual([
    ['Invoice 2026-00030', 13000],
    ['Credit note 2026-00031', 12000],
    ['Payment', 8000],
    ['Payment undone', 12000],
  ])
  expect(statement).toMatchObject({ balance: 12000, credit: 0, ages: { '31-60': 8000, 'over-90': 4000 } })
})

test('PAY-3 money above what was asked shows as credit on the statement', () => {
  const paid: AccountEntry = { on: today, kind: 'payment', words: 'Payment', amount: cents(500) }
  expect(statementOfAccount([paid], [], today, today)).toMatchObject({ balance: -500, credit: 500 })
})

test('INV-4 an invoice number is the year of issue and its place in it', () => {
  expect(invoiceNumber(2026, 42)).toBe('2026-00042')
  expect(invoiceNumber(2026, 123456)).toBe('2026-123456')
  expect(partsOfInvoiceNumber('2026-00042')).toEqual({ year: 2026, place: 42 })
  for (const text of ['2026-42', '2026-00000', '2026-012345', '26-00042', ''])
    expect(partsOfInvoiceNumber(text), text).toBeNull()
  expect(() => invoiceNumber(2026, 0)).toThrow(RangeError)
})

test('INV-4 the judge of numbers names every gap and every double', () => {
  expect(gapsInNumbers([1, 2, 3])).toEqual({ missing: [], doubled: [] })
  expect(gapsInNumbers([5, 1, 2, 2])).toEqual({ missing: [3, 4], doubled: [2] })
})
