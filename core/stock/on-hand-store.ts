import { type RawBuilder, sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId } from '../units/ids.ts'
import type { MovedDays } from './on-hand-on.ts'

/** The first and the last day on which anything moved, along the index by day. */
export async function movedDays(db: ReadDb, officeId: OfficeId): Promise<MovedDays | null> {
  const days = db.selectFrom('movements').select('moved_on').where('office_id', '=', officeId).limit(1)
  const first = await days.orderBy('moved_on').executeTakeFirst()
  const last = await days.orderBy('moved_on', 'desc').executeTakeFirst()
  return first && last ? { first: first.moved_on, last: last.moved_on } : null
}

/** Rows as one text of figures: fifty thousand come across in a tenth of the time that as many records take. */
const figures = (columns: RawBuilder<unknown>, from: RawBuilder<unknown>) =>
  sql<string>`(select coalesce(string_agg(${columns}, ','), '') from ${from})`

const HEAP = sql`lot_id || ',' || place_id || ',' || quantity`
const MOVEMENT = sql`lot_id || ',' || coalesce(from_place_id, 0) || ',' || coalesce(to_place_id, 0) || ',' || quantity`

/** What is there now, from the kept balances, as `readHeaps` reads it. */
export async function heapsNow(db: ReadDb, officeId: OfficeId): Promise<string> {
  const heaps = figures(HEAP, sql`balances where office_id = ${officeId} and quantity > 0`)
  return (await db.selectNoFrom(heaps.as('heaps')).executeTakeFirstOrThrow()).heaps
}

/** The same, and what was moved today as `readMovements` reads it: both of one moment. */
export async function heapsAndToday(
  db: ReadDb,
  officeId: OfficeId,
  today: CalendarDate,
): Promise<{ readonly heaps: string; readonly today: string }> {
  return db
    .selectNoFrom([
      figures(HEAP, sql`balances where office_id = ${officeId} and quantity > 0`).as('heaps'),
      figures(MOVEMENT, sql`movements where office_id = ${officeId} and moved_on >= ${today}`).as('today'),
    ])
    .executeTakeFirstOrThrow()
}

/** Movements after a day, up to and including another, as `readMovements` reads them. Those of past days never change any more. */
export async function movementsOfDays(
  db: ReadDb,
  officeId: OfficeId,
  days: { readonly after: CalendarDate; readonly until: CalendarDate },
): Promise<string> {
  const from = sql`movements where office_id = ${officeId} and moved_on > ${days.after} and moved_on <= ${days.until}`
  return (await db.selectNoFrom(figures(MOVEMENT, from).as('moved')).executeTakeFirstOrThrow()).moved
}

const LOT = sql<string>`id || ',' || part_id || ',' || cost_cents || ',' || replace(coalesce(expires_on, '0'), '-', '')
  || ',' || case when recalled_on is null then 0 else 1 end`

/** Lots as `readLots` reads them: every one that ever came in, or those of which something lies somewhere now. */
export async function lotsAsFigures(
  db: ReadDb,
  officeId: OfficeId,
  which: 'every' | 'there',
): Promise<{ figures: string; numbers: string[] }> {
  const lots = db
    .selectFrom('lots as l')
    .select(['code', LOT.as('figures')])
    .where('l.office_id', '=', officeId)
  const lies = sql<boolean>`exists (select 1 from balances b where b.office_id = l.office_id and b.lot_id = l.id and b.quantity > 0)`
  const rows = await (which === 'there' ? lots.where(lies) : lots).execute()
  return { figures: rows.map((row) => row.figures).join(','), numbers: rows.map((row) => row.code) }
}

export interface PartName {
  readonly partId: PartId
  readonly number: string
  readonly name: string
}

export async function partNames(db: ReadDb, officeId: OfficeId): Promise<PartName[]> {
  return db
    .selectFrom('parts')
    .select(['id as partId', 'number', 'name'])
    .where('office_id', '=', officeId)
    .orderBy('number')
    .execute()
}
