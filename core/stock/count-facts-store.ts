import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import { addDays, type CalendarDate, calendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import { readFigures, readHeaps, readMovements } from './on-hand-on.ts'
import { heapsNow, movementsOfDays } from './on-hand-store.ts'
import type { PartUse } from './what-to-count.ts'

const LAST_DAY = calendarDate('9999-12-31')

/** What lies at a place that can be counted; how many pieces is not asked. */
export interface CountableHeap {
  readonly placeId: PlaceId
  readonly aisle: string
  readonly walkOrder: number
  readonly partId: PartId
  readonly lotId: LotId
  readonly receivedOn: CalendarDate
}

/** What lies in a bin, on a van or in quarantine. What is on the way cannot be counted. Places and lots are looked up once each, however many heaps there are. */
export async function countableHeaps(db: ReadDb, officeId: OfficeId): Promise<CountableHeap[]> {
  const places = await db
    .selectFrom('places')
    .select(['id', 'aisle', 'walk_order'])
    .where('office_id', '=', officeId)
    .where('kind', '<>', 'transit')
    .execute()
  const lots = await db
    .selectFrom('lots')
    .select(['id', 'part_id', 'received_on'])
    .where('office_id', '=', officeId)
    .execute()
  const [placeOf, lotOf] = [byKey(places), byKey(lots)]
  const heaps: CountableHeap[] = []
  for (const { placeId, lotId } of readHeaps(await heapsNow(db, officeId))) {
    const [place, lot] = [placeOf.get(placeId), lotOf.get(lotId)]
    if (!place || !lot) continue
    const { aisle, walk_order: walkOrder } = place
    heaps.push({ placeId, aisle, walkOrder, partId: lot.part_id, lotId, receivedOn: lot.received_on })
  }
  return heaps
}

const byKey = <Row extends { readonly id: number }>(rows: readonly Row[]): Map<number, Row> =>
  new Map(rows.map((row) => [row.id, row]))

export interface HeapName {
  readonly placeId: PlaceId
  readonly place: string
  readonly aisle: string
  readonly partId: PartId
  readonly number: string
  readonly part: string
  readonly lotId: LotId
  readonly lot: string
}

/** What these lots are called, at every place where something of them lies; in the order of the walk. */
export async function namesOfHeaps(db: ReadDb, officeId: OfficeId, lotIds: readonly LotId[]): Promise<HeapName[]> {
  if (lotIds.length === 0) return []
  return db
    .selectFrom('lots as l')
    .innerJoin('balances as b', (join) => join.onRef('b.office_id', '=', 'l.office_id').onRef('b.lot_id', '=', 'l.id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .innerJoin('parts as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.part_id'))
    .select(['b.place_id as placeId', 'p.code as place', 'p.aisle as aisle'])
    .select(['l.part_id as partId', 't.number as number', 't.name as part'])
    .select(['l.id as lotId', 'l.code as lot'])
    .where('l.office_id', '=', officeId)
    .where('l.id', 'in', lotIds)
    .where('b.quantity', '>', 0)
    .orderBy('p.walk_order')
    .orderBy('p.code')
    .orderBy('t.number')
    .orderBy('l.id')
    .execute()
}

/** Whether more than so many heaps lie somewhere; asked along the index that holds just that. */
export async function hasManyHeaps(db: ReadDb, officeId: OfficeId, many: number): Promise<boolean> {
  const heaps = db.selectFrom('balances').select('lot_id').where('office_id', '=', officeId)
  const row = await heaps.orderBy('lot_id').orderBy('place_id').offset(many).limit(1).executeTakeFirst()
  return row !== undefined
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
    .where(sql<boolean>`reason = 'count'`)
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

/** How often something came to a heap or went from it since a day, by lot and place. */
export async function movedTimes(
  db: ReadDb,
  officeId: OfficeId,
  since: CalendarDate,
): Promise<Map<LotId, Map<PlaceId, number>>> {
  const days = { after: addDays(since, -1), until: LAST_DAY }
  const times = new Map<LotId, Map<PlaceId, number>>()
  const add = (lotId: LotId, placeId: PlaceId | null): void => {
    if (placeId === null) return
    const places = times.get(lotId) ?? new Map<PlaceId, number>()
    if (places.size === 0) times.set(lotId, places)
    places.set(placeId, (places.get(placeId) ?? 0) + 1)
  }
  for (const { lotId, fromPlaceId, toPlaceId } of readMovements(await movementsOfDays(db, officeId, days))) {
    add(lotId, fromPlaceId)
    add(lotId, toPlaceId)
  }
  return times
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

/** What was fitted of each part since a day, at what the part costs; along the index that holds just that. */
export async function usedSince(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<PartUse[]> {
  const fitted = sql<string>`(select coalesce(string_agg(part_id || ',' || quantity, ','), '') from movements
    where office_id = ${officeId} and reason = 'fit' and moved_on >= ${since})`
  const text = (await db.selectNoFrom(fitted.as('text')).executeTakeFirstOrThrow()).text
  const pieces = new Map<number, number>()
  const figures = readFigures(text)
  for (let at = 0; at < figures.length; at += 2) {
    const partId = figures[at] ?? 0
    pieces.set(partId, (pieces.get(partId) ?? 0) + (figures[at + 1] ?? 0))
  }
  const parts = await db.selectFrom('parts').select(['id', 'cost_cents']).where('office_id', '=', officeId).execute()
  return parts.map((part) => ({ partId: part.id, usedValue: usedAtCost(pieces.get(part.id) ?? 0, part.cost_cents) }))
}

const usedAtCost = (pieces: number, cost: Cents): Cents => cents(pieces * cost)
