import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InvoiceId, OfficeId, VisitId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import type { OpenAmount } from './ageing.ts'
import type { InvoiceOfVisit } from './invoices-contract.ts'

/** What was asked for with an invoice, tax and rounding included; what was paid or given back comes off it. */
const OWED = sql<number>`invoices.gross_cents + invoices.rounding_cents`

/** Issued invoices with what is open on them: kept by the books beside each, so that no payment is summed up to show a list. */
function invoicesWithBalance(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('invoice_balances as balance')
    .innerJoin('invoices', (join) =>
      join.onRef('invoices.office_id', '=', 'balance.office_id').onRef('invoices.id', '=', 'balance.invoice_id'),
    )
    .where('balance.office_id', '=', officeId)
}

/** Everything owed to the office, by the day it falls due: what is open together, and on how many invoices. */
export async function listOpenByDay(db: ReadDb, officeId: OfficeId): Promise<(OpenAmount & { invoices: number })[]> {
  const rows = await db
    .selectFrom('invoice_balances')
    .select(['due_on', sql<number>`sum(open_cents)`.as('open'), sql<number>`count(*)`.as('invoices')])
    .where('office_id', '=', officeId)
    .where('open_cents', '>', cents(0))
    .groupBy('due_on')
    .execute()
  return rows.map((row) => ({ dueOn: row.due_on, open: cents(Number(row.open)), invoices: Number(row.invoices) }))
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
  const rows = await invoicesWithBalance(db, officeId)
    .select([
      'invoices.id',
      'invoices.number_text',
      'invoices.issued_on',
      'balance.due_on',
      OWED.as('owed'),
      'balance.open_cents as open',
    ])
    .where('invoices.customer_id', '=', customerId)
    .orderBy('invoices.id')
    .execute()
  return rows.flatMap(({ id, number_text, issued_on, due_on, owed, open }) =>
    issued_on === null
      ? []
      : [
          {
            invoiceId: id,
            number: number_text,
            issuedOn: issued_on,
            dueOn: due_on,
            owed: cents(Number(owed)),
            open: cents(Number(open)),
          },
        ],
  )
}

/** For the tray: how many drafts wait, and since when the oldest; for the list: what they ask for, and the last of them. */
export async function countDrafts(
  db: ReadDb,
  officeId: OfficeId,
): Promise<{ count: number; oldest: CalendarDate | null; total: Cents; last: InvoiceId | null }> {
  const row = await db
    .selectFrom('invoices')
    .select([
      sql<number>`count(*)`.as('count'),
      sql<CalendarDate | null>`min(drafted_on)`.as('oldest'),
      sql<number | null>`sum(case when kind = 'invoice' then ${OWED} else 0 end)`.as('total'),
      sql<InvoiceId | null>`max(id)`.as('last'),
    ])
    .where('office_id', '=', officeId)
    .where('state', '=', 'draft')
    .executeTakeFirstOrThrow()
  return { count: Number(row.count), oldest: row.oldest, total: cents(Number(row.total ?? 0)), last: row.last }
}

/** The drafts up to one of them, oldest first. */
export async function listDraftsUpTo(db: ReadDb, officeId: OfficeId, upTo: InvoiceId): Promise<InvoiceId[]> {
  const rows = await db
    .selectFrom('invoices')
    .select('id')
    .where('office_id', '=', officeId)
    .where('state', '=', 'draft')
    .where('id', '<=', upTo)
    .orderBy('id')
    .execute()
  return rows.map((row) => row.id)
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
