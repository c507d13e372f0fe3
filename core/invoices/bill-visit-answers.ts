import type { OpenBooks } from '../answering.ts'
import type { Happening, RecordedVisit } from '../happenings.ts'
import { ok, type Result } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import { type Buyer, findBuyer, pricedParts } from './billing-store.ts'
import { buyerAddress } from './buyer-address.ts'
import { creditNoteOf } from './credit-answers.ts'
import { type BillableTask, type DraftLine, draftLines, workDone } from './draft-invoice.ts'
import { deleteDraft, insertDraft, type NewDraft, replaceDraft } from './drafts-store.ts'
import type { InvoiceOfVisit } from './invoices-contract.ts'
import { listInvoicesOfVisit } from './invoices-store.ts'
import { findInvoice, listCreditNotesOf } from './one-invoice-store.ts'
import { asksForTheSame, comesFromVisit, redraft } from './redraft.ts'

/** What follows for the invoices when a visit is recorded or corrected, inside the same transaction. */
export async function billVisits(books: OpenBooks, happening: Happening): Promise<Result<void>> {
  if (happening.kind === 'visit-recorded') return billVisit(books, happening.visit)
  if (happening.kind === 'visit-corrected') return billVisit(books, happening.after)
  return ok(undefined)
}

/** The bill that a visit asks for today, ready to be written. */
interface VisitBill {
  readonly buyer: Buyer
  readonly settings: OfficeSettings
  readonly lines: readonly DraftLine[]
  readonly note: string
}

async function billVisit(books: OpenBooks, visit: RecordedVisit): Promise<Result<void>> {
  const bill = await billOf(books, visit)
  if (!bill) return ok(undefined)
  const before = await listInvoicesOfVisit(books.read, books.officeId, visit.visitId)
  const draft = before.find((each) => each.kind === 'invoice' && each.state === 'draft')
  if (draft) await renewDraft(books, visit, bill, draft)
  else if (before.length === 0) await draftFor(books, visit, bill)
  else await proposeCreditNote(books, visit, bill, before)
  return ok(undefined)
}

async function billOf(books: OpenBooks, visit: RecordedVisit): Promise<VisitBill | null> {
  const buyer = await findBuyer(books.read, books.officeId, visit.customerId, visit.siteId)
  if (!buyer) return null
  const settings = await readSettings(books.read, books.officeId)
  const done = visit.outcome === 'done' ? visit.tasks.filter((task) => task.done) : []
  const parts = await pricedParts(
    books.read,
    books.officeId,
    done.flatMap((task) => (task.partId === null ? [] : [task.partId])),
  )
  const tasks = done.map(
    (task): BillableTask => ({
      taskId: task.taskId,
      kind: task.kind,
      description: task.description,
      part: (task.partId === null ? null : parts.get(task.partId)) ?? null,
      pieces: task.quantity,
      minutes: task.minutes,
      free: task.freeOfCharge,
    }),
  )
  const callFree = visit.callFree || visit.outcome !== 'done'
  const lines = draftLines(
    { doneOn: visit.doneOn, town: buyer.siteTown, callFree, tasks },
    {
      currency: settings.currency,
      locale: settings.locale,
      callOut: settings.callOutCents,
      labourPerHour: settings.labourCentsPerHour,
      taxRate: settings.taxRate,
      taxExempt: buyer.taxExempt,
    },
  )
  return { buyer, settings, lines, note: workDone(tasks).join('\n') }
}

async function draftFor(
  books: OpenBooks,
  visit: RecordedVisit,
  { buyer, settings, lines, note }: VisitBill,
): Promise<void> {
  if (lines.length === 0) return
  const draft: NewDraft = {
    kind: 'invoice',
    customerId: buyer.customerId,
    siteId: visit.siteId,
    visitId: visit.visitId,
    correctsId: null,
    currency: settings.currency,
    draftedOn: books.today,
    suppliedOn: visit.doneOn,
    buyerAddress: buyerAddress(buyer, settings.locale),
    buyerReference: '',
    note,
    taxExempt: buyer.taxExempt,
  }
  const invoiceId = await insertDraft(books.tx, books.officeId, draft, { lines, documentAmounts: [] })
  await books.record({
    subjectKind: 'invoice',
    subjectId: invoiceId,
    siteId: visit.siteId,
    verb: 'drafted',
    sentence: `An invoice for ${buyer.sortName} was drafted from the visit`,
  })
}

/** A draft follows its visit: the visit's lines are taken afresh, what was written by hand stays. A draft left with nothing is dropped. */
async function renewDraft(
  books: OpenBooks,
  visit: RecordedVisit,
  bill: VisitBill,
  draft: InvoiceOfVisit,
): Promise<void> {
  const present = await findInvoice(books.read, books.officeId, draft.invoiceId)
  if (!present) return
  const lines = redraft(present.lines, bill.lines)
  const log = { subjectKind: 'invoice', subjectId: draft.invoiceId, siteId: visit.siteId }
  if (lines.length === 0) {
    await deleteDraft(books.tx, books.officeId, draft.invoiceId)
    await books.record({
      ...log,
      verb: 'dropped',
      sentence: `The draft for ${bill.buyer.sortName} was dropped: the visit charges nothing any more`,
    })
    return
  }
  if (asksForTheSame(lines, present.lines) && present.suppliedOn === visit.doneOn && present.note === bill.note) return
  await replaceDraft(
    books.tx,
    books.officeId,
    present,
    { note: bill.note, buyerReference: present.buyerReference, suppliedOn: visit.doneOn },
    { lines, documentAmounts: present.documentAmounts },
  )
  await books.record({
    ...log,
    verb: 'changed',
    sentence: `The draft for ${bill.buyer.sortName} follows the corrected visit`,
  })
}

/**
 * The invoice has gone out and asks for something else than the corrected visit: two drafts are laid ready, a credit note for the whole of it and
 * a new invoice. Nothing goes out by itself.
 */
async function proposeCreditNote(
  books: OpenBooks,
  visit: RecordedVisit,
  bill: VisitBill,
  before: readonly InvoiceOfVisit[],
): Promise<void> {
  const issued = before.filter((each) => each.kind === 'invoice' && each.state === 'issued').at(-1)
  if (!issued) return
  const invoice = await findInvoice(books.read, books.officeId, issued.invoiceId)
  if (!invoice || asksForTheSame(bill.lines, invoice.lines.filter(comesFromVisit))) return
  const notes = await listCreditNotesOf(books.read, books.officeId, issued.invoiceId)
  if (!notes.some((note) => note.state === 'draft')) {
    const drafted = await creditNoteOf(books, invoice, null, `The visit of ${visit.doneOn} was corrected.`)
    // All of it was given back before: only the new invoice is wanted.
    if (!drafted.ok && drafted.problem.code !== 'CREDIT_NOTHING_LEFT') return
  }
  await draftFor(books, visit, bill)
}
