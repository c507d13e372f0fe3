import type { WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InvoiceId, OfficeId, SiteId, VisitId } from '../units/ids.ts'
import { type Cents, cents, minorDigits, NO_MONEY } from '../units/money.ts'
import type { DraftLine } from './draft-invoice.ts'
import type { DocumentAmount } from './invoice-lines.ts'
import { type InvoiceTotals, invoiceTotals } from './invoice-totals.ts'

export interface NewDraft {
  readonly kind: 'invoice' | 'credit-note'
  readonly customerId: CustomerId
  readonly siteId: SiteId | null
  readonly visitId: VisitId | null
  readonly correctsId: InvoiceId | null
  readonly currency: string
  readonly draftedOn: CalendarDate
  readonly suppliedOn: CalendarDate | null
  readonly buyerAddress: string
  readonly buyerReference: string
  readonly note: string
  readonly taxExempt: boolean
}

/** What a draft holds. A position that is given stays (credit notes keep those of the invoice); else lines are counted from 1. */
export interface DraftContent {
  readonly lines: readonly (DraftLine & { readonly position?: number })[]
  readonly documentAmounts: readonly (DocumentAmount & { readonly position?: number })[]
  readonly rounding?: Cents
  readonly prepaid?: Cents
}

/** Writes a draft with its lines, reckoned; returns its key. */
export async function insertDraft(
  tx: WriteDb,
  officeId: OfficeId,
  draft: NewDraft,
  content: DraftContent,
): Promise<InvoiceId> {
  const totals = totalsOf(draft.currency, content)
  const { id } = await tx
    .insertInto('invoices')
    .values({
      office_id: officeId,
      kind: draft.kind,
      state: 'draft',
      year: null,
      number: null,
      customer_id: draft.customerId,
      site_id: draft.siteId,
      visit_id: draft.visitId,
      corrects_id: draft.correctsId,
      currency: draft.currency,
      drafted_on: draft.draftedOn,
      issued_on: null,
      supplied_on: draft.suppliedOn,
      pay_by: null,
      buyer_address: draft.buyerAddress,
      buyer_reference: draft.buyerReference,
      note: draft.note,
      tax_exempt: draft.taxExempt ? 1 : 0,
      issued_at: null,
      ...footColumns(totals),
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  await insertContent(tx, officeId, id, content, totals)
  return id
}

export interface DraftWords {
  readonly note: string
  readonly buyerReference: string
  readonly suppliedOn: CalendarDate | null
}

/** Replaces what a draft holds, and counts its version up. */
export async function replaceDraft(
  tx: WriteDb,
  officeId: OfficeId,
  invoice: { readonly invoiceId: InvoiceId; readonly currency: string; readonly version: number },
  words: DraftWords,
  content: DraftContent,
): Promise<InvoiceTotals> {
  const totals = totalsOf(invoice.currency, content)
  await deleteContent(tx, officeId, invoice.invoiceId)
  await insertContent(tx, officeId, invoice.invoiceId, content, totals)
  await tx
    .updateTable('invoices')
    .set({
      note: words.note,
      buyer_reference: words.buyerReference,
      supplied_on: words.suppliedOn,
      version: invoice.version + 1,
      ...footColumns(totals),
    })
    .where('office_id', '=', officeId)
    .where('id', '=', invoice.invoiceId)
    .execute()
  return totals
}

export async function deleteDraft(tx: WriteDb, officeId: OfficeId, invoiceId: InvoiceId): Promise<void> {
  await deleteContent(tx, officeId, invoiceId)
  await tx.deleteFrom('invoices').where('office_id', '=', officeId).where('id', '=', invoiceId).execute()
}

export interface Issuing {
  readonly year: number
  readonly number: number
  readonly numberText: string
  readonly issuedOn: CalendarDate
  readonly payBy: CalendarDate | null
  readonly buyerAddress: string
  readonly taxExempt: boolean
  readonly prepaid: Cents
  readonly due: Cents
  readonly issuedAt: string
  readonly issuedBy: string
}

/** Turns a draft into an issued invoice: from here on the database lets nothing of it change. */
export async function markIssued(
  tx: WriteDb,
  officeId: OfficeId,
  invoiceId: InvoiceId,
  issuing: Issuing,
): Promise<void> {
  await tx
    .updateTable('invoices')
    .set({
      state: 'issued',
      year: issuing.year,
      number: issuing.number,
      number_text: issuing.numberText,
      issued_on: issuing.issuedOn,
      pay_by: issuing.payBy,
      buyer_address: issuing.buyerAddress,
      tax_exempt: issuing.taxExempt ? 1 : 0,
      prepaid_cents: issuing.prepaid,
      due_cents: issuing.due,
      issued_at: issuing.issuedAt,
      issued_by: issuing.issuedBy,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', invoiceId)
    .execute()
}

/**
 * The next place in the office's year. The row of the series is locked until the transaction ends, so two writers never get the same place,
 * and a transaction that is taken back gives its place back: no gap, no double.
 */
export async function takeNumber(tx: WriteDb, officeId: OfficeId, year: number): Promise<number> {
  const row = await tx
    .insertInto('number_series')
    .values({ office_id: officeId, series: 'invoices', year, last_number: 1 })
    .onConflict((conflict) =>
      conflict
        .columns(['office_id', 'series', 'year'])
        .doUpdateSet((of) => ({ last_number: of('number_series.last_number', '+', 1) })),
    )
    .returning('last_number')
    .executeTakeFirstOrThrow()
  return row.last_number
}

function totalsOf(currency: string, content: DraftContent): InvoiceTotals {
  return invoiceTotals({
    lines: content.lines,
    documentAmounts: content.documentAmounts,
    rounding: content.rounding ?? NO_MONEY,
    prepaid: content.prepaid ?? NO_MONEY,
    minorDigits: minorDigits(currency),
  })
}

function footColumns(totals: InvoiceTotals) {
  return {
    line_net_cents: totals.linesTogether,
    allowance_cents: totals.allowances,
    charge_cents: totals.charges,
    net_cents: totals.withoutTax,
    tax_cents: totals.tax,
    gross_cents: totals.withTax,
    prepaid_cents: totals.prepaid,
    rounding_cents: totals.rounding,
    due_cents: totals.due,
  }
}

async function deleteContent(tx: WriteDb, officeId: OfficeId, invoiceId: InvoiceId): Promise<void> {
  for (const table of ['invoice_lines', 'invoice_adjustments', 'invoice_taxes'] as const)
    await tx.deleteFrom(table).where('office_id', '=', officeId).where('invoice_id', '=', invoiceId).execute()
}

async function insertContent(
  tx: WriteDb,
  officeId: OfficeId,
  invoiceId: InvoiceId,
  content: DraftContent,
  totals: InvoiceTotals,
): Promise<void> {
  const key = { office_id: officeId, invoice_id: invoiceId }
  const lines = content.lines.map((line, index) => ({
    ...key,
    position: line.position ?? index + 1,
    description: line.description,
    part_id: line.partId,
    visit_task_id: line.visitTaskId,
    quantity_thousandths: line.quantity,
    unit: line.unit,
    unit_price_e4: line.unitPrice,
    allowance_cents: line.allowance,
    charge_cents: line.charge,
    net_cents: totals.lineNets[index] ?? cents(0),
    tax_category: line.category,
    tax_rate: line.rate,
  }))
  const amounts = content.documentAmounts.map((each, index) => ({
    ...key,
    position: each.position ?? index + 1,
    kind: each.kind,
    reason: each.reason,
    amount_cents: each.amount,
    tax_category: each.category,
    tax_rate: each.rate,
  }))
  const taxes = totals.taxByRate.map((row) => ({
    ...key,
    tax_category: row.category,
    tax_rate: row.rate,
    taxable_cents: row.taxable,
    tax_cents: row.tax,
  }))
  if (lines.length > 0) await tx.insertInto('invoice_lines').values(lines).execute()
  if (amounts.length > 0) await tx.insertInto('invoice_adjustments').values(amounts).execute()
  if (taxes.length > 0) await tx.insertInto('invoice_taxes').values(taxes).execute()
}
