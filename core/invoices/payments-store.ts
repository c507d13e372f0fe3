import { sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InvoiceId, OfficeId, PaymentId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import type { AllocatedPart } from './payment-allocation.ts'

export interface PaymentRow {
  readonly paymentId: PaymentId
  readonly customerId: CustomerId
  readonly receivedOn: CalendarDate
  /** Below zero for a counter-entry. */
  readonly amount: Cents
  readonly method: string
  readonly note: string
  readonly undoesId: PaymentId | null
  readonly undone: boolean
  /** Not laid on any invoice. */
  readonly left: Cents
}

function payments(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('payments')
    .leftJoin('payments as counter', (join) =>
      join.onRef('counter.undoes_id', '=', 'payments.id').on('counter.office_id', '=', officeId),
    )
    .select((of) => [
      'payments.id',
      'payments.customer_id',
      'payments.received_on',
      'payments.amount_cents',
      'payments.method',
      'payments.note',
      'payments.undoes_id',
      'counter.id as counter_id',
      of
        .selectFrom('payment_shares')
        .select(sql<number>`coalesce(sum(amount_cents), 0)`.as('laid'))
        .where('payment_shares.office_id', '=', officeId)
        .whereRef('payment_shares.payment_id', '=', 'payments.id')
        .as('laid'),
    ])
    .where('payments.office_id', '=', officeId)
}

/** All payments of a customer with their counter-entries, oldest first. */
export async function listPaymentsOf(db: ReadDb, officeId: OfficeId, customerId: CustomerId): Promise<PaymentRow[]> {
  const rows = await payments(db, officeId)
    .where('payments.customer_id', '=', customerId)
    .orderBy('payments.received_on')
    .orderBy('payments.id')
    .execute()
  return rows.map(paymentOf)
}

export async function findPayment(db: ReadDb, officeId: OfficeId, paymentId: PaymentId): Promise<PaymentRow | null> {
  const row = await payments(db, officeId).where('payments.id', '=', paymentId).executeTakeFirst()
  return row ? paymentOf(row) : null
}

interface PaymentColumns {
  id: PaymentId
  customer_id: CustomerId
  received_on: CalendarDate
  amount_cents: Cents
  method: string
  note: string
  undoes_id: PaymentId | null
  counter_id: PaymentId | null
  laid: number | null
}

function paymentOf(row: PaymentColumns): PaymentRow {
  return {
    paymentId: row.id,
    customerId: row.customer_id,
    receivedOn: row.received_on,
    amount: row.amount_cents,
    method: row.method,
    note: row.note,
    undoesId: row.undoes_id,
    undone: row.counter_id !== null,
    left: cents(row.amount_cents - Number(row.laid ?? 0)),
  }
}

export interface ShareRow {
  readonly paymentId: PaymentId
  readonly invoiceId: InvoiceId
  /** What this payment pays of this invoice, all its entries together. */
  readonly amount: Cents
}

/** What lies on an invoice, by payment, the latest payment last. Pairs that cancelled out are left out. */
export async function listSharesOf(
  db: ReadDb,
  officeId: OfficeId,
  of: { invoiceId: InvoiceId } | { paymentId: PaymentId },
): Promise<ShareRow[]> {
  let query = db
    .selectFrom('payment_shares')
    .select(['payment_id', 'invoice_id', sql<number>`sum(amount_cents)`.as('amount')])
    .where('office_id', '=', officeId)
    .groupBy(['payment_id', 'invoice_id'])
    .orderBy('payment_id')
    .orderBy('invoice_id')
  query =
    'invoiceId' in of ? query.where('invoice_id', '=', of.invoiceId) : query.where('payment_id', '=', of.paymentId)
  const rows = await query.execute()
  return rows
    .map((row) => ({ paymentId: row.payment_id, invoiceId: row.invoice_id, amount: cents(Number(row.amount)) }))
    .filter((share) => share.amount !== 0)
}

export interface NewPayment {
  readonly customerId: CustomerId
  readonly receivedOn: CalendarDate
  readonly amount: Cents
  readonly method: string
  readonly note: string
  readonly recordedAt: string
  readonly by: string
  readonly undoesId: PaymentId | null
}

export async function insertPayment(tx: WriteDb, officeId: OfficeId, payment: NewPayment): Promise<PaymentId> {
  const { id } = await tx
    .insertInto('payments')
    .values({
      office_id: officeId,
      customer_id: payment.customerId,
      received_on: payment.receivedOn,
      amount_cents: payment.amount,
      method: payment.method,
      note: payment.note,
      recorded_at: payment.recordedAt,
      by_whom: payment.by,
      undoes_id: payment.undoesId,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Lays parts of a payment on invoices; a part below zero takes money off one again. */
export async function insertShares(
  tx: WriteDb,
  officeId: OfficeId,
  paymentId: PaymentId,
  parts: readonly AllocatedPart[],
): Promise<void> {
  if (parts.length === 0) return
  await tx
    .insertInto('payment_shares')
    .values(
      parts.map((part) => ({
        office_id: officeId,
        payment_id: paymentId,
        invoice_id: part.invoiceId,
        amount_cents: part.amount,
      })),
    )
    .execute()
}
