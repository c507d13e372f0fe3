import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import type { PartUse } from './what-to-count.ts'

export interface CountableHeap {
  readonly placeId: PlaceId
  readonly place: string
  readonly aisle: string
  readonly walkOrder: number
  readonly partId: PartId
  readonly number: string
  readonly part: string
  readonly lotId: LotId
  readonly lot: string
  readonly receivedOn: CalendarDate
}

/** What lies in a bin, on a van or in quarantine, in the order of the walk; how many pieces is not asked. What is on the way cannot be counted. */
export async function countableHeaps(db: ReadDb, officeId: OfficeId): Promise<CountableHeap[]> {
  return db
    .selectFrom('balances as b')
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('parts as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.part_id'))
    .select(['p.id as placeId', 'p.code as place', 'p.aisle as aisle', 'p.walk_order as walkOrder'])
    .select(['t.id as partId', 't.number as number', 't.name as part'])
    .select(['l.id as lotId', 'l.code as lot', 'l.received_on as receivedOn'])
    .where('b.office_id', '=', officeId)
    .where('b.quantity', '>', 0)
    .where('p.kind', '<>', 'transit')
    .orderBy('p.walk_order')
    .orderBy('p.code')
    .orderBy('t.number')
    .orderBy('l.id')
    .execute()
}

export interface LastCount {
  readonly placeId: PlaceId
  readonly lotId: LotId
  readonly on: CalendarDate
  /** Counted less what the books said. */
  readonly difference: number
}

/** Every count that went into the books, rounds and single ones, the oldest first. */
export async function countsOfHeaps(db: ReadDb, officeId: OfficeId): Promise<LastCount[]> {
  const movements = await db
    .selectFrom('movements')
    .select(['lot_id', 'from_place_id', 'to_place_id', 'quantity', 'moved_on'])
    .where('office_id', '=', officeId)
    .where('reason', '=', 'count')
    .orderBy('moved_on')
    .execute()
  const lines = await db
    .selectFrom('stock_count_lines as l')
    .innerJoin('stock_counts as c', (join) =>
      join.onRef('c.office_id', '=', 'l.office_id').onRef('c.id', '=', 'l.count_id'),
    )
    .select(['l.place_id as placeId', 'l.lot_id as lotId', 'c.count_on as on'])
    .select(sql<number>`l.counted - l.books_said`.as('difference'))
    .where('l.office_id', '=', officeId)
    .where('c.state', '=', 'approved')
    .where('l.counted', 'is not', null)
    .orderBy('c.count_on')
    .orderBy('l.id')
    .execute()
  const single = movements.flatMap((row) => {
    const placeId = row.to_place_id ?? row.from_place_id
    const difference = row.to_place_id === null ? -row.quantity : row.quantity
    return placeId === null ? [] : [{ placeId, lotId: row.lot_id, on: row.moved_on, difference }]
  })
  // A round's own line says more than its movement: it comes after it on the same day.
  return [...single, ...lines].sort((a, b) => (a.on < b.on ? -1 : a.on > b.on ? 1 : 0))
}

export interface HeapFigure {
  readonly placeId: PlaceId
  readonly lotId: LotId
  readonly times: number
}

/** How often something came to a heap or went from it since a day. */
export async function movedTimes(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<HeapFigure[]> {
  const ends = sql<{ lot_id: LotId; place_id: PlaceId }>`(
      select lot_id, from_place_id as place_id from movements where office_id = ${officeId} and moved_on >= ${since} and from_place_id is not null
      union all
      select lot_id, to_place_id from movements where office_id = ${officeId} and moved_on >= ${since} and to_place_id is not null
    )`.as('ends')
  const rows = await db
    .selectFrom(ends)
    .select((each) => ['lot_id as lotId', 'place_id as placeId', each.fn.countAll<number>().as('times')])
    .groupBy(['lot_id', 'place_id'])
    .execute()
  return rows.map((row) => ({ ...row, times: Number(row.times) }))
}

export interface Missed {
  readonly placeId: PlaceId
  readonly lotId: LotId
  readonly at: string
}

/** Where a pull found fewer than it asked for, the latest time. */
export async function missedByPulls(db: ReadDb, officeId: OfficeId): Promise<Missed[]> {
  const rows = await db
    .selectFrom('pull_findings')
    .select((each) => ['place_id as placeId', 'lot_id as lotId', each.fn.max<string>('found_at').as('at')])
    .where('office_id', '=', officeId)
    .where('kind', '=', 'short')
    .groupBy(['place_id', 'lot_id'])
    .execute()
  return rows
}

/** What was fitted of each part since a day, at what the part costs. */
export async function usedSince(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<PartUse[]> {
  const fitted = await db
    .selectFrom('movements')
    .select((each) => ['part_id as partId', each.fn.sum<number>('quantity').as('pieces')])
    .where('office_id', '=', officeId)
    .where('reason', '=', 'fit')
    .where('moved_on', '>=', since)
    .groupBy('part_id')
    .execute()
  const pieces = new Map(fitted.map((row) => [row.partId, Number(row.pieces)]))
  const parts = await db.selectFrom('parts').select(['id', 'cost_cents']).where('office_id', '=', officeId).execute()
  return parts.map((part) => ({ partId: part.id, usedValue: usedAtCost(pieces.get(part.id) ?? 0, part.cost_cents) }))
}

const usedAtCost = (pieces: number, cost: Cents): Cents => cents(pieces * cost)
