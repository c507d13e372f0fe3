import type { Desk, PaperAnswer, ReadyPaper } from '../answering.ts'
import type { PaperFacts } from '../paper/paper.ts'
import { ok, type Result, refused } from '../result.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { type CalendarDate, calendarDate, isCalendarDate } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import { customerIdSchema, type InvoiceId, invoiceIdSchema } from '../units/ids.ts'
import { findBuyer } from './billing-store.ts'
import { buyerAddress } from './buyer-address.ts'
import { partsOfInvoiceNumber } from './invoice-number.ts'
import { type InvoicePage, type LetterPaper, writeInvoices } from './invoice-paper.ts'
import { listDraftsSupplied, listIssuedOn } from './invoices-store.ts'
import { findInvoice, findInvoiceByNumber } from './one-invoice-store.ts'
import { customerAccount } from './payment-answers.ts'
import { writeStatement } from './statement-paper.ts'

/** `/papers/invoices/2026-00042.pdf`, or `/papers/invoices/draft-12.pdf` for a draft to look at. */
const invoicePaper: PaperAnswer = {
  address: '/papers/invoices/:number',
  make: async (desk, names) => {
    const name = names.number ?? ''
    const invoiceId = await keyOf(desk, name)
    if (invoiceId === null) return refused('RECORD_GONE', { what: `Invoice ${name}` })
    return invoicesAs(desk, [invoiceId], `invoice-${name}.pdf`, `Invoice ${name}`)
  },
}

/** `/papers/invoices-of/2026-12-01.pdf`: what was issued that day, and with `?drafts=ready` the drafts for what was
 * done that day, with `?drafts=ready` all that stand ready then. */
const dayPaper: PaperAnswer = {
  address: '/papers/invoices-of/:day',
  make: (desk, names, query) => {
    const day = names.day ?? ''
    if (!isCalendarDate(day)) return Promise.resolve(refused('PAPER_UNKNOWN'))
    return invoicesOfDay(desk, calendarDate(day), DRAFTS_WANTED[query.get('drafts') ?? ''] ?? null)
  },
}

/** `/papers/statements/17.pdf`: the statement of account of a customer, by key. */
const statementPaper: PaperAnswer = {
  address: '/papers/statements/:customer',
  make: async (desk, names) => {
    const customerId = customerIdSchema.safeParse(Number(names.customer))
    if (!customerId.success) return refused('PAPER_UNKNOWN')
    const account = await customerAccount(desk, { customerId: customerId.data, from: null })
    if (!account.ok) return account
    const { office, facts, locale } = await letterPaper(desk, 'Statement of account')
    const buyer = await findBuyer(desk.read, desk.officeId, customerId.data, null)
    const page = { account: account.value, buyerAddress: buyer ? buyerAddress(buyer, locale) : account.value.customer }
    return ok(pdf(`statement-${account.value.reference}.pdf`, (sink) => writeStatement(page, office, facts, sink)))
  },
}

export const INVOICE_PAPERS: readonly PaperAnswer[] = [invoicePaper, dayPaper, statementPaper]

const DRAFTS_WANTED: Readonly<Record<string, 'on' | 'until'>> = { '1': 'on', ready: 'until' }

/** The invoices of a day as one file, in the order of their numbers; drafts, when asked for, behind them. */
export async function invoicesOfDay(
  desk: Desk,
  day: CalendarDate,
  drafted: 'on' | 'until' | null,
): Promise<Result<ReadyPaper>> {
  const issued = await listIssuedOn(desk.read, desk.officeId, day)
  const drafts = drafted ? await listDraftsSupplied(desk.read, desk.officeId, drafted, day) : []
  const { locale } = await readSettings(desk.read, desk.officeId)
  if (issued.length + drafts.length === 0) return refused('INVOICE_NONE_OF_DAY', { date: longDate(day, locale) })
  return invoicesAs(desk, [...issued, ...drafts], `invoices-${day}.pdf`, `Invoices of ${day}`)
}

async function invoicesAs(
  desk: Desk,
  ids: readonly InvoiceId[],
  fileName: string,
  title: string,
): Promise<Result<ReadyPaper>> {
  const pages: InvoicePage[] = []
  for (const invoiceId of ids) {
    const invoice = await findInvoice(desk.read, desk.officeId, invoiceId)
    if (!invoice) continue
    const corrected =
      invoice.correctsId === null ? null : await findInvoice(desk.read, desk.officeId, invoice.correctsId)
    const buyer = await findBuyer(desk.read, desk.officeId, invoice.customerId, invoice.siteId)
    pages.push({ invoice, corrects: corrected?.number ?? '', reference: buyer?.reference ?? '' })
  }
  const { office, facts } = await letterPaper(desk, title)
  return ok(pdf(fileName, (sink) => writeInvoices(pages, office, facts, sink)))
}

function pdf(fileName: string, write: (sink: Parameters<ReadyPaper['write']>[0]) => Promise<unknown>): ReadyPaper {
  return { fileName, contentType: 'application/pdf', write: async (sink) => void (await write(sink)) }
}

async function keyOf(desk: Desk, name: string): Promise<InvoiceId | null> {
  const draft = /^draft-(\d+)$/.exec(name)
  if (draft) {
    const key = invoiceIdSchema.safeParse(Number(draft[1]))
    return key.success ? key.data : null
  }
  const parts = partsOfInvoiceNumber(name)
  return parts ? findInvoiceByNumber(desk.read, desk.officeId, parts.year, parts.place) : null
}

async function letterPaper(
  desk: Desk,
  title: string,
): Promise<{ office: LetterPaper; facts: PaperFacts; locale: string }> {
  const settings = await readSettings(desk.read, desk.officeId)
  const row = await findOffice(desk.read, desk.officeId)
  const name = row?.name ?? ''
  const street = [row?.line1, row?.line2].filter(Boolean).join(', ')
  return {
    locale: settings.locale,
    office: {
      officeName: name,
      particulars: [street, row?.town ?? '', row?.phone ?? '', row?.email ?? ''].filter((part) => part !== ''),
      windowEnvelope: settings.windowEnvelope,
      taxNumber: settings.taxNumber,
      howToPay: settings.howToPay,
    },
    facts: {
      title,
      officeName: name,
      locale: settings.locale,
      pageSize: settings.pageSize,
      printedOn: desk.today,
      madeAt: desk.now,
    },
  }
}
