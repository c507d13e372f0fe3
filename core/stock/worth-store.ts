import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId } from '../units/ids.ts'
import type { PullRecord } from './fill-rate.ts'
import type { Delivery } from './stock-value.ts'
import type { WorthLot } from './worth.ts'

/** Every lot that ever came in, by key. */
export async function lotsWithCost(db: ReadDb, officeId: OfficeId): Promise<WorthLot[]> {
  return db
    .selectFrom('lots')
    .select(['id as lotId', 'part_id as partId', 'code as lot', 'expires_on as expiresOn'])
    .select(['received_on as receivedOn', 'recalled_on as recalledOn', 'cost_cents as cost'])
    .where('office_id', '=', officeId)
    .orderBy('id')
    .execute()
}

/** What deliveries until then brought of each lot and at what price, in the order they came; what was put right since is off again. */
export async function deliveriesUntil(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<Delivery[]> {
  const rows = await db
    .selectFrom('receipt_lines as l')
    .innerJoin('receipts as r', (join) =>
      join.onRef('r.office_id', '=', 'l.office_id').onRef('r.id', '=', 'l.receipt_id'),
    )
    .select(['l.receipt_id as receiptId', 'l.lot_id as lotId', 'l.price_cents as price'])
    .select(sql<number>`l.accepted + l.damaged`.as('pieces'))
    .where('l.office_id', '=', officeId)
    .where('r.received_on', '<=', on)
    .orderBy('r.received_on')
    .orderBy('l.id')
    .execute()
  const taken = await takenBack(db, officeId, on)
  return rows.map(({ receiptId, lotId, price, pieces }) => {
    const key = `${receiptId}/${lotId}`
    const off = Math.min(pieces, taken.get(key) ?? 0)
    if (off > 0) taken.set(key, (taken.get(key) ?? 0) - off)
    return { lotId, price, pieces: pieces - off }
  })
}

/** Pieces of deliveries that were put right, by receipt and lot. */
async function takenBack(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<Map<string, number>> {
  const rows = await db
    .selectFrom('movements as c')
    .innerJoin('movements as m', (join) =>
      join.onRef('m.office_id', '=', 'c.office_id').onRef('m.id', '=', 'c.corrects_id'),
    )
    .select(['m.receipt_id as receiptId', 'm.lot_id as lotId'])
    .select((each) => each.fn.sum<number>('m.quantity').as('pieces'))
    .where('c.office_id', '=', officeId)
    .where('c.corrects_id', 'is not', null)
    .where('c.moved_on', '<=', on)
    .where('m.reason', '=', 'receive')
    .where('m.receipt_id', 'is not', null)
    .groupBy(['m.receipt_id', 'm.lot_id'])
    .execute()
  return new Map(rows.map((row) => [`${row.receiptId}/${row.lotId}`, Number(row.pieces)]))
}

/** Not what the list of everything fitted is told by: of a part that is seldom used it would be walked to its end. */
const FITTED = sql<boolean>`m.reason || '' = 'fit'`

/** The last day until then on which each part was used, as the books stand; walks back along the index of each part. */
export async function lastUsed(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<Map<PartId, CalendarDate>> {
  const rows = await db
    .selectFrom('parts as p')
    .select('p.id as partId')
    .select((each) =>
      each
        .selectFrom('movements as m')
        .select('m.moved_on')
        .whereRef('m.office_id', '=', 'p.office_id')
        .whereRef('m.part_id', '=', 'p.id')
        .where(FITTED)
        .where('m.moved_on', '<=', on)
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
        .orderBy('m.moved_on', 'desc')
        .limit(1)
        .as('usedOn'),
    )
    .where('p.office_id', '=', officeId)
    .execute()
  return new Map(rows.flatMap(({ partId, usedOn }) => (usedOn === null ? [] : [[partId, usedOn] as const])))
}

/** What visits got of pulls that were put on a van from one day to another, and what they went without, by visit and part. */
export async function pullRecords(
  db: ReadDb,
  officeId: OfficeId,
  days: { readonly from: CalendarDate; readonly until: CalendarDate },
): Promise<PullRecord[]> {
  const served = await db
    .selectFrom('pulls as p')
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 'p.office_id').onRef('l.pull_id', '=', 'p.id'),
    )
    .innerJoin('pull_line_stops as s', (join) =>
      join.onRef('s.office_id', '=', 'l.office_id').onRef('s.pull_line_id', '=', 'l.id'),
    )
    .select(['s.visit_id as visitId', 'l.part_id as partId'])
    .select((each) => each.fn.sum<number>('s.quantity').as('pieces'))
    .where('p.office_id', '=', officeId)
    .where('p.state', '=', 'confirmed')
    .where('p.pull_on', '>=', days.from)
    .where('p.pull_on', '<=', days.until)
    .where('l.pulled_quantity', 'is not', null)
    .groupBy(['s.visit_id', 'l.part_id'])
    .execute()
  const missing = await db
    .selectFrom('pulls as p')
    .innerJoin('pull_shortages as x', (join) =>
      join.onRef('x.office_id', '=', 'p.office_id').onRef('x.pull_id', '=', 'p.id'),
    )
    .select(['x.visit_id as visitId', 'x.part_id as partId'])
    .select((each) => each.fn.sum<number>('x.quantity').as('pieces'))
    .where('p.office_id', '=', officeId)
    .where('p.state', '=', 'confirmed')
    .where('p.pull_on', '>=', days.from)
    .where('p.pull_on', '<=', days.until)
    .groupBy(['x.visit_id', 'x.part_id'])
    .execute()
  return [
    ...served.map(({ pieces, ...row }) => ({ ...row, served: Number(pieces), missing: 0 })),
    ...missing.map(({ pieces, ...row }) => ({ ...row, served: 0, missing: Number(pieces) })),
  ]
}
