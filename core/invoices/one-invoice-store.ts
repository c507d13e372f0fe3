import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InvoiceId, OfficeId, SiteId, VisitId } from '../units/ids.ts'
import { type Cents, cents, minorDigits, NO_MONEY } from '../units/money.ts'
import type { DocumentAmount } from './invoice-lines.ts'
import { quantity, unitPrice } from './invoice-lines.ts'
import type { TaxAtRate } from './invoice-totals.ts'
import type { InvoiceLine } from './invoices-contract.ts'

/** An invoice, draft or credit note with everything that stands on it. */
export interface WholeInvoice {
  readonly invoiceId: InvoiceId
  readonly kind: 'invoice' | 'credit-note'
  readonly state: 'draft' | 'issued'
  readonly number: string
  readonly version: number
  readonly customerId: CustomerId
  readonly siteId: SiteId | null
  readonly visitId: VisitId | null
  readonly correctsId: InvoiceId | null
  readonly currency: string
  readonly minorDigits: number
  readonly draftedOn: CalendarDate
  readonly suppliedOn: CalendarDate | null
  readonly issuedOn: CalendarDate | null
  readonly payBy: CalendarDate | null
  readonly buyerAddress: string
  readonly buyerReference: string
  readonly note: string
  readonly taxExempt: boolean
  readonly lines: readonly InvoiceLine[]
  readonly documentAmounts: readonly (DocumentAmount & { readonly position: number })[]
  readonly totals: {
    readonly linesTogether: Cents
    readonly allowances: Cents
    readonly charges: Cents
    readonly withoutTax: Cents
    readonly taxByRate: readonly TaxAtRate[]
    readonly tax: Cents
    readonly withTax: Cents
    readonly prepaid: Cents
    readonly rounding: Cents
    readonly due: Cents
  }
}

/** One invoice with its lines, allowances, charges and taxes as they were written; null when it is not in the books. */
export async function findInvoice(db: ReadDb, officeId: OfficeId, invoiceId: InvoiceId): Promise<WholeInvoice | null> {
  const head = await db
    .selectFrom('invoices')
    .select([
      'id',
      'kind',
      'state',
      'number_text',
      'version',
      'customer_id',
      'site_id',
      'visit_id',
      'corrects_id',
      'currency',
      'drafted_on',
      'supplied_on',
      'issued_on',
      'pay_by',
      'buyer_address',
      'buyer_reference',
      'note',
      'tax_exempt',
      'line_net_cents',
      'allowance_cents',
      'charge_cents',
      'net_cents',
      'tax_cents',
      'gross_cents',
      'prepaid_cents',
      'rounding_cents',
      'due_cents',
    ])
    .where('office_id', '=', officeId)
    .where('id', '=', invoiceId)
    .executeTakeFirst()
  if (!head) return null
  return {
    invoiceId: head.id,
    kind: head.kind,
    state: head.state,
    number: head.number_text,
    version: head.version,
    customerId: head.customer_id,
    siteId: head.site_id,
    visitId: head.visit_id,
    correctsId: head.corrects_id,
    currency: head.currency,
    minorDigits: minorDigits(head.currency),
    draftedOn: head.drafted_on,
    suppliedOn: head.supplied_on,
    issuedOn: head.issued_on,
    payBy: head.pay_by,
    buyerAddress: head.buyer_address,
    buyerReference: head.buyer_reference,
    note: head.note,
    taxExempt: head.tax_exempt === 1,
    lines: await linesOf(db, officeId, invoiceId),
    documentAmounts: await documentAmountsOf(db, officeId, invoiceId),
    totals: {
      linesTogether: head.line_net_cents,
      allowances: head.allowance_cents,
      charges: head.charge_cents,
      withoutTax: head.net_cents,
      taxByRate: await taxesOf(db, officeId, invoiceId),
      tax: head.tax_cents,
      withTax: head.gross_cents,
      prepaid: head.prepaid_cents,
      rounding: head.rounding_cents,
      due: head.due_cents,
    },
  }
}

/** The key of the invoice with this number; null when there is none. */
export async function findInvoiceByNumber(
  db: ReadDb,
  officeId: OfficeId,
  year: number,
  place: number,
): Promise<InvoiceId | null> {
  const row = await db
    .selectFrom('invoices')
    .select('id')
    .where('office_id', '=', officeId)
    .where('year', '=', year)
    .where('number', '=', place)
    .executeTakeFirst()
  return row?.id ?? null
}

