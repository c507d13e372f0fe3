import type { OpenBooks } from '../answering.ts'
import type { CustomerId, InvoiceId } from '../units/ids.ts'
import { addCents, type Cents, cents } from '../units/money.ts'
import { listSettledInvoices, type SettledInvoice } from './invoices-store.ts'
import { allocatePayment, type OpenInvoice } from './payment-allocation.ts'
import { insertShares, listPaymentsOf, listSharesOf, type PaymentRow } from './payments-store.ts'

/** Payments with money left that no invoice asked for, the oldest first. */
export function withCreditLeft(payments: readonly PaymentRow[]): PaymentRow[] {
  return payments.filter((payment) => payment.undoesId === null && !payment.undone && payment.left > 0)
}

/** A customer's credit: what was paid and lies on no invoice. */
export function creditOf(payments: readonly PaymentRow[]): Cents {
  return addCents(...withCreditLeft(payments).map((payment) => payment.left))
}

export function openInvoices(settled: readonly SettledInvoice[]): OpenInvoice[] {
  return settled.filter((invoice) => invoice.open > 0)
}

/** Lays what credit a customer has on what is open, oldest on oldest, so that credit is left only when nothing is owed. */
export async function layCredit(books: OpenBooks, customerId: CustomerId): Promise<void> {
  for (const payment of withCreditLeft(await listPaymentsOf(books.read, books.officeId, customerId))) {
    const open = openInvoices(await listSettledInvoices(books.read, books.officeId, customerId))
    if (open.length === 0) return
    const { parts } = allocatePayment(payment.left, open)
    await insertShares(books.tx, books.officeId, payment.paymentId, parts)
  }
}

/** Takes money off an invoice that is paid above what it still asks for, from the latest payment backwards. It becomes credit. */
export async function freeOverpaid(books: OpenBooks, customerId: CustomerId, invoiceId: InvoiceId): Promise<void> {
  const settled = await listSettledInvoices(books.read, books.officeId, customerId)
  let above = -(settled.find((invoice) => invoice.invoiceId === invoiceId)?.open ?? 0)
  if (above <= 0) return
  const undone = new Set(
    (await listPaymentsOf(books.read, books.officeId, customerId)).flatMap((payment) =>
      payment.undone || payment.undoesId !== null ? [payment.paymentId] : [],
    ),
  )
  const shares = (await listSharesOf(books.read, books.officeId, { invoiceId })).filter(
    (share) => !undone.has(share.paymentId),
  )
  for (const share of shares.reverse()) {
    const freed = Math.min(above, share.amount)
    if (freed <= 0) continue
    await insertShares(books.tx, books.officeId, share.paymentId, [{ invoiceId, amount: cents(-freed) }])
    above -= freed
  }
}
