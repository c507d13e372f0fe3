import { sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId, PurchaseOrderId, PurchaseOrderLineId, SupplierId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

export interface OrderHead {
  readonly orderId: PurchaseOrderId
  readonly number: string
  readonly supplierId: SupplierId
  readonly supplier: string
  readonly leadTimeDays: number
  readonly state: 'draft' | 'sent' | 'received' | 'cancelled'
  readonly draftedOn: CalendarDate
  readonly sentOn: CalendarDate | null
  readonly expectedOn: CalendarDate | null
  readonly version: number
}

function orderHeads(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('purchase_orders as o')
    .innerJoin('suppliers as s', (join) =>
      join.onRef('s.office_id', '=', 'o.office_id').onRef('s.id', '=', 'o.supplier_id'),
    )
    .select(['o.id as orderId', 'o.number as number', 'o.supplier_id as supplierId', 's.name as supplier'])
    .select(['s.lead_time_days as leadTimeDays', 'o.state as state', 'o.drafted_on as draftedOn'])
    .select(['o.sent_on as sentOn', 'o.expected_on as expectedOn', 'o.version as version'])
    .where('o.office_id', '=', officeId)
}

/** Orders, those that wait for something first; at most so many. */
export async function listOrders(db: ReadDb, officeId: OfficeId, limit: number): Promise<OrderHead[]> {
  return orderHeads(db, officeId)
    .orderBy(sql`case o.state when 'draft' then 0 when 'sent' then 1 else 2 end`)
    .orderBy('o.id', 'desc')
    .limit(limit)
    .execute()
}

export async function findOrder(db: ReadDb, officeId: OfficeId, orderId: PurchaseOrderId): Promise<OrderHead | null> {
  return (await orderHeads(db, officeId).where('o.id', '=', orderId).executeTakeFirst()) ?? null
}

export interface OrderLine {
  readonly lineId: PurchaseOrderLineId
  readonly orderId: PurchaseOrderId
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly quantity: number
  readonly received: number
  readonly price: Cents
  readonly reason: string
}

export async function linesOfOrders(
  db: ReadDb,
  officeId: OfficeId,
  orderIds: readonly PurchaseOrderId[],
): Promise<OrderLine[]> {
  if (orderIds.length === 0) return []
  return db
    .selectFrom('purchase_order_lines as l')
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .select(['l.id as lineId', 'l.order_id as orderId', 'l.part_id as partId', 'p.number as number', 'p.name as name'])
    .select([
      'l.quantity as quantity',
      'l.received_quantity as received',
      'l.price_cents as price',
      'l.reason as reason',
    ])
    .where('l.office_id', '=', officeId)
    .where('l.order_id', 'in', orderIds)
    .orderBy('l.order_id')
    .orderBy('l.position')
    .execute()
}

/** The next order number of the year: "PO-2026-0007", counted in the same transaction. */
export async function nextOrderNumber(tx: WriteDb, officeId: OfficeId, year: number): Promise<string> {
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

export async function insertOrder(
  tx: WriteDb,
  officeId: OfficeId,
  order: { supplierId: SupplierId; number: string; draftedOn: CalendarDate },
): Promise<PurchaseOrderId> {
  const row = {
    office_id: officeId,
    supplier_id: order.supplierId,
    number: order.number,
    state: 'draft' as const,
    drafted_on: order.draftedOn,
    sent_on: null,
    expected_on: null,
    note: '',
  }
  return (await tx.insertInto('purchase_orders').values(row).returning('id').executeTakeFirstOrThrow()).id
}

export async function insertOrderLine(
  tx: WriteDb,
  officeId: OfficeId,
  line: {
    orderId: PurchaseOrderId
    partId: PartId
    position: number
    quantity: number
    price: Cents
    reason: string
  },
): Promise<void> {
  await tx
    .insertInto('purchase_order_lines')
    .values({
      office_id: officeId,
      order_id: line.orderId,
      part_id: line.partId,
      position: line.position,
      quantity: line.quantity,
      price_cents: line.price,
      reason: line.reason,
    })
    .execute()
}

/** Sets the pieces of a draft's line; 0 takes it out. */
export async function setOrderLine(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: PurchaseOrderLineId,
  quantity: number,
): Promise<void> {
  if (quantity > 0)
    await tx
      .updateTable('purchase_order_lines')
      .set({ quantity })
      .where('office_id', '=', officeId)
      .where('id', '=', lineId)
      .execute()
  else await tx.deleteFrom('purchase_order_lines').where('office_id', '=', officeId).where('id', '=', lineId).execute()
}

export async function addReceived(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: PurchaseOrderLineId,
  pieces: number,
): Promise<void> {
  await tx
    .updateTable('purchase_order_lines')
    .set((each) => ({ received_quantity: each('received_quantity', '+', pieces) }))
    .where('office_id', '=', officeId)
    .where('id', '=', lineId)
    .execute()
}

/** Changes the state of an order, and its dates where they are given. */
export async function setOrderState(
  tx: WriteDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
  change: { state: OrderHead['state']; sentOn?: CalendarDate; expectedOn?: CalendarDate },
): Promise<void> {
  await tx
    .updateTable('purchase_orders')
    .set((each) => ({
      state: change.state,
      ...(change.sentOn ? { sent_on: change.sentOn } : {}),
      ...(change.expectedOn ? { expected_on: change.expectedOn } : {}),
      version: each('version', '+', 1),
    }))
    .where('office_id', '=', officeId)
    .where('id', '=', orderId)
    .execute()
}
