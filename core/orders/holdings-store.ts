import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import type { Incoming, PartQuantity, StockLot } from './reorder-shapes.ts'

/** Pieces promised to open pulls, by the part that lies there. */
export async function promisedParts(db: ReadDb, officeId: OfficeId): Promise<PartQuantity[]> {
  const rows = await db
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .innerJoin('lots as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.lot_id'))
    .select((each) => ['t.part_id as partId', each.fn.sum<number>('l.quantity').as('quantity')])
    .where('l.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .groupBy('t.part_id')
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}

/** Everything in bins and on vans, by part and last day. */
export async function lotsInHand(db: ReadDb, officeId: OfficeId): Promise<StockLot[]> {
  const rows = await db
    .selectFrom('balances as b')
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .select((each) => [
      'l.part_id as partId',
      'l.expires_on as expiresOn',
      each.fn.sum<number>('b.quantity').as('quantity'),
    ])
    .select('l.recalled_on as recalledOn')
    .where('b.office_id', '=', officeId)
    .where('b.quantity', '>', 0)
    .where('p.kind', 'in', ['bin', 'van'])
    .groupBy(['l.part_id', 'l.expires_on', 'l.recalled_on'])
    .execute()
  return rows.map(({ recalledOn, quantity, ...row }) => ({
    ...row,
    recalled: recalledOn !== null,
    quantity: Number(quantity),
  }))
}

/** Pieces of orders in a state that have not come yet and are still waited for. */
export async function orderedPieces(db: ReadDb, officeId: OfficeId, state: 'draft' | 'sent'): Promise<Incoming[]> {
  const open = sql<number>`l.quantity - l.received_quantity - l.given_up_quantity`
  const rows = await db
    .selectFrom('purchase_order_lines as l')
    .innerJoin('purchase_orders as o', (join) =>
      join.onRef('o.office_id', '=', 'l.office_id').onRef('o.id', '=', 'l.order_id'),
    )
    .select(['l.part_id as partId', 'o.expected_on as expectedOn', open.as('quantity')])
    .where('l.office_id', '=', officeId)
    .where('o.state', '=', state)
    .where(open, '>', 0)
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}
