import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, SiteId, TechnicianId, VisitId } from '../units/ids.ts'

/** A technician's day. */
export interface DayOfTechnician {
  readonly on: CalendarDate
  readonly technicianId: TechnicianId
}

/** The visits of a day whose place was made by hand, technician by technician, in that order. */
export async function listPlacedByHand(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<VisitId[]> {
  const rows = await db
    .selectFrom('visits')
    .select('id')
    .where('office_id', '=', officeId)
    .where('visit_on', '=', on)
    .where('route_by_hand', '=', 1)
    .where('state', '<>', 'cancelled')
    .orderBy('technician_id')
    .orderBy('route_position')
    .orderBy('id')
    .execute()
  return rows.map((row) => row.id)
}

/** Where a visit stands; null when there is none. */
export async function findDayOfVisit(
  db: ReadDb,
  officeId: OfficeId,
  visitId: VisitId,
): Promise<{ on: CalendarDate; technicianId: TechnicianId | null } | null> {
  const row = await db
    .selectFrom('visits')
    .select(['visit_on', 'technician_id'])
    .where('office_id', '=', officeId)
    .where('id', '=', visitId)
    .executeTakeFirst()
  return row ? { on: row.visit_on, technicianId: row.technician_id } : null
}

/** Days from `from` on with visits booked: those of the sites, or all of them. */
export async function listDaysAhead(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
  siteIds: readonly SiteId[] | 'all',
): Promise<DayOfTechnician[]> {
  let query = db
    .selectFrom('visits')
    .select(['visit_on', 'technician_id'])
    .distinct()
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('visit_on', '>=', from)
    .where('technician_id', 'is not', null)
  if (siteIds !== 'all') query = query.where('site_id', 'in', siteIds)
  const rows = await query.execute()
  return rows.flatMap((row) =>
    row.technician_id === null ? [] : [{ on: row.visit_on, technicianId: row.technician_id }],
  )
}

/** Writes the places of a day's visits, from 1. With `byHand` they were made by hand, or are worked out again; without, each keeps its own mark. */
export async function writePlaces(
  tx: WriteDb,
  officeId: OfficeId,
  visitIds: readonly VisitId[],
  byHand?: boolean,
): Promise<void> {
  for (const [index, visitId] of visitIds.entries())
    await tx
      .updateTable('visits')
      .set({ route_position: index + 1, ...(byHand === undefined ? {} : { route_by_hand: byHand ? 1 : 0 }) })
      .where('office_id', '=', officeId)
      .where('id', '=', visitId)
      .execute()
}

/** A visit that left its day, or that nobody has, has no place any more. */
export async function clearPlace(tx: WriteDb, officeId: OfficeId, visitId: VisitId): Promise<void> {
  await tx
    .updateTable('visits')
    .set({ route_position: null, route_by_hand: 0 })
    .where('office_id', '=', officeId)
    .where('id', '=', visitId)
    .execute()
}
