import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, partsOf } from '../units/calendar-date.ts'
import type { InvoiceId } from '../units/ids.ts'
import { cents, NO_MONEY } from '../units/money.ts'
import { type Buyer, findBuyer } from './billing-store.ts'
import { buyerAddress } from './buyer-address.ts'
import { checkInvoice } from './check-invoice.ts'
import { creditContent } from './credit-answers.ts'
import { markIssued, replaceDraft, takeNumber } from './drafts-store.ts'
import { type InvoiceNumber, invoiceNumber } from './invoice-number.ts'
import { findInvoice, type WholeInvoice } from './one-invoice-store.ts'
import { listPaymentsOf } from './payments-store.ts'
import { creditOf, freeOverpaid, layCredit } from './settle-answers.ts'

export interface IssuedInvoice {
  readonly invoiceId: InvoiceId
  readonly number: InvoiceNumber
}

/** Issues drafts in the order given, in one transaction: all of them, or none. */
export function issueTogether(desk: Desk, invoiceIds: readonly InvoiceId[]): Promise<Result<IssuedInvoice[]>> {
  return desk.write(async (books) => {
    const settings = await readSettings(books.read, books.officeId)
    const issued: IssuedInvoice[] = []
    for (const invoiceId of invoiceIds) {
      const one = await issueDraft(books, settings, invoiceId)
      if (!one.ok) return one
      issued.push(one.value)
    }
    return ok(issued)
  })
}

export async function issueInvoices(
  desk: Desk,
  { invoiceIds }: { invoiceIds: readonly InvoiceId[] },
): Promise<Result<{ issued: IssuedInvoice[] }>> {
  const issued = await issueTogether(desk, invoiceIds)
  return issued.ok ? ok({ issued: issued.value }) : issued
}

/** Issues one draft inside a transaction: checks it, takes its number, freezes who is billed, uses the customer's credit. */
export async function issueDraft(
  books: OpenBooks,
  settings: OfficeSettings,
  invoiceId: InvoiceId,
): Promise<Result<IssuedInvoice>> {
  const found = await findInvoice(books.read, books.officeId, invoiceId)
  if (!found) return refused('RECORD_GONE', { what: 'This draft' })
  if (found.state === 'issued') return refused('INVOICE_ISSUED', { number: found.number })
  const buyer = await findBuyer(books.read, books.officeId, found.customerId, found.siteId)
  if (!buyer) return refused('RECORD_GONE', { what: 'The customer' })
  if (found.lines.length === 0) return refused('INVOICE_EMPTY', { customer: buyer.sortName })
  const fresh = found.kind === 'credit-note' ? await freshCreditNote(books, found) : ok(found)
  if (!fresh.ok) return fresh
  const complaint = checkStored(fresh.value)[0]
  if (complaint !== undefined) return refused('INVOICE_WRONG_SUM', { complaint })
  return ok(await issueChecked(books, settings, fresh.value, buyer))
}

async function issueChecked(
  books: OpenBooks,
  settings: OfficeSettings,
  invoice: WholeInvoice,
  buyer: Buyer,
): Promise<IssuedInvoice> {
  const { year } = partsOf(books.today)
  const place = await takeNumber(books.tx, books.officeId, year)
  const number = invoiceNumber(year, place)
  const owed = cents(invoice.totals.withTax + invoice.totals.rounding)
  const isInvoice = invoice.kind === 'invoice'
  const credit = isInvoice ? creditOf(await listPaymentsOf(books.read, books.officeId, invoice.customerId)) : NO_MONEY
  const prepaid = cents(Math.min(credit, owed))
  await markIssued(books.tx, books.officeId, invoice.invoiceId, {
    year,
    number: place,
    numberText: number,
    issuedOn: books.today,
    payBy: isInvoice ? addDays(books.today, buyer.paymentTermsDays ?? settings.paymentTermsDays) : null,
    buyerAddress: buyerAddress(buyer, settings.locale),
    taxExempt: invoice.taxExempt,
    prepaid,
    due: cents(owed - prepaid),
    issuedAt: books.now,
    issuedBy: books.by,
  })
  if (invoice.correctsId !== null && !isInvoice) await freeOverpaid(books, invoice.customerId, invoice.correctsId)
  await layCredit(books, invoice.customerId)
  await books.record({
    subjectKind: 'invoice',
    subjectId: invoice.invoiceId,
    siteId: invoice.siteId,
    verb: 'issued',
    sentence: `${isInvoice ? 'Invoice' : 'Credit note'} ${number} was issued to ${buyer.sortName}`,
  })
  return { invoiceId: invoice.invoiceId, number }
}

/** A credit note is reckoned again when it goes out: another one may have been issued since it was drafted. */
async function freshCreditNote(books: OpenBooks, note: WholeInvoice): Promise<Result<WholeInvoice>> {
  const corrected = note.correctsId === null ? null : await findInvoice(books.read, books.officeId, note.correctsId)
  if (!corrected) return refused('RECORD_GONE', { what: 'The invoice that is to be credited' })
  const content = await creditContent(books, corrected, note.lines)
  if (!content.ok) return content
  await replaceDraft(books.tx, books.officeId, note, note, content.value)
  const fresh = await findInvoice(books.read, books.officeId, note.invoiceId)
  return fresh ? ok(fresh) : refused('RECORD_GONE', { what: 'This draft' })
}

/** The judge's word on an invoice as it stands in the books. */
export function checkStored(invoice: WholeInvoice): string[] {
  const { totals } = invoice
  return checkInvoice(
    { ...invoice, prepaid: totals.prepaid, rounding: totals.rounding },
    { ...totals, lineNets: invoice.lines.map((line) => line.net) },
  )
}
