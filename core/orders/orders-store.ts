import { sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import { type CalendarDate, partsOf } from '../units/calendar-date.ts'
import type { EventId, OfficeId, PartId, PurchaseOrderId, PurchaseOrderLineId, SupplierId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

export interface OrderHead {
  readonly orderId: PurchaseOrderId
  readonly number: string
  readonly supplierId: SupplierId
  readonly supplier: string
  readonly leadTimeDays: number
  readonly minimumOrder: Cents
  readonly email: string
  readonly state: 'draft' | 'sent' | 'received' | 'cancelled'
  readonly draftedOn: CalendarDate
  readonly sentOn: CalendarDate | null
  readonly expectedOn: CalendarDate | null
  readonly note: string
  readonly cancelledReason: string
  readonly version: number
}

function orderHeads(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('purchase_orders as o')
    .innerJoin('suppliers as s', (join) =>
      join.onRef('s.office_id', '=', 'o.office_id').onRef('s.id', '=', 'o.supplier_id'),
    )
    .select(['o.id as orderId', 'o.number as number', 'o.supplier_id as supplierId', 's.name as supplier'])
    .select(['s.lead_time_days as leadTimeDays', 's.minimum_order_cents as minimumOrder', 's.email as email'])
    .select(['o.state as state', 'o.drafted_on as draftedOn', 'o.sent_on as sentOn', 'o.expected_on as expectedOn'])
    .select(['o.note as note', 'o.cancelled_reason as cancelledReason', 'o.version as version'])
    .where('o.office_id', '=', officeId)
}

/** Drafts, then what is awaited by its day, then the rest with the latest first; at most so many. */
export async function listOrders(db: ReadDb, officeId: OfficeId, limit: number): Promise<OrderHead[]> {
  return orderHeads(db, officeId)
    .orderBy(sql`case o.state when 'draft' then 0 when 'sent' then 1 else 2 end`)
    .orderBy(sql`case when o.state = 'sent' then coalesce(o.expected_on, '9999-12-31') else '' end`)
    .orderBy('o.id', 'desc')
    .limit(limit)
    .execute()
}

export async function findOrder(db: ReadDb, officeId: OfficeId, orderId: PurchaseOrderId): Promise<OrderHead | null> {
  return (await orderHeads(db, officeId).where('o.id', '=', orderId).executeTakeFirst()) ?? null
}

/** Sent orders from which something is still awaited: how many, and the day that is past for longest. */
export async function lateOrders(
  db: ReadDb,
  officeId: OfficeId,
  today: CalendarDate,
): Promise<{ readonly count: number; readonly oldest: CalendarDate | null }> {
  const row = await db
    .selectFrom('purchase_orders as o')
    .where('o.office_id', '=', officeId)
    .where('o.state', '=', 'sent')
    .where('o.expected_on', '<', today)
    .where(({ exists, selectFrom }) =>
      exists(
        selectFrom('purchase_order_lines as l')
          .select('l.id')
          .whereRef('l.office_id', '=', 'o.office_id')
          .whereRef('l.order_id', '=', 'o.id')
          .where(sql<boolean>`l.quantity > l.received_quantity + l.given_up_quantity`),
      ),
    )
    .select(({ fn }) => [fn.countAll<number>().as('count'), fn.min('o.expected_on').as('oldest')])
    .executeTakeFirst()
  return { count: Number(row?.count ?? 0), oldest: row?.oldest ?? null }
}

export interface OrderLine {
  readonly lineId: PurchaseOrderLineId
  readonly orderId: PurchaseOrderId
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly gtin: string
  readonly quantity: number
  readonly received: number
  readonly givenUp: number
  readonly price: Cents
  readonly reason: string
}

function orderLines(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('purchase_order_lines as l')
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .select(['l.id as lineId', 'l.order_id as orderId', 'l.part_id as partId', 'p.number as number', 'p.name as name'])
    .select(['l.quantity as quantity', 'l.received_quantity as received', 'l.given_up_quantity as givenUp'])
    .select(['p.gtin as gtin', 'l.price_cents as price', 'l.reason as reason'])
    .where('l.office_id', '=', officeId)
}

export async function linesOfOrders(
  db: ReadDb,
  officeId: OfficeId,
  orderIds: readonly PurchaseOrderId[],
): Promise<OrderLine[]> {
  if (orderIds.length === 0) return []
  return orderLines(db, officeId)
    .where('l.order_id', 'in', orderIds)
    .orderBy('l.order_id')
    .orderBy('l.position')
    .orderBy('l.id')
    .execute()
}

export async function findOrderLine(
  db: ReadDb,
  officeId: OfficeId,
  lineId: PurchaseOrderLineId,
): Promise<OrderLine | null> {
  return (await orderLines(db, officeId).where('l.id', '=', lineId).executeTakeFirst()) ?? null
}

/** What happened to an order, the latest first. */
export async function traceOfOrder(
  db: ReadDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
): Promise<{ eventId: EventId; on: CalendarDate; by: string; sentence: string; details: string }[]> {
  return db
    .selectFrom('events')
    .select(['id as eventId', 'happened_on as on', 'by_whom as by', 'sentence', 'details'])
    .where('office_id', '=', officeId)
    .where('subject_kind', '=', 'purchase order')
    .where('subject_id', '=', orderId)
    .orderBy('id', 'desc')
    .execute()
}

/** The next order number of the day's year: "PO-2026-0007", counted in the transaction that sends the order, so that there is no gap. */
export async function nextOrderNumber(tx: WriteDb, officeId: OfficeId, today: CalendarDate): Promise<string> {
  const { year } = partsOf(today)
  const row = await tx
    .insertInto('number_series')
    .values({ office_id: officeId, series: 'purchase-order', year, last_number: 1 })
    .onConflict((conflict) =>
      conflict
        .columns(['office_id', 'series', 'year'])
        .doUpdateSet((each) => ({ last_number: each('number_series.last_number', '+', 1) })),
    )
    .returning('last_number')
    .executeTakeFirstOrThrow()
  return `PO-${year}-${String(row.last_number).padStart(4, '0')}`
}

/** An empty draft; it is called by its key until it is sent. */
export async function insertOrder(
  tx: WriteDb,
  officeId: OfficeId,
  order: { readonly orderId: PurchaseOrderId; readonly supplierId: SupplierId; readonly draftedOn: CalendarDate },
): Promise<string> {
  const number = `draft ${order.orderId}`
  const row = {
    id: order.orderId,
    office_id: officeId,
    supplier_id: order.supplierId,
    number,
    state: 'draft' as const,
    drafted_on: order.draftedOn,
    sent_on: null,
    expected_on: null,
    note: '',
  }
  await tx.insertInto('purchase_orders').values(row).execute()
  return number
}

export interface NewOrderLine {
  readonly partId: PartId
  readonly quantity: number
  readonly price: Cents
  readonly reason: string
}

/** Writes the lines of a draft anew, in the order given. */
export async function replaceOrderLines(
  tx: WriteDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
  lines: readonly NewOrderLine[],
): Promise<void> {
  await tx
    .deleteFrom('purchase_order_lines')
    .where('office_id', '=', officeId)
    .where('order_id', '=', orderId)
    .execute()
  if (lines.length === 0) return
  await tx
    .insertInto('purchase_order_lines')
    .values(
      lines.map((line, index) => ({
        office_id: officeId,
        order_id: orderId,
        part_id: line.partId,
        position: index + 1,
        quantity: line.quantity,
        price_cents: line.price,
        reason: line.reason,
      })),
    )
    .execute()
}

/** Adds to what has come of a line and to what nobody waits for any more; below zero takes off. */
export async function countOnLine(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: PurchaseOrderLineId,
  more: { readonly received?: number; readonly givenUp?: number },
): Promise<void> {
  await tx
    .updateTable('purchase_order_lines')
    .set((each) => ({
      received_quantity: each('received_quantity', '+', more.received ?? 0),
      given_up_quantity: each('given_up_quantity', '+', more.givenUp ?? 0),
    }))
    .where('office_id', '=', officeId)
    .where('id', '=', lineId)
    .execute()
}

export interface OrderChange {
  readonly state?: OrderHead['state']
  readonly number?: string
  readonly sentOn?: CalendarDate
  readonly expectedOn?: CalendarDate
  readonly note?: string
  readonly cancelled?: { readonly on: CalendarDate; readonly reason: string }
}

/** Changes what is given of an order; it is another version then. */
export async function changeOrder(
  tx: WriteDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
  change: OrderChange,
): Promise<void> {
  const { state, number, sentOn, expectedOn, note, cancelled } = change
  await tx
    .updateTable('purchase_orders')
    .set((each) => ({
      ...(state === undefined ? {} : { state }),
      ...(number === undefined ? {} : { number }),
      ...(sentOn === undefined ? {} : { sent_on: sentOn }),
      ...(expectedOn === undefined ? {} : { expected_on: expectedOn }),
      ...(note === undefined ? {} : { note }),
      ...(cancelled === undefined ? {} : { cancelled_on: cancelled.on, cancelled_reason: cancelled.reason }),
      version: each('version', '+', 1),
    }))
    .where('office_id', '=', officeId)
    .where('id', '=', orderId)
    .execute()
}
