import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId, SiteId, StageId, VisitId } from '../units/ids.ts'

/** A part of which a visit needs some pieces. */
export interface NeededPart {
  readonly partId: PartId
  readonly name: string
  readonly needed: number
  /** Whether a stage asks for its own part and no other. */
  readonly ownOnly: boolean
}

/** The parts that stages of a household hold, a piece a stage. */
export async function partsOfStages(
  db: ReadDb,
  officeId: OfficeId,
  siteId: SiteId,
  stageIds: readonly StageId[],
): Promise<NeededPart[]> {
  if (stageIds.length === 0) return []
  const rows = await db
    .selectFrom('stages as g')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.office_id', '=', 'g.office_id').onRef('i.id', '=', 'g.installation_id'),
    )
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'g.office_id').onRef('p.id', '=', 'g.part_id'))
    .where('g.office_id', '=', officeId)
    .where('i.site_id', '=', siteId)
    .where('g.id', 'in', stageIds)
    .where('g.kind', '<>', 'tank')
    .groupBy(['p.id', 'p.name', 'p.number'])
    .orderBy('p.number')
    .select((each) => [
      'p.id as partId',
      'p.name as name',
      each.fn.countAll<number>().as('needed'),
      each.fn.max('g.own_part_only').as('ownOnly'),
    ])
    .execute()
  return rows.map((row) => ({ ...row, needed: Number(row.needed), ownOnly: row.ownOnly === 1 }))
}

/** What every visit uses. */
export async function partsOfEveryVisit(db: ReadDb, officeId: OfficeId): Promise<NeededPart[]> {
  const rows = await db
    .selectFrom('parts')
    .select(['id as partId', 'name', 'per_visit_quantity as needed'])
    .where('office_id', '=', officeId)
    .where('per_visit_quantity', '>', 0)
    .where('closed_on', 'is', null)
    .orderBy('number')
    .execute()
  return rows.map((row) => ({ ...row, ownOnly: false }))
}

/** How many visits are booked up to a day, by their day; one can be left out. */
export async function bookedDays(
  db: ReadDb,
  officeId: OfficeId,
  { until, but }: { readonly until: CalendarDate; readonly but: VisitId | null },
): Promise<{ readonly on: CalendarDate; readonly visits: number }[]> {
  let query = db
    .selectFrom('visits')
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('visit_on', '<=', until)
  if (but !== null) query = query.where('id', '<>', but)
  const rows = await query
    .groupBy('visit_on')
    .select((each) => ['visit_on as on', each.fn.countAll<number>().as('visits')])
    .execute()
  return rows.map((row) => ({ ...row, visits: Number(row.visits) }))
}

/** The names of parts. */
export async function namesOfParts(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
): Promise<Map<PartId, string>> {
  if (partIds.length === 0) return new Map()
  const rows = await db
    .selectFrom('parts')
    .select(['id', 'name'])
    .where('office_id', '=', officeId)
    .where('id', 'in', partIds)
    .execute()
  return new Map(rows.map(({ id, name }) => [id, name]))
}

/** What lies of parts in bins and on vans, by the date on it; recalled lots left out. */
export async function usableHeaps(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
): Promise<{ readonly partId: PartId; readonly expiresOn: CalendarDate | null; readonly quantity: number }[]> {
  if (partIds.length === 0) return []
  const rows = await db
    .selectFrom('lots as l')
    .innerJoin('balances as b', (join) => join.onRef('b.office_id', '=', 'l.office_id').onRef('b.lot_id', '=', 'l.id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .where('l.office_id', '=', officeId)
    .where('l.part_id', 'in', partIds)
    .where('l.recalled_on', 'is', null)
    .where('b.quantity', '>', 0)
    .where('p.kind', 'in', ['bin', 'van'])
    .groupBy(['l.part_id', 'l.expires_on'])
    .select((each) => [
      'l.part_id as partId',
      'l.expires_on as expiresOn',
      each.fn.sum<number>('b.quantity').as('quantity'),
    ])
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}

/** What booked visits up to a day need of parts, by their day; one visit can be left out. */
export async function bookedNeeds(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
  { until, but }: { readonly until: CalendarDate; readonly but: VisitId | null },
): Promise<{ readonly partId: PartId; readonly on: CalendarDate; readonly quantity: number }[]> {
  if (partIds.length === 0) return []
  const part = sql<PartId>`case when k.kind = 'change' then coalesce(k.part_id, g.part_id) else k.part_id end`
  let query = db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id'),
    )
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '<=', until)
    .where('k.state', '=', 'planned')
    .where(part, 'in', partIds)
  if (but !== null) query = query.where('v.id', '<>', but)
  const rows = await query
    .groupBy(['v.visit_on', part])
    .select((each) => ['v.visit_on as on', part.as('partId'), each.fn.sum<number>('k.quantity').as('quantity')])
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}
