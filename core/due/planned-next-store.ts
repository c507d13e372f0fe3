import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, SiteId, StageId } from '../units/ids.ts'

/** The next visit that a household's plan has, and what it sees to. */
export interface PlannedNext {
  readonly visitOn: CalendarDate
  readonly latestOn: CalendarDate
  readonly stageIds: ReadonlySet<StageId>
}

/** The next planned visit of each household given; one whose plan is missing or no longer stands is left out. */
export async function nextPlannedVisits(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<Map<SiteId, PlannedNext>> {
  const found = new Map<SiteId, PlannedNext & { readonly stageIds: Set<StageId> }>()
  if (siteIds.length === 0) return found
  const rows = await db
    .selectFrom('site_plans as p')
    .innerJoin('planned_changes as c', (join) =>
      join
        .onRef('c.office_id', '=', 'p.office_id')
        .onRef('c.site_id', '=', 'p.site_id')
        .onRef('c.latest_on', '=', 'p.latest_on'),
    )
    .select(['p.site_id', 'p.next_visit_on', 'p.latest_on', 'c.stage_id'])
    .where('p.office_id', '=', officeId)
    .where('p.site_id', 'in', [...siteIds])
    .where('p.stale', '=', 0)
    .execute()
  for (const { site_id, next_visit_on: visitOn, latest_on: latestOn, stage_id } of rows) {
    if (visitOn === null || latestOn === null) continue
    const known = found.get(site_id)
    if (known) known.stageIds.add(stage_id)
    else found.set(site_id, { visitOn, latestOn, stageIds: new Set([stage_id]) })
  }
  return found
}
