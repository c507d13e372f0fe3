import { type SelectQueryBuilder, sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId } from '../units/ids.ts'
import { piecesByPlace } from './places-store.ts'

export interface LabelledLot {
  readonly lotId: LotId
  readonly number: string
  readonly name: string
  readonly gtin: string
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly recalledOn: CalendarDate | null
  readonly pieces: number
}
export interface LabelledPart {
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly gtin: string
  readonly pieces: number
}
export interface LabelledBin {
  readonly placeId: PlaceId
  readonly bin: string
  readonly aisle: string
  readonly pieces: number
}

/** Which of them: those with these keys, or so many whose text has all the words. */
export type Which<Id> =
  | { readonly ids: readonly Id[] }
  | { readonly words: readonly string[]; readonly limit: number; readonly partId?: PartId }

const piecesOf = (condition: ReturnType<typeof sql>) =>
  sql<number>`(select coalesce(sum(b.quantity), 0) from balances b where b.office_id = x.office_id and ${condition} and b.quantity > 0)`

/** Lots that lie somewhere, or those asked for by key, the latest first. */
export async function lotsForLabels(db: ReadDb, officeId: OfficeId, which: Which<LotId>): Promise<LabelledLot[]> {
  if ('ids' in which && which.ids.length === 0) return []
  let rows = db
    .selectFrom('lots as x')
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'x.office_id').onRef('p.id', '=', 'x.part_id'))
    .select([
      'x.id as lotId',
      'p.number as number',
      'p.name as name',
      'p.gtin as gtin',
      'x.code as lot',
      'x.expires_on as expiresOn',
      'x.recalled_on as recalledOn',
      piecesOf(sql`b.lot_id = x.id`).as('pieces'),
    ])
    .where('x.office_id', '=', officeId)
  if ('ids' in which) rows = rows.where('x.id', 'in', which.ids)
  else {
    rows = withWords(rows, sql`p.number || ' ' || p.name || ' ' || x.code`, which.words).limit(which.limit)
    rows = rows.where(
      sql<boolean>`exists (select 1 from balances h where h.office_id = x.office_id and h.lot_id = x.id and h.quantity > 0)`,
    )
    if (which.partId !== undefined) rows = rows.where('x.part_id', '=', which.partId)
  }
  return (await rows.orderBy('x.id', 'desc').execute()).map(withPieces)
}

/** Parts in use, or those asked for by key, by number. */
export async function partsForLabels(db: ReadDb, officeId: OfficeId, which: Which<PartId>): Promise<LabelledPart[]> {
  if ('ids' in which && which.ids.length === 0) return []
  let rows = db
    .selectFrom('parts as x')
    .select([
      'x.id as partId',
      'x.number as number',
      'x.name as name',
      'x.gtin as gtin',
      piecesOf(sql`b.lot_id in (select l.id from lots l where l.office_id = x.office_id and l.part_id = x.id)`).as(
        'pieces',
      ),
    ])
    .where('x.office_id', '=', officeId)
  if ('ids' in which) rows = rows.where('x.id', 'in', which.ids)
  else {
    rows = withWords(rows, sql`x.number || ' ' || x.name`, which.words).limit(which.limit)
    rows = rows.where('x.closed_on', 'is', null)
    if (which.partId !== undefined) rows = rows.where('x.id', '=', which.partId)
  }
  return (await rows.orderBy('x.number').execute()).map(withPieces)
}

/** Bins in use, or those asked for by key, in the order of the walk. */
export async function binsForLabels(db: ReadDb, officeId: OfficeId, which: Which<PlaceId>): Promise<LabelledBin[]> {
  if ('ids' in which && which.ids.length === 0) return []
  let rows = db
    .selectFrom('places as x')
    .select(['x.id as placeId', 'x.code as bin', 'x.aisle as aisle'])
    .where('x.office_id', '=', officeId)
    .where('x.kind', '=', 'bin')
  if ('ids' in which) rows = rows.where('x.id', 'in', which.ids)
  else
    rows = withWords(rows, sql`x.code || ' ' || x.aisle`, which.words)
      .where('x.closed_on', 'is', null)
      .limit(which.limit)
  const bins = await rows.orderBy('x.walk_order').orderBy('x.code').execute()
  const pieces = await piecesByPlace(db, officeId)
  return bins.map((bin) => ({ ...bin, pieces: pieces.get(bin.placeId) ?? 0 }))
}

const withPieces = <Row extends { pieces: number }>(row: Row): Row => ({ ...row, pieces: Number(row.pieces) })

/** All words, somewhere in the text, whatever their case. What people type is no pattern. */
function withWords<DB, TB extends keyof DB, O>(
  rows: SelectQueryBuilder<DB, TB, O>,
  text: ReturnType<typeof sql>,
  words: readonly string[],
): SelectQueryBuilder<DB, TB, O> {
  return words.reduce(
    (found, word) =>
      found.where(
        sql<boolean>`lower(${text}) like ${`%${word.toLowerCase().replace(/[\\%_]/g, '\\$&')}%`} escape '\\'`,
      ),
    rows,
  )
}
