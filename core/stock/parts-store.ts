import { type RawBuilder, sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId, PlaceId } from '../units/ids.ts'
import type { Millilitres } from '../units/measures.ts'
import type { Cents } from '../units/money.ts'
import type { Minutes } from '../units/time-of-day.ts'

/** A part as the ledger keeps it. */
export interface PartRow {
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly stageKind: StageKind | null
  readonly gtin: string
  readonly price: Cents
  readonly cost: Cents
  readonly taxFree: boolean
  readonly ratedMillilitres: Millilitres | null
  readonly shelfMonths: number | null
  readonly fitMinutes: Minutes | null
  readonly perVisitQuantity: number
  /** Pieces that every van always carries, where the van has no par of its own. */
  readonly vanPar: number
  /** Room that a piece takes, millilitres; null when nobody measured it. */
  readonly spaceMillilitres: number | null
  readonly leastToKeep: number | null
  readonly serviceLevelPercent: number | null
  readonly note: string
  readonly closedOn: CalendarDate | null
  readonly version: number
}

/** What is written of a part; its key and version apart. */
export type PartFields = Omit<PartRow, 'partId' | 'version'>

const PART = [
  'id as partId',
  'number',
  'name',
  'stage_kind as stageKind',
  'gtin',
  'price_cents as price',
  'cost_cents as cost',
  'tax_free',
  'rated_ml as ratedMillilitres',
  'shelf_months as shelfMonths',
  'fit_minutes as fitMinutes',
  'per_visit_quantity as perVisitQuantity',
  'van_par as vanPar',
  'space_ml as spaceMillilitres',
  'reorder_point as leastToKeep',
  'service_level_percent as serviceLevelPercent',
  'note',
  'closed_on as closedOn',
  'version',
] as const

const withFlag = <Row extends { tax_free: 0 | 1 }>({ tax_free, ...row }: Row) => ({ ...row, taxFree: tax_free === 1 })

/** All parts by number, those no longer sold too. */
export async function listParts(db: ReadDb, officeId: OfficeId): Promise<PartRow[]> {
  const rows = await db.selectFrom('parts').select(PART).where('office_id', '=', officeId).orderBy('number').execute()
  return rows.map(withFlag)
}

export async function findPart(db: ReadDb, officeId: OfficeId, partId: PartId): Promise<PartRow | null> {
  const parts = db.selectFrom('parts').select(PART).where('office_id', '=', officeId)
  const row = await parts.where('id', '=', partId).executeTakeFirst()
  return row ? withFlag(row) : null
}

export async function findPartByNumber(db: ReadDb, officeId: OfficeId, number: string): Promise<PartRow | null> {
  const parts = db.selectFrom('parts').select(PART).where('office_id', '=', officeId)
  const row = await parts.where('number', '=', number).executeTakeFirst()
  return row ? withFlag(row) : null
}

const columnsOf = (part: PartFields) => ({
  number: part.number,
  name: part.name,
  stage_kind: part.stageKind,
  gtin: part.gtin,
  price_cents: part.price,
  cost_cents: part.cost,
  tax_free: part.taxFree ? (1 as const) : (0 as const),
  rated_ml: part.ratedMillilitres,
  shelf_months: part.shelfMonths,
  fit_minutes: part.fitMinutes,
  per_visit_quantity: part.perVisitQuantity,
  van_par: part.vanPar,
  space_ml: part.spaceMillilitres,
  reorder_point: part.leastToKeep,
  service_level_percent: part.serviceLevelPercent,
  note: part.note,
  closed_on: part.closedOn,
})

export async function insertPart(tx: WriteDb, officeId: OfficeId, part: PartFields): Promise<PartId> {
  const row = { office_id: officeId, ...columnsOf(part) }
  const { id } = await tx.insertInto('parts').values(row).returning('id').executeTakeFirstOrThrow()
  return id
}

/** Saves a part when nobody saved it since; false otherwise. */
export async function updatePart(tx: WriteDb, officeId: OfficeId, part: PartRow): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('parts')
    .set({ ...columnsOf(part), version: part.version + 1 })
    .where('office_id', '=', officeId)
    .where('id', '=', part.partId)
    .where('version', '=', part.version)
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

