import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId } from '../units/ids.ts'

/** Until which day, and what counts as late: the grace of a household that was due before `lateBefore` is over on `today`. */
export interface AheadSpan {
  readonly today: CalendarDate
  readonly until: CalendarDate
  readonly lateBefore: CalendarDate
}

/** The visit that its plan puts first. */
const IS_NEXT = sql<number>`case when v.latest_on = p.latest_on then 1 else 0 end`

/**
 * Planned visits of open households until a day. A household with a booked visit has its next one in that; the plan's next is left
 * out, so that nothing counts twice.
 */
function plannedAhead(db: ReadDb, officeId: OfficeId, { until }: AheadSpan) {
  return db
    .selectFrom('planned_visits as v')
    .innerJoin('site_plans as p', (join) =>
      join.onRef('p.office_id', '=', 'v.office_id').onRef('p.site_id', '=', 'v.site_id'),
    )
    .innerJoin('sites as s', (join) => join.onRef('s.office_id', '=', 'v.office_id').onRef('s.id', '=', 'v.site_id'))
    .where('v.office_id', '=', officeId)
    .where('v.visit_on', '<=', until)
    .where('s.closed_on', 'is', null)
    .where(
      sql<boolean>`not (v.latest_on = p.latest_on and exists
        (select 1 from visits b where b.office_id = v.office_id and b.site_id = v.site_id and b.state = 'booked'))`,
    )
}

const isLate = ({ lateBefore }: AheadSpan) =>
  sql<number>`case when v.latest_on = p.latest_on and s.due_on < ${lateBefore} then 1 else 0 end`

/** Planned visits by day, last day, length and whether they are late or their household's next; minutes without the drive. */
export async function countPlannedAhead(db: ReadDb, officeId: OfficeId, span: AheadSpan) {
  const rows = await plannedAhead(db, officeId, span)
    .select(({ fn }) => [
      'v.visit_on as plannedOn',
      'v.latest_on as latestOn',
      'v.minutes as minutes',
      IS_NEXT.as('isNext'),
      isLate(span).as('isLate'),
      fn.countAll<number>().as('visits'),
    ])
    .groupBy(['v.visit_on', 'v.latest_on', 'v.minutes', sql.ref('isNext'), sql.ref('isLate')])
    .execute()
  return rows.map((row) => ({
    ...row,
    isNext: Number(row.isNext) === 1,
    isLate: Number(row.isLate) === 1,
    visits: Number(row.visits),
  }))
}

/** Stages that planned visits see to, by day, kind and whether the visit is late. */
export async function countPlannedStages(db: ReadDb, officeId: OfficeId, span: AheadSpan) {
  const rows = await plannedAhead(db, officeId, span)
    .innerJoin('planned_changes as c', (join) =>
      join
        .onRef('c.office_id', '=', 'v.office_id')
        .onRef('c.site_id', '=', 'v.site_id')
        .onRef('c.latest_on', '=', 'v.latest_on'),
    )
    .innerJoin('stages as t', (join) => join.onRef('t.office_id', '=', 'c.office_id').onRef('t.id', '=', 'c.stage_id'))
    .select(({ fn }) => [
      'v.visit_on as on',
      't.kind as kind',
      isLate(span).as('isLate'),
      fn.countAll<number>().as('count'),
    ])
    .groupBy(['v.visit_on', 't.kind', sql.ref('isLate')])
    .execute()
  return rows.map((row) => ({ ...row, isLate: Number(row.isLate) === 1, count: Number(row.count) }))
}

/** Booked visits by day, from today on; minutes of all of them, with a drive to each. */
export async function countBookedAhead(db: ReadDb, officeId: OfficeId, span: AheadSpan, driveMinutes: number) {
  const rows = await db
    .selectFrom('visits')
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('visit_on', '>=', span.today)
    .where('visit_on', '<=', span.until)
    .select(({ fn }) => [
      'visit_on as on',
      fn.countAll<number>().as('visits'),
      fn.sum<number>('planned_minutes').as('minutes'),
    ])
    .groupBy('visit_on')
    .execute()
  return rows.map(({ on, visits, minutes }) => ({
    on,
    visits: Number(visits),
    minutes: Number(minutes) + Number(visits) * driveMinutes,
  }))
}

/** Stages that booked visits see to, by day and kind. */
export async function countBookedStages(
  db: ReadDb,
  officeId: OfficeId,
  span: AheadSpan,
): Promise<{ on: CalendarDate; kind: StageKind; count: number }[]> {
  const rows = await db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as a', (join) =>
      join.onRef('a.office_id', '=', 'v.office_id').onRef('a.visit_id', '=', 'v.id'),
    )
    .innerJoin('stages as t', (join) => join.onRef('t.office_id', '=', 'a.office_id').onRef('t.id', '=', 'a.stage_id'))
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '>=', span.today)
    .where('v.visit_on', '<=', span.until)
    .where('a.kind', 'in', ['change', 'sanitise'])
    .select(({ fn }) => ['v.visit_on as on', 't.kind as kind', fn.countAll<number>().as('count')])
    .groupBy(['v.visit_on', 't.kind'])
    .execute()
  return rows.map((row) => ({ ...row, count: Number(row.count) }))
}

/** Open households in which something has a due date, and how many of them have no plan yet. */
export async function countHouseholdsAhead(db: ReadDb, officeId: OfficeId) {
  const row = await db
    .selectFrom('sites as s')
    .leftJoin('site_plans as p', (join) =>
      join.onRef('p.office_id', '=', 's.office_id').onRef('p.site_id', '=', 's.id'),
    )
    .where('s.office_id', '=', officeId)
    .where('s.closed_on', 'is', null)
    .where('s.due_on', 'is not', null)
    .select(({ fn }) => [fn.countAll<number>().as('households'), fn.count<number>('p.site_id').as('planned')])
    .executeTakeFirst()
  const households = Number(row?.households ?? 0)
  return { households, notPlanned: households - Number(row?.planned ?? 0) }
}

/** Whether more than so many households have a plan; looks at no more than those. */
export async function hasManyPlans(db: ReadDb, officeId: OfficeId, many: number): Promise<boolean> {
  const row = await db
    .selectFrom('site_plans')
    .select('site_id')
    .where('office_id', '=', officeId)
    .orderBy('site_id')
    .offset(many)
    .limit(1)
    .executeTakeFirst()
  return row !== undefined
}