async function linesOf(db: ReadDb, officeId: OfficeId, invoiceId: InvoiceId): Promise<InvoiceLine[]> {
  const rows = await db
    .selectFrom('invoice_lines')
    .select([
      'position',
      'description',
      'unit',
      'quantity_thousandths',
      'unit_price_e4',
      'allowance_cents',
      'charge_cents',
      'net_cents',
      'tax_category',
      'tax_rate',
      'part_id',
      'visit_task_id',
    ])
    .where('office_id', '=', officeId)
    .where('invoice_id', '=', invoiceId)
    .orderBy('position')
    .execute()
  return rows.map((row) => ({
    position: row.position,
    description: row.description,
    unit: row.unit,
    quantity: quantity(row.quantity_thousandths),
    unitPrice: unitPrice(row.unit_price_e4),
    allowance: row.allowance_cents,
    charge: row.charge_cents,
    net: row.net_cents,
    category: row.tax_category,
    rate: row.tax_rate,
    partId: row.part_id,
    visitTaskId: row.visit_task_id,
  }))
}

async function documentAmountsOf(
  db: ReadDb,
  officeId: OfficeId,
  invoiceId: InvoiceId,
): Promise<(DocumentAmount & { position: number })[]> {
  const rows = await db
    .selectFrom('invoice_adjustments')
    .select(['position', 'kind', 'reason', 'amount_cents', 'tax_category', 'tax_rate'])
    .where('office_id', '=', officeId)
    .where('invoice_id', '=', invoiceId)
    .orderBy('position')
    .execute()
  return rows.map(({ position, kind, reason, amount_cents: amount, tax_category: category, tax_rate: rate }) => ({
    position,
    kind,
    reason,
    amount,
    category,
    rate,
  }))
}

async function taxesOf(db: ReadDb, officeId: OfficeId, invoiceId: InvoiceId): Promise<TaxAtRate[]> {
  const rows = await db
    .selectFrom('invoice_taxes')
    .select(['tax_category', 'tax_rate', 'taxable_cents', 'tax_cents'])
    .where('office_id', '=', officeId)
    .where('invoice_id', '=', invoiceId)
    .orderBy('tax_rate', 'desc')
    .orderBy('tax_category')
    .execute()
  return rows.map((row) => ({
    category: row.tax_category,
    rate: row.tax_rate,
    taxable: row.taxable_cents,
    tax: row.tax_cents,
  }))
}

export interface CreditNoteOf {
  readonly invoiceId: InvoiceId
  readonly number: string
  readonly state: 'draft' | 'issued'
  readonly total: Cents
}

/** Credit notes written for an invoice, drafts among them, oldest first. */
export async function listCreditNotesOf(db: ReadDb, officeId: OfficeId, invoiceId: InvoiceId): Promise<CreditNoteOf[]> {
  const rows = await db
    .selectFrom('invoices')
    .select(['id', 'number_text', 'state', 'gross_cents', 'rounding_cents'])
    .where('office_id', '=', officeId)
    .where('corrects_id', '=', invoiceId)
    .where('kind', '=', 'credit-note')
    .orderBy('id')
    .execute()
  return rows.map((row) => ({
    invoiceId: row.id,
    number: row.number_text,
    state: row.state,
    total: cents(row.gross_cents + row.rounding_cents),
  }))
}

export interface CreditedPosition {
  readonly quantity: number
  readonly allowance: Cents
  readonly charge: Cents
}

/** What issued credit notes gave back of an invoice: by the position of its lines, and of its allowances and charges. */
export async function creditedSoFar(
  db: ReadDb,
  officeId: OfficeId,
  invoiceId: InvoiceId,
): Promise<{ lines: ReadonlyMap<number, CreditedPosition>; amounts: ReadonlyMap<number, Cents>; together: Cents }> {
  const notes = (await listCreditNotesOf(db, officeId, invoiceId)).filter((note) => note.state === 'issued')
  const lines = new Map<number, CreditedPosition>()
  const amounts = new Map<number, Cents>()
  for (const note of notes) {
    for (const line of await linesOf(db, officeId, note.invoiceId)) {
      const before = lines.get(line.position) ?? { quantity: 0, allowance: NO_MONEY, charge: NO_MONEY }
      lines.set(line.position, {
        quantity: before.quantity + line.quantity,
        allowance: cents(before.allowance + line.allowance),
        charge: cents(before.charge + line.charge),
      })
    }
    for (const each of await documentAmountsOf(db, officeId, note.invoiceId)) {
      amounts.set(each.position, cents((amounts.get(each.position) ?? 0) + each.amount))
    }
  }
  return { lines, amounts, together: cents(notes.reduce((sum, note) => sum + note.total, 0)) }
}
