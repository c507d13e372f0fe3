import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, MovementId, OfficeId, PartId, PlaceId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

export interface CountRow {
  readonly countId: number
  readonly name: string
  readonly on: CalendarDate
  readonly state: 'open' | 'approved' | 'dropped'
  readonly begunBy: string
  readonly endedAt: string | null
  readonly endedBy: string
  readonly version: number
}

/** Rounds; a count of a single heap, which has no name, is none. */
function countRows(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('stock_counts')
    .select(['id as countId', 'name', 'count_on as on', 'state', 'begun_by as begunBy'])
    .select(['ended_at as endedAt', 'ended_by as endedBy', 'version'])
    .where('office_id', '=', officeId)
    .where('name', '<>', '')
}

/** Open rounds, then those that ended last. */
export async function listCounts(db: ReadDb, officeId: OfficeId, ended: number): Promise<CountRow[]> {
  const open = await countRows(db, officeId).where('state', '=', 'open').orderBy('id').execute()
  const others = countRows(db, officeId).where('state', '<>', 'open').orderBy('id', 'desc').limit(ended)
  return [...open, ...(await others.execute())]
}

export async function findCount(db: ReadDb, officeId: OfficeId, countId: number): Promise<CountRow | null> {
  return (await countRows(db, officeId).where('id', '=', countId).executeTakeFirst()) ?? null
}

export async function findOpenCountByName(db: ReadDb, officeId: OfficeId, name: string): Promise<CountRow | null> {
  const counts = countRows(db, officeId).where('state', '=', 'open')
  return (await counts.where('name', '=', name).executeTakeFirst()) ?? null
}

/** Lines and counted lines of rounds. */
export async function progressOfCounts(
  db: ReadDb,
  officeId: OfficeId,
  countIds: readonly number[],
): Promise<Map<number, { readonly lines: number; readonly counted: number }>> {
  if (countIds.length === 0) return new Map()
  const rows = await db
    .selectFrom('stock_count_lines')
    .select((each) => ['count_id as countId', each.fn.countAll<number>().as('lines')])
    .select((each) => each.fn.count<number>('counted').as('counted'))
    .where('office_id', '=', officeId)
    .where('count_id', 'in', countIds)
    .groupBy('count_id')
    .execute()
  return new Map(rows.map((row) => [row.countId, { lines: Number(row.lines), counted: Number(row.counted) }]))
}

export interface CountLineRow {
  readonly lineId: number
  readonly placeId: PlaceId
  readonly place: string
  readonly aisle: string
  readonly partId: PartId
  readonly number: string
  readonly part: string
  readonly lotId: LotId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly cost: Cents
  readonly why: string
  readonly counted: number | null
  readonly booksSaid: number | null
  readonly countedAt: string | null
  readonly countedBy: string
  readonly note: string
}

function countLineRows(db: ReadDb, officeId: OfficeId, countId: number) {
  return db
    .selectFrom('stock_count_lines as c')
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'c.office_id').onRef('p.id', '=', 'c.place_id'))
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'c.office_id').onRef('l.id', '=', 'c.lot_id'))
    .innerJoin('parts as t', (join) => join.onRef('t.office_id', '=', 'c.office_id').onRef('t.id', '=', 'c.part_id'))
    .select(['c.id as lineId', 'c.place_id as placeId', 'p.code as place', 'p.aisle as aisle'])
    .select(['c.part_id as partId', 't.number as number', 't.name as part'])
    .select(['c.lot_id as lotId', 'l.code as lot', 'l.expires_on as expiresOn', 'l.cost_cents as cost'])
    .select(['c.why as why', 'c.counted as counted', 'c.books_said as booksSaid'])
    .select(['c.counted_at as countedAt', 'c.counted_by as countedBy', 'c.note as note'])
    .where('c.office_id', '=', officeId)
    .where('c.count_id', '=', countId)
}

/** Lines of a round in the order of the walk. */
export async function linesOfCount(db: ReadDb, officeId: OfficeId, countId: number): Promise<CountLineRow[]> {
  const lines = countLineRows(db, officeId, countId)
  return lines.orderBy('p.walk_order').orderBy('p.code').orderBy('t.number').orderBy('l.id').execute()
}

/** One line of a round, whatever the round has beside it. */
export async function findLineOfCount(
  db: ReadDb,
  officeId: OfficeId,
  countId: number,
  lineId: number,
): Promise<CountLineRow | null> {
  return (await countLineRows(db, officeId, countId).where('c.id', '=', lineId).executeTakeFirst()) ?? null
}

export interface OpenLine {
  readonly countId: number
  readonly name: string
  readonly lineId: number
  readonly placeId: PlaceId
  readonly lotId: LotId
}

/** Lines of every open round: nothing is counted in two at a time. */
export async function linesOfOpenCounts(db: ReadDb, officeId: OfficeId): Promise<OpenLine[]> {
  return db
    .selectFrom('stock_count_lines as l')
    .innerJoin('stock_counts as c', (join) =>
      join.onRef('c.office_id', '=', 'l.office_id').onRef('c.id', '=', 'l.count_id'),
    )
    .select(['l.count_id as countId', 'c.name as name', 'l.id as lineId'])
    .select(['l.place_id as placeId', 'l.lot_id as lotId'])
    .where('l.office_id', '=', officeId)
    .where('c.state', '=', 'open')
    .execute()
}

