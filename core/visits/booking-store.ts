import type { ReadDb, WriteDb } from '../database/handles.ts'
import { listTechniciansInFull } from '../settings/technicians-store.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PartId, SiteId, StageId, TechnicianId, VisitId } from '../units/ids.ts'
import type { Minutes, TimeOfDay } from '../units/time-of-day.ts'
import type { TechnicianTime } from './check-booking.ts'
import type { BookedVisitShape, TaskKind, TechnicianShape, VisitState } from './visit-shapes.ts'

/** Technicians who work here on or after a day, with their days off from then on. */
export async function listTechnicianTimes(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
): Promise<(TechnicianTime & TechnicianShape)[]> {
  const all = await listTechniciansInFull(db, officeId, from)
  return all
    .filter(({ leftOn }) => leftOn === null || leftOn > from)
    .map(({ technicianId, name, shortName, phone, workdays, startsAt, endsAt, minutesADay, leftOn, daysOff }) => ({
      technicianId,
      name,
      shortName,
      phone,
      workdays,
      startsAt,
      endsAt,
      minutesADay,
      leftOn,
      daysOff: daysOff.map(({ fromOn, untilOn, reason }) => ({ from: fromOn, until: untilOn, reason })),
    }))
}

/** More than anyone gives out in a week. */
const MOST_OF_NOBODY = 200

function bookedVisits(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('visits as v')
    .innerJoin('sites as s', (join) => join.onRef('s.office_id', '=', 'v.office_id').onRef('s.id', '=', 'v.site_id'))
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .select([
      'v.id as visitId',
      'v.site_id as siteId',
      'c.sort_name as household',
      's.town as town',
      'v.technician_id as technicianId',
      'v.visit_on as on',
      'v.window_from as windowFrom',
      'v.window_until as windowUntil',
      'v.planned_minutes as minutes',
      'v.version as version',
    ])
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .orderBy('v.visit_on')
    .orderBy('v.window_from')
    .orderBy('v.id')
}

/** Booked visits of the days from `from` to `until`, both included. */
export async function listBookedBetween(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
  until: CalendarDate,
): Promise<BookedVisitShape[]> {
  return bookedVisits(db, officeId).where('v.visit_on', '>=', from).where('v.visit_on', '<=', until).execute()
}

/** The booked visits of one technician on one day. */
export async function listBookedOfDay(
  db: ReadDb,
  officeId: OfficeId,
  technicianId: TechnicianId,
  on: CalendarDate,
): Promise<BookedVisitShape[]> {
  return bookedVisits(db, officeId).where('v.technician_id', '=', technicianId).where('v.visit_on', '=', on).execute()
}

/** Booked visits that nobody has been sent to yet, the nearest day first. */
export async function listBookedOfNobody(db: ReadDb, officeId: OfficeId): Promise<BookedVisitShape[]> {
  return bookedVisits(db, officeId).where('v.technician_id', 'is', null).limit(MOST_OF_NOBODY).execute()
}

