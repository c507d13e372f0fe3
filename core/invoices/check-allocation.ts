import type { InvoiceId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { OpenInvoice, PaymentAllocation } from './payment-allocation.ts'

/** Judge of an allocation: nothing lost, nothing paid twice, an older invoice never left open for a younger one. */
export function checkAllocation(
  amount: Cents,
  openInvoices: readonly OpenInvoice[],
  first: InvoiceId | null,
  allocation: PaymentAllocation,
): string[] {
  const complaints: string[] = []
  const together = allocation.parts.reduce((sum, part) => sum + part.amount, 0)
  if (together + allocation.left !== amount) complaints.push('The parts and the rest are not the amount.')
  const paid = new Map(allocation.parts.map((part) => [part.invoiceId, part.amount]))
  if (paid.size !== allocation.parts.length) complaints.push('An invoice is paid twice.')
  const restOf = (invoice: OpenInvoice): number => invoice.open - (paid.get(invoice.invoiceId) ?? 0)
  for (const invoice of openInvoices) {
    if (restOf(invoice) < 0) complaints.push(`${invoice.number} is paid above what it owes.`)
    if (restOf(invoice) > 0 && allocation.left > 0)
      complaints.push(`${invoice.number} stays open though money is left.`)
    const younger = openInvoices.filter((other) => other.dueOn > invoice.dueOn && other.invoiceId !== first)
    if (restOf(invoice) > 0 && younger.some((other) => paid.has(other.invoiceId)))
      complaints.push(`${invoice.number} stays open though a younger one is paid.`)
  }
  return complaints
}
