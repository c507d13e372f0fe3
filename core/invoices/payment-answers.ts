import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addMonths, type CalendarDate } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import type { CustomerId, InvoiceId, PaymentId } from '../units/ids.ts'
import { type Cents, cents, formatCents, NO_MONEY, negateCents } from '../units/money.ts'
import { findBuyer } from './billing-store.ts'
import type { Account } from './invoices-contract.ts'
import { listIssuedOf, listSettledInvoices } from './invoices-store.ts'
import { allocatePayment } from './payment-allocation.ts'
import {
  findPayment,
  insertPayment,
  insertShares,
  listPaymentsOf,
  listSharesOf,
  type PaymentRow,
} from './payments-store.ts'
import { creditOf, layCredit, openInvoices } from './settle-answers.ts'
import { type AccountEntry, statementOfAccount } from './statement-of-account.ts'

export interface PaymentIn {
  readonly customerId: CustomerId
  readonly invoiceId: InvoiceId | null
  readonly amount: Cents
  readonly receivedOn: CalendarDate
  readonly method: string
  readonly note: string
  readonly keepRest: boolean
}

export interface PaymentLaid {
  readonly paymentId: PaymentId
  readonly paid: { number: string; amount: Cents; left: Cents }[]
  readonly credit: Cents
}

/** Records money that came in, and lays it on what is open: the invoice that was named, then the oldest. */
export function recordPayment(desk: Desk, payment: PaymentIn): Promise<Result<PaymentLaid>> {
  return desk.write(async (books) => {
    const { locale, currency } = await readSettings(books.read, books.officeId)
    const buyer = await findBuyer(books.read, books.officeId, payment.customerId, null)
    if (!buyer) return refused('RECORD_GONE', { what: 'This customer' })
    if (payment.amount <= 0) return refused('PAYMENT_NOT_ABOVE_ZERO')
    if (payment.receivedOn > books.today)
      return refused('PAYMENT_IN_FUTURE', { date: longDate(payment.receivedOn, locale) })
    const open = openInvoices(await listSettledInvoices(books.read, books.officeId, payment.customerId))
    const { parts, left } = allocatePayment(payment.amount, open, payment.invoiceId)
    if (left > 0 && !payment.keepRest) {
      return refused('PAYMENT_ABOVE_OWED', {
        customer: buyer.sortName,
        owed: formatCents(cents(payment.amount - left), currency, locale),
        above: formatCents(left, currency, locale),
      })
    }
    const { customerId, receivedOn, amount, method } = payment
    const entry = {
      customerId,
      receivedOn,
      amount,
      method,
      note: payment.note.trim(),
      recordedAt: books.now,
      by: books.by,
      undoesId: null,
    }
    const paymentId = await insertPayment(books.tx, books.officeId, entry)
    await insertShares(books.tx, books.officeId, paymentId, parts)
    const paid = parts.map((part) => {
      const invoice = open.find((each) => each.invoiceId === part.invoiceId)
      return { number: invoice?.number ?? '', amount: part.amount, left: cents((invoice?.open ?? 0) - part.amount) }
    })
    await books.record({
      subjectKind: 'customer',
      subjectId: customerId,
      verb: 'paid',
      sentence: `${buyer.sortName} paid ${formatCents(amount, currency, locale)}, ${method}`,
      details: paid.map((each) => each.number).join(', '),
    })
    return ok({ paymentId, paid, credit: left })
  })
}

/** Undoes a payment by a counter-entry: what it paid is owed again. The payment itself stays in the books. */
export function undoPayment(
  desk: Desk,
  { paymentId, reason }: { paymentId: PaymentId; reason: string },
): Promise<Result<Record<string, never>>> {
  return desk.write(async (books) => {
    const payment = await findPayment(books.read, books.officeId, paymentId)
    if (!payment || payment.undoesId !== null) return refused('RECORD_GONE', { what: 'This payment' })
    if (payment.undone) return refused('PAYMENT_UNDONE')
    const { locale, currency } = await readSettings(books.read, books.officeId)
    const counterId = await insertPayment(books.tx, books.officeId, {
      customerId: payment.customerId,
      receivedOn: books.today,
      amount: negateCents(payment.amount),
      method: payment.method,
      note: reason.trim(),
      recordedAt: books.now,
      by: books.by,
      undoesId: paymentId,
    })
    const shares = await listSharesOf(books.read, books.officeId, { paymentId })
    await insertShares(
      books.tx,
      books.officeId,
      counterId,
      shares.map((share) => ({ invoiceId: share.invoiceId, amount: negateCents(share.amount) })),
    )
    await layCredit(books, payment.customerId)
    await books.record({
      subjectKind: 'customer',
      subjectId: payment.customerId,
      verb: 'undone',
      sentence: `A payment of ${formatCents(payment.amount, currency, locale)} was undone`,
      details: reason.trim(),
    })
    return ok({})
  })
}

/** The account of a customer: entries with balances, what is open, what was paid. A year back when no beginning is given. */
export async function customerAccount(
  desk: Pick<Desk, 'read' | 'officeId' | 'today'>,
  { customerId, from }: { customerId: CustomerId; from: CalendarDate | null },
): Promise<Result<Account>> {
  const buyer = await findBuyer(desk.read, desk.officeId, customerId, null)
  if (!buyer) return refused('RECORD_GONE', { what: 'This customer' })
  const { currency } = await readSettings(desk.read, desk.officeId)
  const payments = await listPaymentsOf(desk.read, desk.officeId, customerId)
  const open = openInvoices(await listSettledInvoices(desk.read, desk.officeId, customerId))
  const entries = [
    ...(await listIssuedOf(desk.read, desk.officeId, customerId)).map(documentEntry),
    ...payments.map(paymentEntry),
  ]
  const statement = statementOfAccount(entries, open, from ?? addMonths(desk.today, -12), desk.today)
  return ok({
    customerId,
    customer: buyer.sortName,
    reference: buyer.reference,
    currency,
    ...statement,
    lines: [...statement.lines],
    ages: { ...statement.ages },
    credit: creditOf(payments),
    open,
    payments: payments.filter((payment) => payment.undoesId === null).map(shownPayment),
  })
}

function shownPayment({
  paymentId,
  receivedOn,
  amount,
  method,
  note,
  undone,
}: PaymentRow): Account['payments'][number] {
  return { paymentId, receivedOn, amount, method, note, undone }
}

function documentEntry(document: {
  kind: 'invoice' | 'credit-note'
  number: string
  issuedOn: CalendarDate
  total: Cents
}): AccountEntry {
  const name = document.kind === 'invoice' ? 'Invoice' : 'Credit note'
  return { on: document.issuedOn, kind: document.kind, words: `${name} ${document.number}`, amount: document.total }
}

function paymentEntry(payment: PaymentRow): AccountEntry {
  const undoes = payment.undoesId !== null
  return {
    on: payment.receivedOn,
    kind: undoes ? 'payment-undone' : 'payment',
    words: undoes ? 'Payment undone' : `Payment, ${payment.method}`,
    amount: payment.amount < 0 ? negateCents(payment.amount) : payment.amount || NO_MONEY,
  }
}
