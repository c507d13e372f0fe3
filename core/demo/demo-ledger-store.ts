import type { OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { dateOfDayNumber } from '../units/calendar-date.ts'
import { purchaseOrderIdSchema } from '../units/ids.ts'
import { cents } from '../units/money.ts'
import { demoKeys } from './demo-keys.ts'
import type { WarehouseKeys } from './demo-people-store.ts'
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
  await insertRows(
    tx,
    'purchase_orders',
    office.orders.map((order, place) => ({
      id: orders.at(place),
      office_id,
      supplier_id: warehouse.suppliers.at(order.supplier),
      number: order.number,
      state: order.receivedOn === null ? ('sent' as const) : ('received' as const),
      drafted_on: dateOfDayNumber(order.sentOn),
      sent_on: dateOfDayNumber(order.sentOn),
      expected_on: dateOfDayNumber(order.expectedOn),
      note: '',
    })),
  )
  await insertRows(
    tx,
    'purchase_order_lines',
    office.orders.flatMap((order, place) =>
      order.lines.map((line, position) => ({
        office_id,
        order_id: orders.at(place),
        part_id: warehouse.parts.at(line.part),
        position: position + 1,
        quantity: line.quantity,
        received_quantity: order.receivedOn === null ? 0 : line.quantity,
        price_cents: cents(SCENARIO.parts[line.part]?.cost ?? 0),
        reason: 'coming visits',
      })),
    ),
  )
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
              by_whom: 'the warehouse',
              note: '',
            },
          ],
    ),
  )
  const placeOf = (where: DemoMovement['from'], lot: number) => {
    if (where === 'outside') return null
    if (where !== 'bin') return warehouse.vanPlaces.at(where)
    return warehouse.bins.at(SCENARIO.parts[office.lots[lot]?.part ?? 0]?.bin ?? 0)
  }
  await insertRows(
    tx,
    'movements',
    office.movements.map((movement) => ({
      office_id,
      part_id: warehouse.parts.at(office.lots[movement.lot]?.part ?? 0),
      lot_id: lots.at(movement.lot),
      from_place_id: placeOf(movement.from, movement.lot),
      to_place_id: placeOf(movement.to, movement.lot),
      quantity: movement.quantity,
      reason: movement.reason,
      moved_on: dateOfDayNumber(movement.on),
      moved_at: `${dateOfDayNumber(movement.on)}T16:00:00.000Z`,
      by_whom: movement.reason === 'fit' ? 'the technician' : 'the warehouse',
      note: '',
      visit_id: movement.reason === 'fit' && movement.visit !== null ? visits.at(movement.visit) : null,
      receipt_id: movement.order === null ? null : (receipts[movement.order] ?? null),
    })),
  )
}
