import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { InvoiceId } from '../units/ids.ts'
import { cents, NO_MONEY } from '../units/money.ts'
import { findBuyer } from './billing-store.ts'
import { buyerAddress } from './buyer-address.ts'
import { type CreditableInvoice, type CreditNoteContent, creditLines, creditWhole } from './credit-note.ts'
import { insertDraft } from './drafts-store.ts'
import { creditedSoFar, findInvoice, type WholeInvoice } from './one-invoice-store.ts'

export interface CreditNoteWanted {
  readonly invoiceId: InvoiceId
  readonly reason: string
  /** Quantities in thousandths by position; null gives back all that is left. */
  readonly lines: readonly { readonly position: number; readonly quantity: number }[] | null
}

/** Drafts a credit note for an issued invoice. */
export function draftCreditNote(desk: Desk, wanted: CreditNoteWanted): Promise<Result<{ invoiceId: InvoiceId }>> {
  return desk.write(async (books) => {
    const invoice = await findInvoice(books.read, books.officeId, wanted.invoiceId)
    if (!invoice) return refused('RECORD_GONE', { what: 'This invoice' })
    if (invoice.state === 'draft') return refused('INVOICE_NOT_ISSUED')
    if (invoice.kind === 'credit-note') return refused('CREDIT_OF_CREDIT_NOTE', { number: invoice.number })
    return creditNoteOf(books, invoice, wanted.lines, wanted.reason)
  })
}

export async function creditNoteOf(
  books: OpenBooks,
  invoice: WholeInvoice,
  lines: CreditNoteWanted['lines'],
  reason: string,
): Promise<Result<{ invoiceId: InvoiceId }>> {
  const content = await creditContent(books, invoice, lines)
  if (!content.ok) return content
  const buyer = await findBuyer(books.read, books.officeId, invoice.customerId, invoice.siteId)
  if (!buyer) return refused('RECORD_GONE', { what: 'The customer' })
  const { locale } = await readSettings(books.read, books.officeId)
  const invoiceId = await insertDraft(
    books.tx,
    books.officeId,
    {
      kind: 'credit-note',
      customerId: invoice.customerId,
      siteId: invoice.siteId,
      visitId: invoice.visitId,
      correctsId: invoice.invoiceId,
      currency: invoice.currency,
      draftedOn: books.today,
      suppliedOn: invoice.suppliedOn,
      buyerAddress: buyerAddress(buyer, locale),
      buyerReference: invoice.buyerReference,
      note: reason.trim(),
      taxExempt: invoice.taxExempt,
    },
    content.value,
  )
  await books.record({
    subjectKind: 'invoice',
    subjectId: invoiceId,
    siteId: invoice.siteId,
    verb: 'drafted',
    sentence: `A credit note for ${invoice.number} was drafted`,
    details: reason.trim(),
  })
  return ok({ invoiceId })
}

/** What a credit note for these lines holds, held against what issued credit notes have given back so far. */
export async function creditContent(
  books: Pick<OpenBooks, 'read' | 'officeId'>,
  invoice: WholeInvoice,
  wanted: CreditNoteWanted['lines'],
): Promise<Result<CreditNoteContent>> {
  const creditable = await creditableInvoice(books, invoice)
  if (creditable.lines.every((line) => line.quantity <= line.creditedQuantity))
    return refused('CREDIT_NOTHING_LEFT', { number: invoice.number })
  if (wanted === null) return ok(creditWhole(creditable))
  const choice = new Map<number, number>()
  for (const { position, quantity: given } of wanted) {
    const line = creditable.lines.find((each) => each.position === position)
    if (given === 0) continue
    const left = line ? line.quantity - line.creditedQuantity : 0
    if (given < 0 || given > left) {
      return refused('CREDIT_ABOVE_INVOICED', { line: position, wanted: given / 1000, left: left / 1000 })
    }
    choice.set(position, given)
  }
  return choice.size === 0 ? refused('CREDIT_NOTHING_CHOSEN') : ok(creditLines(creditable, choice))
}

export async function creditableInvoice(
  books: Pick<OpenBooks, 'read' | 'officeId'>,
  invoice: WholeInvoice,
): Promise<CreditableInvoice> {
  const credited = await creditedSoFar(books.read, books.officeId, invoice.invoiceId)
  return {
    lines: invoice.lines.map((line) => {
      const back = credited.lines.get(line.position)
      return {
        ...line,
        creditedQuantity: back?.quantity ?? 0,
        creditedAllowance: back?.allowance ?? NO_MONEY,
        creditedCharge: back?.charge ?? NO_MONEY,
      }
    }),
    documentAmounts: invoice.documentAmounts.map((each) => ({
      ...each,
      credited: credited.amounts.get(each.position) ?? NO_MONEY,
    })),
    owed: cents(invoice.totals.withTax + invoice.totals.rounding),
    creditedTogether: credited.together,
    minorDigits: invoice.minorDigits,
  }
}
