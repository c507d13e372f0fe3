import { sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, TechnicianId } from '../units/ids.ts'
import type { Technician, TechnicianForm } from './settings-contract.ts'

/** Everyone who works here or did, by name, with days off that end today or later. */
export async function listTechniciansInFull(
  db: ReadDb,
  officeId: OfficeId,
  today: CalendarDate,
): Promise<Technician[]> {
  const rows = await db
    .selectFrom('technicians')
    .select([
      'id',
      'version',
      'name',
      'short_name',
      'phone',
      'workdays',
      'starts_at',
      'ends_at',
      'minutes_a_day',
      'left_on',
    ])
    .where('office_id', '=', officeId)
    .orderBy('name')
    .orderBy('id')
    .execute()
  const off = await db
    .selectFrom('days_off')
    .select(['id', 'technician_id', 'from_on', 'until_on', 'reason'])
    .where('office_id', '=', officeId)
    .where('until_on', '>=', today)
    .orderBy('from_on')
    .execute()
  return rows.map((row) => ({
    technicianId: row.id,
    version: row.version,
    name: row.name,
    shortName: row.short_name,
    phone: row.phone,
    workdays: row.workdays,
    startsAt: row.starts_at,
    endsAt: row.ends_at,
    minutesADay: row.minutes_a_day,
    leftOn: row.left_on,
    daysOff: off
      .filter((day) => day.technician_id === row.id)
      .map((day) => ({ dayOffId: day.id, fromOn: day.from_on, untilOn: day.until_on, reason: day.reason })),
  }))
}

function columnsOf(form: TechnicianForm) {
  return {
    name: form.name,
    short_name: form.shortName || form.name,
    phone: form.phone,
    workdays: form.workdays,
    starts_at: form.startsAt,
    ends_at: form.endsAt,
    minutes_a_day: form.minutesADay,
  }
}

export async function insertTechnician(tx: WriteDb, officeId: OfficeId, form: TechnicianForm): Promise<TechnicianId> {
  const { id } = await tx
    .insertInto('technicians')
    .values({ office_id: officeId, left_on: null, ...columnsOf(form) })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Writes a technician when the version is still the one that was seen; says whether it was. */
export async function updateTechnician(
  tx: WriteDb,
  officeId: OfficeId,
  technicianId: TechnicianId,
  version: number,
  form: TechnicianForm,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('technicians')
    .set({ ...columnsOf(form), version: version + 1 })
    .where('office_id', '=', officeId)
    .where('id', '=', technicianId)
    .where('version', '=', version)
    .executeTakeFirst()
  return numUpdatedRows > 0n
}

export async function setLeftOn(
  tx: WriteDb,
  officeId: OfficeId,
  technicianId: TechnicianId,
  leftOn: CalendarDate | null,
): Promise<void> {
  await tx
    .updateTable('technicians')
    .set({ left_on: leftOn })
    .where('office_id', '=', officeId)
    .where('id', '=', technicianId)
    .execute()
}

/** Booked visits of a technician on that day or later. */
export async function countVisitsFrom(
  db: ReadDb,
  officeId: OfficeId,
  technicianId: TechnicianId,
  from: CalendarDate,
): Promise<number> {
  const row = await db
    .selectFrom('visits')
    .select(sql<number>`count(*)`.as('count'))
    .where('office_id', '=', officeId)
    .where('technician_id', '=', technicianId)
    .where('state', '=', 'booked')
    .where('visit_on', '>=', from)
    .executeTakeFirstOrThrow()
  return Number(row.count)
}

export async function insertDayOff(
  tx: WriteDb,
  officeId: OfficeId,
  day: { technicianId: TechnicianId; fromOn: CalendarDate; untilOn: CalendarDate; reason: string },
): Promise<number> {
  const { id } = await tx
    .insertInto('days_off')
    .values({
      office_id: officeId,
      technician_id: day.technicianId,
      from_on: day.fromOn,
      until_on: day.untilOn,
      reason: day.reason,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

export async function deleteDayOff(tx: WriteDb, officeId: OfficeId, dayOffId: number): Promise<void> {
  await tx.deleteFrom('days_off').where('office_id', '=', officeId).where('id', '=', dayOffId).execute()
}