/** What may stand in for what, the best first. */
export async function listSubstitutes(db: ReadDb, officeId: OfficeId): Promise<Map<PartId, PartId[]>> {
  const rows = await db
    .selectFrom('part_substitutes')
    .select(['part_id', 'substitute_id'])
    .where('office_id', '=', officeId)
    .orderBy('part_id')
    .orderBy('rank')
    .execute()
  const found = new Map<PartId, PartId[]>()
  for (const row of rows) found.set(row.part_id, [...(found.get(row.part_id) ?? []), row.substitute_id])
  return found
}

/** The bins where a part usually lies. */
export async function binsOfPart(db: ReadDb, officeId: OfficeId, partId: PartId): Promise<PlaceId[]> {
  const rows = await db
    .selectFrom('part_bins as b')
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .select('b.place_id as placeId')
    .where('b.office_id', '=', officeId)
    .where('b.part_id', '=', partId)
    .orderBy('b.rank')
    .orderBy('p.walk_order')
    .orderBy('p.id')
    .execute()
  return rows.map((row) => row.placeId)
}

/** Writes anew what may stand in for a part, and where it usually lies, each in the order given. */
export async function replaceChoices(
  tx: WriteDb,
  officeId: OfficeId,
  partId: PartId,
  choices: { readonly substitutes: readonly PartId[]; readonly bins: readonly PlaceId[] },
): Promise<void> {
  await tx.deleteFrom('part_substitutes').where('office_id', '=', officeId).where('part_id', '=', partId).execute()
  await tx.deleteFrom('part_bins').where('office_id', '=', officeId).where('part_id', '=', partId).execute()
  const substitutes = [...new Set(choices.substitutes)].map((substituteId, index) => ({
    office_id: officeId,
    part_id: partId,
    substitute_id: substituteId,
    rank: index + 1,
  }))
  const bins = [...new Set(choices.bins)].map((placeId, index) => ({
    office_id: officeId,
    part_id: partId,
    place_id: placeId,
    rank: index + 1,
  }))
  if (substitutes.length > 0) await tx.insertInto('part_substitutes').values(substitutes).execute()
  if (bins.length > 0) await tx.insertInto('part_bins').values(bins).execute()
}

export interface PartStock {
  readonly partId: PartId
  readonly inBins: number
  readonly onVans: number
  /** In quarantine or on the way. */
  readonly elsewhere: number
  /** Recalled, or past its date today; part of the others. */
  readonly unusable: number
  readonly firstExpiry: CalendarDate | null
  readonly lots: number
}

/** What is there of every part that has any: along the lots of each part, and the index that holds the balances in full. */
export async function stockByPart(db: ReadDb, officeId: OfficeId, today: CalendarDate): Promise<PartStock[]> {
  const isOver = sql`(l.recalled_on is not null or coalesce(l.expires_on, '9999') < ${today})`
  const piecesWhere = (condition: RawBuilder<unknown>) =>
    sql<number>`sum(case when ${condition} then b.quantity else 0 end)`
  const liesIn = (kinds: RawBuilder<unknown>) =>
    sql`b.place_id in (select id from places where office_id = ${officeId} and kind in (${kinds}))`
  const rows = await db
    .selectFrom('lots as l')
    .innerJoin('balances as b', (join) => join.onRef('b.office_id', '=', 'l.office_id').onRef('b.lot_id', '=', 'l.id'))
    .where('l.office_id', '=', officeId)
    .where('b.quantity', '>', 0)
    .groupBy('l.part_id')
    .select((each) => [
      'l.part_id as partId',
      each.fn.sum<number>('b.quantity').as('pieces'),
      piecesWhere(liesIn(sql`'van'`)).as('onVans'),
      piecesWhere(liesIn(sql`'quarantine', 'transit'`)).as('elsewhere'),
      piecesWhere(isOver).as('unusable'),
      sql<CalendarDate | null>`min(case when l.recalled_on is null then l.expires_on end)`.as('firstExpiry'),
      each.fn.count<number>('l.id').distinct().as('lots'),
    ])
    .execute()
  return rows.map((row) => ({
    partId: row.partId,
    inBins: Number(row.pieces) - Number(row.onVans) - Number(row.elsewhere),
    onVans: Number(row.onVans),
    elsewhere: Number(row.elsewhere),
    unusable: Number(row.unusable),
    firstExpiry: row.firstExpiry,
    lots: Number(row.lots),
  }))
}
