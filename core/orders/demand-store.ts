import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, PartId, SiteId } from '../units/ids.ts'
import type { BookedUse } from './reorder-shapes.ts'

/** Stages of one unit that hold the same part and are not on any visit that is booked; or one of them, with others to be added. */
export interface WantedStages {
  readonly partId: PartId
  readonly installationId: InstallationId
  readonly pieces: number
  /** The earliest of their due dates. */
  readonly dueOn: CalendarDate
}

/**
 * The conditions of the index `stages_in_want`, word by word. Begun from the parts, which a cross join makes SQLite do: each is one
 * narrow walk along that index, which holds all that is asked for. By due date instead, every stage would be fetched by itself.
 */
function wantingStages(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('parts as p')
    .crossJoin('stages as g')
    .whereRef('g.office_id', '=', 'p.office_id')
    .whereRef('g.part_id', '=', 'p.id')
    .where('p.office_id', '=', officeId)
    .where('g.removed_on', 'is', null)
    .where('g.due_on', 'is not', null)
    .where('g.kind', '<>', sql.lit('tank'))
}

/** Stages that fall due until then, each with its part and unit. Those that a booked visit is to change are left out. */
export function stagesInWantQuery(db: ReadDb, officeId: OfficeId, until: CalendarDate) {
  const onVisits = db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id'),
    )
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('k.kind', '=', 'change')
    .where('k.stage_id', 'is not', null)
    .select('k.stage_id')
  return wantingStages(db, officeId)
    .where('g.due_on', '<=', until)
    .where('g.id', 'not in', onVisits)
    .select(['p.id as partId', 'g.installation_id as installationId', sql<CalendarDate>`g.due_on`.as('dueOn')])
}

export async function stagesInWant(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<WantedStages[]> {
  const rows = await stagesInWantQuery(db, officeId, until).execute()
  return rows.map(({ partId, installationId, dueOn }) => ({ partId, installationId, pieces: 1, dueOn }))
}

/** Stages of each part that fall due between two days; the index holds all that is asked. */
export function stagesDueByPartQuery(db: ReadDb, officeId: OfficeId, from: CalendarDate, until: CalendarDate) {
  return wantingStages(db, officeId)
    .where('g.due_on', '>=', from)
    .where('g.due_on', '<=', until)
    .groupBy('p.id')
    .select('p.id as partId')
    .select((each) => each.fn.countAll<number>().as('stages'))
}

export async function stagesDueByPart(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
  until: CalendarDate,
): Promise<Map<PartId, number>> {
  const rows = await stagesDueByPartQuery(db, officeId, from, until).execute()
  return new Map(rows.map((row) => [row.partId, Number(row.stages)]))
}

/** Whether more than so many stages have a due date; looks at no more than those. */
export async function hasManyStages(db: ReadDb, officeId: OfficeId, many: number): Promise<boolean> {
  const row = await db
    .selectFrom('stages')
    .where('office_id', '=', officeId)
    .where('removed_on', 'is', null)
    .where('due_on', 'is not', null)
    .select('id')
    .orderBy('id')
    .offset(many)
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}

/** Pieces that booked visits are planned to use, less what an open pull promised them. */
export async function bookedPieces(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<BookedUse[]> {
  const rows = await db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id'),
    )
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .select(['v.id as visitId', 'v.visit_on as on', 'k.quantity as quantity'])
    .select(
      sql<PartId | null>`case when k.kind = 'change' then coalesce(k.part_id, g.part_id) else k.part_id end`.as(
        'partId',
      ),
    )
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '<=', until)
    .where('k.state', '=', 'planned')
    .orderBy('v.id')
    .execute()
  const promised = new Map<string, number>()
  for (const row of await promisedByVisit(db, officeId)) promised.set(`${row.visitId}/${row.partId}`, row.quantity)
  return rows.flatMap((row) => {
    if (row.partId === null) return []
    const key = `${row.visitId}/${row.partId}`
    const taken = Math.min(promised.get(key) ?? 0, row.quantity)
    promised.set(key, (promised.get(key) ?? 0) - taken)
    return row.quantity > taken ? [{ partId: row.partId, on: row.on, quantity: row.quantity - taken }] : []
  })
}

async function promisedByVisit(db: ReadDb, officeId: OfficeId) {
  const rows = await db
    .selectFrom('pull_line_stops as s')
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .select((each) => [
      's.visit_id as visitId',
      'l.part_id as partId',
      each.fn.sum<number>('s.quantity').as('quantity'),
    ])
    .where('s.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .groupBy(['s.visit_id', 'l.part_id'])
    .execute()
  return rows.map((row) => ({ ...row, quantity: Number(row.quantity) }))
}

/** Visits that are booked and not recorded yet, by day. */
export async function bookedVisits(
  db: ReadDb,
  officeId: OfficeId,
  until: CalendarDate,
): Promise<{ readonly siteId: SiteId; readonly on: CalendarDate }[]> {
  return db
    .selectFrom('visits')
    .select(['site_id as siteId', 'visit_on as on'])
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('visit_on', '<=', until)
    .orderBy('visit_on')
    .execute()
}

/** Visits done by day since then. */
export async function visitsDoneByDay(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<number[]> {
  const rows = await db
    .selectFrom('visits')
    .select((each) => ['done_on', each.fn.countAll<number>().as('visits')])
    .where('office_id', '=', officeId)
    .where('state', '=', 'done')
    .where('visit_on', '>=', since)
    .groupBy('done_on')
    .execute()
  return rows.map((row) => Number(row.visits))
}

/** Pieces fitted of each part by day since then. */
export async function fittedByDay(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<Map<PartId, number[]>> {
  const rows = await db
    .selectFrom('movements as m')
    .leftJoin('movements as c', (join) =>
      join.onRef('c.office_id', '=', 'm.office_id').onRef('c.corrects_id', '=', 'm.id'),
    )
    .select((each) => ['m.part_id as partId', 'm.moved_on as on', each.fn.sum<number>('m.quantity').as('pieces')])
    .where('m.office_id', '=', officeId)
    .where('m.reason', '=', 'fit')
    .where('m.moved_on', '>=', since)
    .where('c.id', 'is', null)
    .groupBy(['m.part_id', 'm.moved_on'])
    .execute()
  const days = new Map<PartId, number[]>()
  for (const row of rows) {
    const own = days.get(row.partId)
    if (own) own.push(Number(row.pieces))
    else days.set(row.partId, [Number(row.pieces)])
  }
  return days
}
