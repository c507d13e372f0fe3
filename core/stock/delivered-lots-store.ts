import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId } from '../units/ids.ts'

export interface DeliveryHead {
  readonly receivedOn: CalendarDate
  /** "PO-2026-0007"; null where no order was behind it. */
  readonly orderNumber: string | null
}

export async function findDelivery(db: ReadDb, officeId: OfficeId, receiptId: number): Promise<DeliveryHead | null> {
  const found = await db
    .selectFrom('receipts as r')
    .leftJoin('purchase_orders as o', (join) =>
      join.onRef('o.office_id', '=', 'r.office_id').onRef('o.id', '=', 'r.order_id'),
    )
    .select(['r.received_on as receivedOn', 'o.number as orderNumber'])
    .where('r.office_id', '=', officeId)
    .where('r.id', '=', receiptId)
    .executeTakeFirst()
  return found ?? null
}

/** A lot of a delivery, with the pieces of it that were good. */
export interface DeliveredLot {
  readonly lotId: LotId
  readonly number: string
  readonly name: string
  readonly lot: string
  readonly pieces: number
}

/** What a delivery brought into bins, a row a lot in the order it was taken in; damaged pieces and what was put right since left out. */
export async function lotsOfDelivery(db: ReadDb, officeId: OfficeId, receiptId: number): Promise<DeliveredLot[]> {
  const rows = await db
    .selectFrom('movements as m')
    .innerJoin('places as b', (join) =>
      join.onRef('b.office_id', '=', 'm.office_id').onRef('b.id', '=', 'm.to_place_id'),
    )
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'm.office_id').onRef('l.id', '=', 'm.lot_id'))
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .where('m.office_id', '=', officeId)
    .where('m.receipt_id', '=', receiptId)
    .where('m.reason', '=', 'receive')
    .where('b.kind', '<>', 'quarantine')
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('movements as c')
            .select('c.id')
            .whereRef('c.office_id', '=', 'm.office_id')
            .whereRef('c.corrects_id', '=', 'm.id'),
        ),
      ),
    )
    .groupBy(['l.id', 'p.number', 'p.name', 'l.code'])
    .orderBy((each) => each.fn.min('m.id'))
    .select((each) => [
      'l.id as lotId',
      'p.number as number',
      'p.name as name',
      'l.code as lot',
      each.fn.sum<number>('m.quantity').as('pieces'),
    ])
    .execute()
  return rows.map((row) => ({ ...row, pieces: Number(row.pieces) }))
}
