import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InvoiceId, OfficeId, VisitId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import type { OpenAmount } from './ageing.ts'
import type { InvoicePile, InvoiceRow } from './invoices-contract.ts'

/** What was asked for with an invoice, tax and rounding included; what was paid or given back comes off it. */
const OWED = sql<number>`invoices.gross_cents + invoices.rounding_cents`
export const PAGE_OF_INVOICES = 200

/** Invoices with what has been paid on them and what credit notes gave back. */
function invoicesWithSettlement(db: ReadDb, officeId: OfficeId) {
  const paid = db
    .selectFrom('payment_shares')
    .select(['invoice_id', sql<number>`sum(amount_cents)`.as('paid')])
    .where('office_id', '=', officeId)
    .groupBy('invoice_id')
    .as('paid')
  const credited = db
    .selectFrom('invoices as notes')
    .select(['notes.corrects_id', sql<number>`sum(notes.gross_cents + notes.rounding_cents)`.as('credited')])
    .where('notes.office_id', '=', officeId)
    .where('notes.kind', '=', 'credit-note')
    .where('notes.state', '=', 'issued')
    .groupBy('notes.corrects_id')
    .as('credited')
  return db
    .selectFrom('invoices')
    .leftJoin(paid, 'paid.invoice_id', 'invoices.id')
    .leftJoin(credited, 'credited.corrects_id', 'invoices.id')
    .where('invoices.office_id', '=', officeId)
}

/** Still owed on an issued invoice: nothing on drafts and credit notes. */
const OPEN = sql<number>`case when invoices.kind = 'invoice' and invoices.state = 'issued'
  then ${OWED} - coalesce(paid.paid, 0) - coalesce(credited.credited, 0) else 0 end`

/**
 * A page of one pile, newest first (drafts: oldest first, as they are to be looked at in that order). `search` is held against number, name,
 * reference and town.
 */
export async function listInvoices(
  db: ReadDb,
  officeId: OfficeId,
  asked: { readonly pile: InvoicePile; readonly search: string; readonly before: InvoiceId | null },
): Promise<InvoiceRow[]> {
  let query = invoicesWithSettlement(db, officeId)
    .innerJoin('customers', (join) =>
      join.onRef('customers.id', '=', 'invoices.customer_id').on('customers.office_id', '=', officeId),
    )
    .leftJoin('sites', (join) => join.onRef('sites.id', '=', 'invoices.site_id').on('sites.office_id', '=', officeId))
    .leftJoin('invoices as corrected', (join) =>
      join.onRef('corrected.id', '=', 'invoices.corrects_id').on('corrected.office_id', '=', officeId),
    )
    .select((of) => [
      'invoices.id',
      'invoices.kind',
      'invoices.state',
      'invoices.number_text',
      'invoices.customer_id',
      'invoices.drafted_on',
      'invoices.issued_on',
      'invoices.pay_by',
      'invoices.supplied_on',
      'invoices.currency',
      'customers.sort_name',
      'customers.reference',
      'sites.town',
      'corrected.number_text as corrects',
      OWED.as('total'),
      OPEN.as('open'),
      of
        .selectFrom('invoice_lines')
        .select(sql<number>`count(*)`.as('count'))
        .where('invoice_lines.office_id', '=', officeId)
        .whereRef('invoice_lines.invoice_id', '=', 'invoices.id')
        .as('lines'),
    ])
  if (asked.pile === 'drafts') query = query.where('invoices.state', '=', 'draft')
  if (asked.pile !== 'drafts') query = query.where('invoices.state', '=', 'issued')
  if (asked.pile === 'unpaid') query = query.where(OPEN, '>', 0)
  if (asked.pile === 'paid') query = query.where('invoices.kind', '=', 'invoice').where(OPEN, '<=', 0)
  if (asked.before !== null) query = query.where('invoices.id', asked.pile === 'drafts' ? '>' : '<', asked.before)
  for (const word of asked.search.toLowerCase().split(/\s+/).filter(Boolean)) {
    const like = `%${word.replace(/[%_\\]/g, (sign) => `\\${sign}`)}%`
    query = query.where(
      sql<boolean>`lower(invoices.number_text || ' ' || customers.sort_name || ' ' || customers.letter_name || ' ' || customers.reference
        || ' ' || coalesce(sites.town, '')) like ${like} escape '\\'`,
    )
  }
  const rows = await query
    .orderBy('invoices.id', asked.pile === 'drafts' ? 'asc' : 'desc')
    .limit(PAGE_OF_INVOICES + 1)
    .execute()
  return rows.map((row) => ({
    invoiceId: row.id,
    kind: row.kind,
    state: row.state,
    number: row.number_text,
    customerId: row.customer_id,
    customer: row.sort_name,
    reference: row.reference,
    town: row.town ?? '',
    draftedOn: row.drafted_on,
    issuedOn: row.issued_on,
    payBy: row.pay_by,
    suppliedOn: row.supplied_on,
    lines: Number(row.lines ?? 0),
    total: cents(Number(row.total)),
    open: cents(Math.max(0, Number(row.open))),
    currency: row.currency,
    corrects: row.corrects ?? '',
  }))
}

