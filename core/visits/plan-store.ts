import { CompiledQuery, sql } from 'kysely'
import type { DialectName, ReadDb, WriteDb } from '../database/handles.ts'
import type { Flag } from '../database/schema.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, LotId, OfficeId, PartId, SiteId } from '../units/ids.ts'
import type { KeptPlan, PlanWishes } from './plan-shapes.ts'

/** A plan is made anew after so many days, whatever happened: the horizon has moved on. */
const FRESH_DAYS = 28

/** Puts the plans of households into the place of what was kept for them; of those not among `plans` nothing is kept. */
export async function replacePlans(
  tx: WriteDb,
  dialect: DialectName,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
  plans: readonly KeptPlan[],
  plannedOn: CalendarDate,
): Promise<void> {
  if (siteIds.length === 0) return
  await forgetPlans(tx, officeId, siteIds)
  const short: Value[] = []
  const visits: Value[] = []
  const changes: Value[] = []
  for (const plan of plans) {
    const next = plan.visits[0]
    short.push(officeId, plan.siteId, plannedOn, plan.horizonOn, next?.visitOn ?? null, next?.latestOn ?? null)
    short.push(plan.visitCount, plan.totalCents, plan.savesOwnDatesCents, plan.savesEverythingCents)
    short.push(plan.proved ? 1 : 0)
    for (const visit of plan.visits) {
      visits.push(officeId, plan.siteId, visit.latestOn, visit.visitOn, visit.minutes, visit.cents)
      for (const { stageId, because, dueOn } of visit.changes)
        changes.push(officeId, plan.siteId, visit.latestOn, stageId, because, dueOn)
    }
  }
  await insertLines(tx, dialect, 'site_plans', SHORT_COLUMNS, short)
  await insertLines(tx, dialect, 'planned_visits', VISIT_COLUMNS, visits)
  await insertLines(tx, dialect, 'planned_changes', CHANGE_COLUMNS, changes)
}

async function forgetPlans(tx: WriteDb, officeId: OfficeId, siteIds: readonly SiteId[]): Promise<void> {
  const kept = await tx
    .selectFrom('site_plans')
    .select('site_id')
    .where('office_id', '=', officeId)
    .where('site_id', 'in', [...siteIds])
    .limit(1)
    .executeTakeFirst()
  if (!kept) return
  for (const table of ['planned_changes', 'planned_visits', 'site_plans'] as const)
    await tx
      .deleteFrom(table)
      .where('office_id', '=', officeId)
      .where('site_id', 'in', [...siteIds])
      .execute()
}

type Value = number | string | null

const SHORT_COLUMNS =
  'office_id, site_id, planned_on, horizon_on, next_visit_on, latest_on, visits, total_cents, saves_own_dates_cents, saves_everything_cents, proved'
const VISIT_COLUMNS = 'office_id, site_id, latest_on, visit_on, minutes, cents'
const CHANGE_COLUMNS = 'office_id, site_id, latest_on, stage_id, kind, due_on'

/** Few enough for the places a statement has on either database, many enough that its cost is spread. */
const LINES_AT_ONCE = 250

/** Inserts lines, their values one after another; the text of a full statement is the same each time, so that it stays prepared. */
async function insertLines(
  tx: WriteDb,
  dialect: DialectName,
  table: string,
  columns: string,
  values: readonly Value[],
): Promise<void> {
  const wide = columns.split(',').length
  for (let from = 0; from < values.length; from += wide * LINES_AT_ONCE) {
    const some = values.slice(from, from + wide * LINES_AT_ONCE)
    let place = 0
    const line = () =>
      `(${Array.from({ length: wide }, () => (dialect === 'sqlite' ? '?' : `$${++place}`)).join(', ')})`
    const lines = Array.from({ length: some.length / wide }, line).join(', ')
    await tx.executeQuery(CompiledQuery.raw(`insert into ${table} (${columns}) values ${lines}`, some))
  }
}

/** Open households without a plan, or with one that no longer stands: marked, too old, or its next visit missed; by their ids. */
export async function listStalePlans(db: ReadDb, officeId: OfficeId, today: CalendarDate): Promise<SiteId[]> {
  const rows = await stalePlans(db, officeId, today).select('s.id').orderBy('s.id').execute()
  return rows.map((row) => row.id)
}

