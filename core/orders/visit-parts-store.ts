import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId, SiteId, StageId, VisitId } from '../units/ids.ts'

/** The parts that stages of a household hold, a piece a stage. */
export async function partsOfStages(
  db: ReadDb,
  officeId: OfficeId,
  siteId: SiteId,
  stageIds: readonly StageId[],
): Promise<{ readonly partId: PartId; readonly name: string; readonly needed: number }[]> {
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
    .select((each) => ['p.id as partId', 'p.name as name', each.fn.countAll<number>().as('needed')])
    .execute()
  return rows.map((row) => ({ ...row, needed: Number(row.needed) }))
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
