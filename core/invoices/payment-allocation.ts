import type { CalendarDate } from '../units/calendar-date.ts'
import type { InvoiceId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'

/** An invoice with something open on it. */
export interface OpenInvoice {
  readonly invoiceId: InvoiceId
  readonly number: string
  readonly dueOn: CalendarDate
  /** Above zero: what is still owed on it. */
  readonly open: Cents
}

export interface AllocatedPart {
  readonly invoiceId: InvoiceId
  readonly amount: Cents
}

export interface PaymentAllocation {
  readonly parts: readonly AllocatedPart[]
  /** What no invoice asked for: it stays as the customer's credit. */
  readonly left: Cents
}

/**
 * Lays an amount on what is open: the invoice that fell due first is paid first, the lower number first on the same day.
 * `first` names an invoice the customer asked to pay; it goes before the others. The last one may be paid in part.
 */
export function allocatePayment(
  amount: Cents,
  openInvoices: readonly OpenInvoice[],
  first: InvoiceId | null = null,
): PaymentAllocation {
  const rank = (invoice: OpenInvoice): string =>
    `${invoice.invoiceId === first ? 0 : 1} ${invoice.dueOn} ${invoice.number.padStart(12)}`
  const inOrder = openInvoices.filter((each) => each.open > 0).sort((a, b) => (rank(a) < rank(b) ? -1 : 1))
  let left: number = amount
  const parts: AllocatedPart[] = []
  for (const invoice of inOrder) {
    const part = Math.min(left, invoice.open)
    if (part <= 0) break
    parts.push({ invoiceId: invoice.invoiceId, amount: cents(part) })
    left -= part
  }
  return { parts, left: cents(left) }
}
