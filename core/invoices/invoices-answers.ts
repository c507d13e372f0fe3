import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { InvoiceId, VisitId } from '../units/ids.ts'
import { cents } from '../units/money.ts'
import { ageing } from './ageing.ts'
import { findBuyer } from './billing-store.ts'
import { creditableInvoice, draftCreditNote } from './credit-answers.ts'
import { dropDraft, saveDraft, startDraft } from './draft-answers.ts'
import { listInvoices } from './invoice-list-store.ts'
import {
  type InvoiceListAsked,
  type InvoicePage,
  type InvoiceSheet,
  type InvoiceSums,
  invoicesContract,
  SORTS_OF_PILE,
} from './invoices-contract.ts'
import { countDrafts, listInvoicesOfVisit, listOpenByDay, listSettledInvoices } from './invoices-store.ts'
import { issueInvoices } from './issue-answers.ts'
import { findInvoice, listCreditNotesOf, type WholeInvoice } from './one-invoice-store.ts'
import { customerAccount, recordPayment, undoPayment } from './payment-answers.ts'
import { listPaymentsOf, listSharesOf } from './payments-store.ts'

async function list(desk: Desk, asked: InvoiceListAsked): Promise<Result<InvoicePage>> {
  const sort = SORTS_OF_PILE[asked.pile].includes(asked.sort) ? asked.sort : 'written'
  return ok(await listInvoices(desk.read, desk.dialect, desk.officeId, { ...asked, sort }))
}

async function sums(desk: Desk): Promise<Result<InvoiceSums>> {
  const byDay = await listOpenByDay(desk.read, desk.officeId)
  const drafts = await countDrafts(desk.read, desk.officeId)
  const unpaid = byDay.reduce((sum, day) => sum + day.invoices, 0)
  return ok({
    drafts: drafts.count,
    draftsTotal: drafts.total,
    lastDraft: drafts.last,
    unpaid,
    ages: { ...ageing(byDay, desk.today) },
  })
}

async function open(desk: Desk, { invoiceId }: { invoiceId: InvoiceId }): Promise<Result<InvoiceSheet>> {
  const invoice = await findInvoice(desk.read, desk.officeId, invoiceId)
  if (!invoice) return refused('RECORD_GONE', { what: 'This invoice' })
  const buyer = await findBuyer(desk.read, desk.officeId, invoice.customerId, invoice.siteId)
  const corrected = invoice.correctsId === null ? null : await findInvoice(desk.read, desk.officeId, invoice.correctsId)
  const { lines } = await creditableInvoice(desk, invoice)
  const isOut = invoice.kind === 'invoice' && invoice.state === 'issued'
  const { minorDigits: _, correctsId: __, ...shown } = invoice
  return ok({
    ...shown,
    customer: buyer?.sortName ?? '',
    reference: buyer?.reference ?? '',
    lines: [...invoice.lines],
    documentAmounts: [...invoice.documentAmounts],
    totals: { ...invoice.totals, taxByRate: [...invoice.totals.taxByRate] },
    corrects: corrected ? { invoiceId: corrected.invoiceId, number: corrected.number } : null,
    creditNotes: await listCreditNotesOf(desk.read, desk.officeId, invoiceId),
    payments: isOut ? await paymentsOn(desk, invoice) : [],
    open: await stillOpen(desk, invoice, isOut),
    creditable: isOut
      ? lines.map((line) => ({ position: line.position, left: line.quantity - line.creditedQuantity }))
      : [],
  })
}

async function stillOpen(desk: Desk, invoice: WholeInvoice, isOut: boolean): Promise<InvoiceSheet['open']> {
  if (!isOut) return cents(0)
  const settled = await listSettledInvoices(desk.read, desk.officeId, invoice.customerId)
  return cents(Math.max(0, settled.find((each) => each.invoiceId === invoice.invoiceId)?.open ?? 0))
}

async function paymentsOn(desk: Desk, invoice: WholeInvoice): Promise<InvoiceSheet['payments']> {
  const shares = await listSharesOf(desk.read, desk.officeId, { invoiceId: invoice.invoiceId })
  const payments = await listPaymentsOf(desk.read, desk.officeId, invoice.customerId)
  return payments
    .filter((payment) => payment.undoesId === null)
    .flatMap(({ paymentId, receivedOn, method, note, undone }) => {
      const share = shares.find((each) => each.paymentId === paymentId)
      return share ? [{ paymentId, receivedOn, method, note, undone, amount: share.amount }] : []
    })
}

const door = implement(invoicesContract).$context<Desk>()
export const invoicesAnswers = door.router({
  list: door.list.handler(answer(list)),
  sums: door.sums.handler(answer(sums)),
  ofVisit: door.ofVisit.handler(
    answer(async (desk: Desk, { visitId }: { visitId: VisitId }) =>
      ok(await listInvoicesOfVisit(desk.read, desk.officeId, visitId)),
    ),
  ),
  open: door.open.handler(answer(open)),
  startDraft: door.startDraft.handler(answer(startDraft)),
  saveDraft: door.saveDraft.handler(answer(saveDraft)),
  dropDraft: door.dropDraft.handler(answer(dropDraft)),
  issue: door.issue.handler(answer(issueInvoices)),
  draftCreditNote: door.draftCreditNote.handler(answer(draftCreditNote)),
  recordPayment: door.recordPayment.handler(answer(recordPayment)),
  undoPayment: door.undoPayment.handler(answer(undoPayment)),
  account: door.account.handler(answer(customerAccount)),
})