/** Everything owed to the office, for the ages: one amount an invoice. */
export async function listOpenAmounts(db: ReadDb, officeId: OfficeId): Promise<OpenAmount[]> {
  const rows = await invoicesWithSettlement(db, officeId)
    .select(['invoices.pay_by', 'invoices.issued_on', OPEN.as('open')])
    .where('invoices.kind', '=', 'invoice')
    .where('invoices.state', '=', 'issued')
    .where(OPEN, '>', 0)
    .execute()
  return rows.flatMap(({ pay_by, issued_on, open }) => {
    const dueOn = pay_by ?? issued_on
    return dueOn === null ? [] : [{ dueOn, open: cents(Number(open)) }]
  })
}

export interface SettledInvoice {
  readonly invoiceId: InvoiceId
  readonly number: string
  readonly issuedOn: CalendarDate
  readonly dueOn: CalendarDate
  readonly owed: Cents
  /** Below zero when it was paid and then credited. */
  readonly open: Cents
}

/** Every issued invoice of a customer with what is open on it, in the order of issue. */
export async function listSettledInvoices(
  db: ReadDb,
  officeId: OfficeId,
  customerId: CustomerId,
): Promise<SettledInvoice[]> {
  const rows = await invoicesWithSettlement(db, officeId)
    .select([
      'invoices.id',
      'invoices.number_text',
      'invoices.issued_on',
      'invoices.pay_by',
      OWED.as('owed'),
      OPEN.as('open'),
    ])
    .where('invoices.customer_id', '=', customerId)
    .where('invoices.kind', '=', 'invoice')
    .where('invoices.state', '=', 'issued')
    .orderBy('invoices.id')
    .execute()
  return rows.flatMap(({ id, number_text, issued_on, pay_by, owed, open }) =>
    issued_on === null
      ? []
      : [
          {
            invoiceId: id,
            number: number_text,
            issuedOn: issued_on,
            dueOn: pay_by ?? issued_on,
            owed: cents(Number(owed)),
            open: cents(Number(open)),
          },
        ],
  )
}

/** For the tray: how many drafts wait, and since when the oldest. */
export async function countDrafts(
  db: ReadDb,
  officeId: OfficeId,
): Promise<{ count: number; oldest: CalendarDate | null }> {
  const row = await db
    .selectFrom('invoices')
    .select([sql<number>`count(*)`.as('count'), sql<CalendarDate | null>`min(drafted_on)`.as('oldest')])
    .where('office_id', '=', officeId)
    .where('state', '=', 'draft')
    .executeTakeFirstOrThrow()
  return { count: Number(row.count), oldest: row.oldest }
}

export interface InvoiceOfVisit {
  readonly invoiceId: InvoiceId
  readonly kind: 'invoice' | 'credit-note'
  readonly state: 'draft' | 'issued'
  readonly number: string
  readonly correctsId: InvoiceId | null
}

/** What was drafted and issued for a visit, oldest first. */
export async function listInvoicesOfVisit(db: ReadDb, officeId: OfficeId, visitId: VisitId): Promise<InvoiceOfVisit[]> {
  const rows = await db
    .selectFrom('invoices')
    .select(['id', 'kind', 'state', 'number_text', 'corrects_id'])
    .where('office_id', '=', officeId)
    .where('visit_id', '=', visitId)
    .orderBy('id')
    .execute()
  return rows.map((row) => ({
    invoiceId: row.id,
    kind: row.kind,
    state: row.state,
    number: row.number_text,
    correctsId: row.corrects_id,
  }))
}

/** Issued on a day, in the order of their numbers. */
export async function listIssuedOn(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<InvoiceId[]> {
  const rows = await db
    .selectFrom('invoices')
    .select('id')
    .where('office_id', '=', officeId)
    .where('state', '=', 'issued')
    .where('issued_on', '=', on)
    .orderBy('number')
    .execute()
  return rows.map((row) => row.id)
}

/** Drafts for what was supplied on a day, or until it; oldest first. */
export async function listDraftsSupplied(
  db: ReadDb,
  officeId: OfficeId,
  when: 'on' | 'until',
  day: CalendarDate,
): Promise<InvoiceId[]> {
  const rows = await db
    .selectFrom('invoices')
    .select('id')
    .where('office_id', '=', officeId)
    .where('state', '=', 'draft')
    .where('supplied_on', when === 'on' ? '=' : '<=', day)
    .orderBy('id')
    .execute()
  return rows.map((row) => row.id)
}

export interface IssuedDocument {
  readonly kind: 'invoice' | 'credit-note'
  readonly number: string
  readonly issuedOn: CalendarDate
  readonly total: Cents
}

/** Every issued invoice and credit note of a customer, for the statement. */
export async function listIssuedOf(db: ReadDb, officeId: OfficeId, customerId: CustomerId): Promise<IssuedDocument[]> {
  const rows = await db
    .selectFrom('invoices')
    .select(['kind', 'number_text', 'issued_on', OWED.as('total')])
    .where('office_id', '=', officeId)
    .where('customer_id', '=', customerId)
    .where('state', '=', 'issued')
    .orderBy('id')
    .execute()
  return rows.flatMap((row) =>
    row.issued_on === null
      ? []
      : [{ kind: row.kind, number: row.number_text, issuedOn: row.issued_on, total: cents(Number(row.total)) }],
  )
}