/** The household's booked visits. */
export async function listBookedOfSite(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<BookedVisitShape[]> {
  return bookedVisits(db, officeId).where('v.site_id', '=', siteId).execute()
}

export interface WeekVisitRow {
  readonly visitId: VisitId
  readonly technicianId: TechnicianId | null
  readonly state: VisitState
  readonly household: string
  readonly town: string
  readonly on: CalendarDate
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly minutes: Minutes
}

/** Every visit of the seven days from a Monday that was not cancelled. */
export async function listVisitsOfWeek(db: ReadDb, officeId: OfficeId, monday: CalendarDate): Promise<WeekVisitRow[]> {
  return db
    .selectFrom('visits as v')
    .innerJoin('sites as s', (join) => join.onRef('s.office_id', '=', 'v.office_id').onRef('s.id', '=', 'v.site_id'))
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .select([
      'v.id as visitId',
      'v.technician_id as technicianId',
      'v.state as state',
      'c.sort_name as household',
      's.town as town',
      'v.visit_on as on',
      'v.window_from as windowFrom',
      'v.window_until as windowUntil',
      'v.planned_minutes as minutes',
    ])
    .where('v.office_id', '=', officeId)
    .where('v.visit_on', '>=', monday)
    .where('v.visit_on', '<=', addDays(monday, 6))
    .where('v.state', '<>', 'cancelled')
    .orderBy('v.visit_on')
    .orderBy('v.window_from')
    .orderBy('v.id')
    .execute()
}

export interface VisitToWrite {
  readonly siteId: SiteId
  readonly technicianId: TechnicianId | null
  readonly on: CalendarDate
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly minutes: Minutes
  readonly promised: boolean
  readonly note: string
}

/** What of a visit is free of charge. */
export interface Charges {
  readonly freeStages: ReadonlySet<StageId>
  readonly callFree: boolean
}

/** What is free of charge in a visit as it stands; nothing of one that is not booked yet. */
export async function chargesOfVisit(db: ReadDb, officeId: OfficeId, visitId: VisitId | null): Promise<Charges> {
  if (visitId === null) return { freeStages: new Set(), callFree: false }
  const tasks = await db
    .selectFrom('visit_tasks')
    .select('stage_id')
    .where('office_id', '=', officeId)
    .where('visit_id', '=', visitId)
    .where('free_of_charge', '=', 1)
    .execute()
  const visit = await db
    .selectFrom('visits')
    .select('call_free')
    .where('office_id', '=', officeId)
    .where('id', '=', visitId)
    .executeTakeFirst()
  return { freeStages: new Set(tasks.flatMap((task) => task.stage_id ?? [])), callFree: visit?.call_free === 1 }
}

/** Writes a new booked visit and returns its key. */
export async function insertVisit(
  tx: WriteDb,
  officeId: OfficeId,
  visit: VisitToWrite & { readonly callFree?: boolean },
  bookedAt: string,
): Promise<VisitId> {
  const row = await tx
    .insertInto('visits')
    .values({
      office_id: officeId,
      site_id: visit.siteId,
      technician_id: visit.technicianId,
      visit_on: visit.on,
      window_from: visit.windowFrom,
      window_until: visit.windowUntil,
      planned_minutes: visit.minutes,
      route_position: null,
      state: 'booked',
      reason: '',
      promised: visit.promised ? 1 : 0,
      note: visit.note,
      call_free: visit.callFree ? 1 : 0,
      done_on: null,
      remarks: '',
      booked_at: bookedAt,
      recorded_at: null,
      letter_id: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

/** Changes a booked visit that still has the version that was seen. False when it has not. */
export async function updateVisit(
  tx: WriteDb,
  officeId: OfficeId,
  visitId: VisitId,
  version: number,
  visit: VisitToWrite,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('visits')
    .set({
      technician_id: visit.technicianId,
      visit_on: visit.on,
      window_from: visit.windowFrom,
      window_until: visit.windowUntil,
      planned_minutes: visit.minutes,
      promised: visit.promised ? 1 : 0,
      note: visit.note,
      version: version + 1,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', visitId)
    .where('version', '=', version)
    .where('state', '=', 'booked')
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

/** Cancels a booked visit that still has the version that was seen. False when it has not. */
export async function cancelVisitRow(
  tx: WriteDb,
  officeId: OfficeId,
  visitId: VisitId,
  version: number,
  why: string,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('visits')
    .set({ state: 'cancelled', reason: why, version: version + 1 })
    .where('office_id', '=', officeId)
    .where('id', '=', visitId)
    .where('version', '=', version)
    .where('state', '=', 'booked')
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

export interface TaskToWrite {
  readonly kind: TaskKind
  readonly stageId: StageId | null
  readonly partId: PartId | null
  readonly description: string
  readonly minutes: Minutes
  readonly freeOfCharge?: boolean
}

/** Puts the planned tasks of a booked visit in place of those it had. */
export async function replacePlannedTasks(
  tx: WriteDb,
  officeId: OfficeId,
  visitId: VisitId,
  tasks: readonly TaskToWrite[],
): Promise<void> {
  await tx.deleteFrom('visit_tasks').where('office_id', '=', officeId).where('visit_id', '=', visitId).execute()
  if (tasks.length === 0) return
  await tx
    .insertInto('visit_tasks')
    .values(
      tasks.map((task, index) => ({
        office_id: officeId,
        visit_id: visitId,
        kind: task.kind,
        stage_id: task.stageId,
        part_id: task.partId,
        planned_minutes: task.minutes,
        description: task.description,
        state: 'planned' as const,
        fitted_part_id: null,
        fitted_lot_id: null,
        from_place_id: null,
        free_of_charge: task.freeOfCharge ? (1 as const) : (0 as const),
        position: index + 1,
      })),
    )
    .execute()
}
