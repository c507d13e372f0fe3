import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { dateOfDayNumber } from '../units/calendar-date.ts'
import {
  movementIdSchema,
  type PurchaseOrderId,
  type PurchaseOrderLineId,
  purchaseOrderIdSchema,
  purchaseOrderLineIdSchema,
} from '../units/ids.ts'
import { cents } from '../units/money.ts'
import { insertCounts, insertPulls } from './demo-floor-store.ts'
import { type DemoKeys, demoKeys } from './demo-keys.ts'
import type { WarehouseKeys } from './demo-people-store.ts'
import { warehouseHand } from './demo-pulls.ts'
import type { DemoMovement, DemoOffice } from './demo-records.ts'
import { insertRows } from './demo-rows-store.ts'
import type { VisitKeys } from './demo-visits-store.ts'
import { SCENARIO } from './scenario.ts'

/** Purchase orders with their receipts, and every movement of the five years in the order of its day. */
export async function insertLedger(
  books: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  { visits, lots }: VisitKeys,
): Promise<void> {
  const { tx, dialect, officeId: office_id } = books
  const orders = demoKeys(
    'order',
    await reserveIds(tx, dialect, 'purchase_orders', office.orders.length),
    purchaseOrderIdSchema,
  )
  const receipts = await reserveIds(tx, dialect, 'receipts', office.orders.length)
  const lineKeys = await insertOrders(books, office, warehouse, orders)
  await insertReceipts(books, office, warehouse, { orders, receipts, lineKeys, lots })
  const pulls = await insertPulls(books, office, warehouse, { visits, lots })
  const movements = demoKeys(
    'movement',
    await reserveIds(tx, dialect, 'movements', office.movements.length),
    movementIdSchema,
  )
  const placeOf = (where: DemoMovement['from'], lot: number) => {
    if (where === 'outside') return null
    if (where === 'quarantine' || where === 'way') return warehouse[where]
    if (where !== 'bin') return warehouse.vanPlaces.at(where)
    return warehouse.bins.at(SCENARIO.parts[office.lots[lot]?.part ?? 0]?.bin ?? 0)
  }
  await insertRows(
    tx,
    'movements',
    office.movements.map((movement, place) => ({
      id: movements.at(place),
      office_id,
      part_id: warehouse.parts.at(office.lots[movement.lot]?.part ?? 0),
      lot_id: lots.at(movement.lot),
      from_place_id: placeOf(movement.from, movement.lot),
      to_place_id: placeOf(movement.to, movement.lot),
      quantity: movement.quantity,
      reason: movement.reason,
      moved_on: dateOfDayNumber(movement.on),
      moved_at: `${dateOfDayNumber(movement.on)}T16:00:00.000Z`,
      by_whom: whoMoved(office, movement),
      note: movement.note ?? '',
      visit_id: movement.reason === 'fit' && movement.visit !== null ? visits.at(movement.visit) : null,
      receipt_id: movement.order === null ? null : (receipts[movement.order] ?? null),
      order_line_id: orderLineOf(office, lineKeys, movement),
      pull_id: movement.pull === undefined ? null : pulls.at(movement.pull),
      bound_for_place_id: movement.boundFor === undefined ? null : warehouse.vanPlaces.at(movement.boundFor),
    })),
  )
  await insertCounts(books, office, warehouse, { lots, movements })
}

function whoMoved(office: DemoOffice, { reason, visit, on }: DemoMovement): string {
  const technician = reason === 'fit' && visit !== null ? office.visits[visit]?.technician : undefined
  return technician === undefined ? warehouseHand(on) : (SCENARIO.technicians[technician]?.name ?? '')
}

type LineKeys = ReadonlyMap<string, PurchaseOrderLineId>

const lineKey = (order: number, part: number): string => `${order}/${part}`

/** The orders with their lines and the numbers that were given; returns the keys of the lines by order and part. */
async function insertOrders(
  { tx, dialect, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  orders: DemoKeys<PurchaseOrderId>,
): Promise<LineKeys> {
  await insertRows(
    tx,
    'purchase_orders',
    office.orders.map((order, place) => ({
      id: orders.at(place),
      office_id,
      supplier_id: warehouse.suppliers.at(order.supplier),
      number: order.number,
      state: order.lines.every((line) => line.received >= line.quantity) ? ('received' as const) : ('sent' as const),
      drafted_on: dateOfDayNumber(order.sentOn),
      sent_on: dateOfDayNumber(order.sentOn),
      expected_on: dateOfDayNumber(order.expectedOn),
      note: '',
    })),
  )
  const flat = office.orders.flatMap((order, place) => order.lines.map((line, position) => ({ line, place, position })))
  const keys = demoKeys(
    'order line',
    await reserveIds(tx, dialect, 'purchase_order_lines', flat.length),
    purchaseOrderLineIdSchema,
  )
  await insertRows(
    tx,
    'purchase_order_lines',
    flat.map(({ line, place, position }, at) => ({
      id: keys.at(at),
      office_id,
      order_id: orders.at(place),
      part_id: warehouse.parts.at(line.part),
      position: position + 1,
      quantity: line.quantity,
      received_quantity: line.received,
      price_cents: cents(SCENARIO.parts[line.part]?.cost ?? 0),
      reason: 'coming visits',
    })),
  )
  const series = new Map<number, number>()
  for (const { number } of office.orders) {
    const [, year, place] = number.split('-').map(Number)
    if (year !== undefined && place !== undefined) series.set(year, Math.max(series.get(year) ?? 0, place))
  }
  const rows = [...series].map(([year, last_number]) => ({ office_id, series: 'purchase-order', year, last_number }))
  await insertRows(tx, 'number_series', rows)
  return new Map(flat.map(({ line, place }, at) => [lineKey(place, line.part), keys.at(at)]))
}

interface ReceiptKeys {
  readonly orders: DemoKeys<PurchaseOrderId>
  readonly receipts: readonly number[]
  readonly lineKeys: LineKeys
  readonly lots: VisitKeys['lots']
}

/** A receipt an order that came, whole or in part, with a line a lot. */
async function insertReceipts(
  { tx, officeId: office_id }: OpenBooks,
  office: DemoOffice,
  warehouse: WarehouseKeys,
  { orders, receipts, lineKeys, lots }: ReceiptKeys,
): Promise<void> {
  await insertRows(
    tx,
    'receipts',
    office.orders.flatMap((order, place) =>
      order.receivedOn === null
        ? []
        : [
            {
              id: receipts[place] ?? 0,
              office_id,
              supplier_id: warehouse.suppliers.at(order.supplier),
              order_id: orders.at(place),
              received_on: dateOfDayNumber(order.receivedOn),
              by_whom: warehouseHand(order.receivedOn),
              note: '',
            },
          ],
    ),
  )
  await insertRows(
    tx,
    'receipt_lines',
    office.lots.map((lot, place) => ({
      office_id,
      receipt_id: receipts[lot.order] ?? 0,
      order_line_id: lineKeys.get(lineKey(lot.order, lot.part)) ?? null,
      part_id: warehouse.parts.at(lot.part),
      lot_id: lots.at(place),
      accepted: lot.quantity,
      damaged: 0,
      price_cents: cents(lot.charged ?? SCENARIO.parts[lot.part]?.cost ?? 0),
    })),
  )
}

function orderLineOf(office: DemoOffice, lineKeys: LineKeys, movement: DemoMovement): PurchaseOrderLineId | null {
  if (movement.order === null) return null
  return lineKeys.get(lineKey(movement.order, office.lots[movement.lot]?.part ?? -1)) ?? null
}