export async function countStalePlans(db: ReadDb, officeId: OfficeId, today: CalendarDate): Promise<number> {
  const row = await stalePlans(db, officeId, today)
    .select(({ fn }) => fn.countAll<number>().as('count'))
    .executeTakeFirst()
  return Number(row?.count ?? 0)
}

function stalePlans(db: ReadDb, officeId: OfficeId, today: CalendarDate) {
  return db
    .selectFrom('sites as s')
    .leftJoin('site_plans as p', (join) =>
      join.onRef('p.office_id', '=', 's.office_id').onRef('p.site_id', '=', 's.id'),
    )
    .where('s.office_id', '=', officeId)
    .where('s.closed_on', 'is', null)
    .where((eb) =>
      eb.or([
        eb('p.site_id', 'is', null),
        eb('p.stale', '=', 1),
        eb('p.planned_on', '<', addDays(today, -FRESH_DAYS)),
        eb('p.latest_on', '<', today),
      ]),
    )
}

const STALE = { stale: 1 as Flag }

export async function markAllStale(tx: WriteDb, officeId: OfficeId): Promise<void> {
  await tx.updateTable('site_plans').set(STALE).where('office_id', '=', officeId).where('stale', '=', 0).execute()
}

export async function markStale(tx: WriteDb, officeId: OfficeId, siteIds: readonly SiteId[]): Promise<void> {
  if (siteIds.length === 0) return
  await tx
    .updateTable('site_plans')
    .set(STALE)
    .where('office_id', '=', officeId)
    .where('site_id', 'in', [...siteIds])
    .execute()
}

/** Marks the households where a part is chosen, a lot is fitted, or a date set by hand has ended since they were planned. */
export async function markStaleWith(
  tx: WriteDb,
  officeId: OfficeId,
  what: { readonly partId: PartId } | { readonly lotId: LotId } | { readonly ownDateEndedBefore: CalendarDate },
): Promise<void> {
  const stage =
    'partId' in what
      ? sql`s.part_id = ${what.partId}`
      : 'lotId' in what
        ? sql`s.fitted_lot_id = ${what.lotId}`
        : sql`s.own_due_ends_on < ${what.ownDateEndedBefore} and s.own_due_ends_on >= site_plans.planned_on`
  await sql`
    update site_plans set stale = 1
    where office_id = ${officeId} and stale = 0 and exists (
      select 1 from installations i join stages s on s.office_id = i.office_id and s.installation_id = i.id
      where i.office_id = site_plans.office_id and i.site_id = site_plans.site_id and i.removed_on is null
      and s.removed_on is null and ${stage})`.execute(tx)
}

/** Other places of the same customers that wish to be visited together with them. */
export async function sitesAlignedWith(db: ReadDb, officeId: OfficeId, siteIds: readonly SiteId[]): Promise<SiteId[]> {
  if (siteIds.length === 0) return []
  const rows = await db
    .selectFrom('sites as t')
    .innerJoin('sites as n', (join) =>
      join.onRef('n.office_id', '=', 't.office_id').onRef('n.customer_id', '=', 't.customer_id'),
    )
    .select('n.id')
    .distinct()
    .where('t.office_id', '=', officeId)
    .where('t.id', 'in', [...siteIds])
    .where('n.plan_align', '=', 1)
    .where('n.id', 'not in', [...siteIds])
    .execute()
  return rows.map((row) => row.id)
}

export async function sitesOfInstallations(
  db: ReadDb,
  officeId: OfficeId,
  installationIds: readonly InstallationId[],
): Promise<SiteId[]> {
  if (installationIds.length === 0) return []
  const rows = await db
    .selectFrom('installations')
    .select('site_id')
    .distinct()
    .where('office_id', '=', officeId)
    .where('id', 'in', [...installationIds])
    .execute()
  return rows.map((row) => row.site_id)
}

/** Writes what people wish of a household's visits; its version goes up by one. */
export async function updatePlanWishes(
  tx: WriteDb,
  officeId: OfficeId,
  siteId: SiteId,
  wishes: PlanWishes & { readonly months: string },
): Promise<void> {
  await tx
    .updateTable('sites')
    .set({
      plan_avoid_months: wishes.months,
      plan_membrane_never_early: wishes.membraneNeverEarly === null ? null : wishes.membraneNeverEarly ? 1 : 0,
      plan_align: wishes.align ? 1 : 0,
      version: sql<number>`version + 1`,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .execute()
}
