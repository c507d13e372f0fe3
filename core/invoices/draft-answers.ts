import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { InvoiceId, SiteId } from '../units/ids.ts'
import { findBuyer, findSiteOwner } from './billing-store.ts'
import { buyerAddress } from './buyer-address.ts'
import { type EditedDraft, judgeDraft } from './draft-edit.ts'
import { deleteDraft, insertDraft, replaceDraft } from './drafts-store.ts'
import { findInvoice, type WholeInvoice } from './one-invoice-store.ts'

interface AsSeen {
  readonly invoiceId: InvoiceId
  readonly version: number
}

/** An empty draft for a household, to be written by hand. */
export function startDraft(desk: Desk, { siteId }: { siteId: SiteId }): Promise<Result<{ invoiceId: InvoiceId }>> {
  return desk.write(async (books) => {
    const customerId = await findSiteOwner(books.read, books.officeId, siteId)
    const buyer = customerId === null ? null : await findBuyer(books.read, books.officeId, customerId, siteId)
    if (!buyer) return refused('RECORD_GONE', { what: 'This household' })
    const { currency, locale } = await readSettings(books.read, books.officeId)
    const invoiceId = await insertDraft(
      books.tx,
      books.officeId,
      {
        kind: 'invoice',
        customerId: buyer.customerId,
        siteId,
        visitId: null,
        correctsId: null,
        currency,
        draftedOn: books.today,
        suppliedOn: null,
        buyerAddress: buyerAddress(buyer, locale),
        buyerReference: '',
        note: '',
        taxExempt: buyer.taxExempt,
      },
      { lines: [], documentAmounts: [] },
    )
    await books.record({
      subjectKind: 'invoice',
      subjectId: invoiceId,
      siteId,
      verb: 'drafted',
      sentence: `An invoice for ${buyer.sortName} was begun by hand`,
    })
    return ok({ invoiceId })
  })
}

/** Saves what was edited on a draft, judged and reckoned again. A stale save is refused. */
export function saveDraft(
  desk: Desk,
  { draft, ...seen }: AsSeen & { draft: EditedDraft },
): Promise<Result<{ version: number }>> {
  return desk.write(async (books) => {
    const present = await presentDraft(books, seen)
    if (!present.ok) return present
    const { currency, minorDigits, kind, suppliedOn, siteId } = present.value
    if (kind === 'credit-note') return refused('CREDIT_NOTE_NOT_EDITED')
    const { locale } = await readSettings(books.read, books.officeId)
    const judged = judgeDraft(draft, { currency, locale, minorDigits })
    if (!judged.ok) return judged
    const words = { note: draft.note.trim(), buyerReference: draft.buyerReference.trim(), suppliedOn }
    await replaceDraft(books.tx, books.officeId, present.value, words, judged.value)
    await books.record({
      subjectKind: 'invoice',
      subjectId: seen.invoiceId,
      siteId,
      verb: 'changed',
      sentence: 'The draft was changed',
    })
    return ok({ version: seen.version + 1 })
  })
}

/** Takes a draft out of the books. It had no number, so none is missing. */
export function dropDraft(desk: Desk, seen: AsSeen): Promise<Result<Record<string, never>>> {
  return desk.write(async (books) => {
    const present = await presentDraft(books, seen)
    if (!present.ok) return present
    await deleteDraft(books.tx, books.officeId, seen.invoiceId)
    await books.record({
      subjectKind: 'invoice',
      subjectId: seen.invoiceId,
      siteId: present.value.siteId,
      verb: 'dropped',
      sentence: 'The draft was dropped',
    })
    return ok({})
  })
}

async function presentDraft(books: OpenBooks, seen: AsSeen): Promise<Result<WholeInvoice>> {
  const invoice = await findInvoice(books.read, books.officeId, seen.invoiceId)
  if (!invoice) return refused('RECORD_GONE', { what: 'This draft' })
  if (invoice.state === 'issued') return refused('INVOICE_ISSUED', { number: invoice.number })
  if (invoice.version !== seen.version)
    return refused('RECORD_CHANGED', { what: 'This draft', changes: changesOf(invoice) })
  return ok(invoice)
}

/** What the draft asks for now, for someone who had an older one before them. */
function changesOf(invoice: WholeInvoice): string {
  return `it now has ${invoice.lines.length} ${invoice.lines.length === 1 ? 'line' : 'lines'}`
}