/** Heaps counted, or begun to be counted, since a day. */
export async function countedSince(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<number> {
  const row = await db
    .selectFrom('stock_count_lines as l')
    .innerJoin('stock_counts as c', (join) =>
      join.onRef('c.office_id', '=', 'l.office_id').onRef('c.id', '=', 'l.count_id'),
    )
    .select((each) => each.fn.countAll<number>().as('lines'))
    .where('l.office_id', '=', officeId)
    .where('c.state', '<>', 'dropped')
    .where((each) => each.or([each('c.state', '=', 'open'), each('c.count_on', '>=', since)]))
    .executeTakeFirst()
  return Number(row?.lines ?? 0)
}

export async function insertCount(
  tx: WriteDb,
  officeId: OfficeId,
  count: {
    readonly name: string
    readonly on: CalendarDate
    readonly at: string
    readonly by: string
    readonly state: 'open' | 'approved'
  },
): Promise<number> {
  const ended = count.state === 'approved'
  const { id } = await tx
    .insertInto('stock_counts')
    .values({
      office_id: officeId,
      count_on: count.on,
      name: count.name,
      state: count.state,
      begun_at: count.at,
      begun_by: count.by,
      ended_at: ended ? count.at : null,
      ended_by: ended ? count.by : '',
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

export interface NewCountLine {
  readonly placeId: PlaceId
  readonly partId: PartId
  readonly lotId: LotId
  readonly why: string
  readonly counted?: { readonly pieces: number; readonly booksSaid: number; readonly at: string; readonly by: string }
  readonly note?: string
  readonly movementId?: MovementId | null
}

const AT_ONCE = 500

export async function insertCountLines(
  tx: WriteDb,
  officeId: OfficeId,
  countId: number,
  lines: readonly NewCountLine[],
): Promise<void> {
  for (let from = 0; from < lines.length; from += AT_ONCE)
    await tx
      .insertInto('stock_count_lines')
      .values(
        lines.slice(from, from + AT_ONCE).map((line) => ({
          office_id: officeId,
          count_id: countId,
          place_id: line.placeId,
          part_id: line.partId,
          lot_id: line.lotId,
          why: line.why,
          counted: line.counted?.pieces ?? null,
          books_said: line.counted?.booksSaid ?? null,
          counted_at: line.counted?.at ?? null,
          counted_by: line.counted?.by ?? '',
          note: line.note ?? '',
          movement_id: line.movementId ?? null,
        })),
      )
      .execute()
}

/** Writes a count down with what the books say at that moment; null forgets it. */
export async function setCounted(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: number,
  count: {
    readonly pieces: number
    readonly booksSaid: number
    readonly at: string
    readonly by: string
    readonly note: string
  } | null,
): Promise<void> {
  await tx
    .updateTable('stock_count_lines')
    .set({
      counted: count?.pieces ?? null,
      books_said: count?.booksSaid ?? null,
      counted_at: count?.at ?? null,
      counted_by: count?.by ?? '',
      ...(count ? { note: count.note } : {}),
    })
    .where('office_id', '=', officeId)
    .where('id', '=', lineId)
    .execute()
}

export async function setLineMovement(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: number,
  movementId: MovementId,
): Promise<void> {
  await tx
    .updateTable('stock_count_lines')
    .set({ movement_id: movementId })
    .where('office_id', '=', officeId)
    .where('id', '=', lineId)
    .execute()
}

/** Takes the lines out that were not counted; how many there were. */
export async function deleteUncounted(tx: WriteDb, officeId: OfficeId, countId: number): Promise<number> {
  const { numDeletedRows } = await tx
    .deleteFrom('stock_count_lines')
    .where('office_id', '=', officeId)
    .where('count_id', '=', countId)
    .where('counted', 'is', null)
    .executeTakeFirst()
  return Number(numDeletedRows)
}

/** A round was written in: whoever looked at it before sees an older one. */
export async function bumpCount(tx: WriteDb, officeId: OfficeId, countId: number): Promise<void> {
  await tx
    .updateTable('stock_counts')
    .set((each) => ({ version: each('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', countId)
    .execute()
}

export async function endCount(
  tx: WriteDb,
  officeId: OfficeId,
  countId: number,
  end: { readonly state: 'approved' | 'dropped'; readonly at: string; readonly by: string },
): Promise<void> {
  await tx
    .updateTable('stock_counts')
    .set((each) => ({
      state: end.state,
      ended_at: end.at,
      ended_by: end.by,
      version: each('version', '+', 1),
    }))
    .where('office_id', '=', officeId)
    .where('id', '=', countId)
    .execute()
}

export interface PullHolding {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly van: string
  readonly on: CalendarDate
  readonly quantity: number
}

/** What open pulls hold of these lots, pull by pull. */
export async function pullsHolding(db: ReadDb, officeId: OfficeId): Promise<PullHolding[]> {
  const rows = await db
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .innerJoin('vans as n', (join) => join.onRef('n.office_id', '=', 'p.office_id').onRef('n.id', '=', 'p.van_id'))
    .select(['l.lot_id as lotId', 'l.place_id as placeId', 'n.name as van', 'p.pull_on as on'])
    .select((each) => each.fn.sum<number>('l.quantity').as('quantity'))
    .where('l.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .groupBy(['l.lot_id', 'l.place_id', 'n.name', 'p.pull_on'])
    .orderBy('p.pull_on')
    .orderBy('n.name')
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}
