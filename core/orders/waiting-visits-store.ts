import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId, VisitId } from '../units/ids.ts'

/** What a booked visit needs of a part; without a part where the visit is listed for being one. */
export interface BookedNeedRow {
  readonly visitId: VisitId
  readonly on: CalendarDate
  readonly household: string
  readonly partId: PartId | null
  readonly quantity: number
  readonly ownOnly: boolean
}

/**
 * What booked visits, past ones that nobody recorded too, need of these parts, by day and time; `everyVisit`: the visits that need none
 * of them as well, without a part.
 */
export async function needsOfBookedVisits(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
  everyVisit: boolean,
): Promise<BookedNeedRow[]> {
  if (partIds.length === 0) return []
  const taken = sql<PartId | null>`case when k.kind = 'change' then coalesce(k.part_id, g.part_id) else k.part_id end`
  const part = sql<PartId | null>`case when ${taken} in (${sql.join(partIds)}) then ${taken} end`
  let query = db
    .selectFrom('visits as v')
    .innerJoin('sites as s', (join) => join.onRef('s.office_id', '=', 'v.office_id').onRef('s.id', '=', 'v.site_id'))
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .leftJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id').on('k.state', '=', 'planned'),
    )
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
  if (!everyVisit) query = query.where(taken, 'in', partIds)
  const rows = await query
    .orderBy('v.visit_on')
    .orderBy('v.window_from')
    .orderBy('v.id')
    .select(['v.id as visitId', 'v.visit_on as on', 'c.sort_name as household', 'k.quantity as quantity'])
    .select(['g.own_part_only as ownOnly', part.as('partId')])
    .execute()
  const found = new Map<string, BookedNeedRow>()
  for (const row of rows) {
    const key = `${row.visitId}/${row.partId ?? ''}`
    const quantity = (found.get(key)?.quantity ?? 0) + (row.quantity ?? 0)
    found.set(key, { ...row, quantity, ownOnly: row.ownOnly === 1 || (found.get(key)?.ownOnly ?? false) })
  }
  return [...found.values()]
}
