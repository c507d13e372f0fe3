import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, ReadingId, SiteId } from '../units/ids.ts'
import { rejectionOf } from '../water/rejection.ts'
import type { TakenReading } from './measurement-shapes.ts'
import type { KeptReading } from './membrane-told.ts'

const FIGURES = [
  'tds_in_mg_l as tdsIn',
  'tds_out_mg_l as tdsOut',
  'flow_ml_min as flow',
  'feed_kpa as feedPressure',
  'tank_kpa as tankPressure',
  'temperature_c as temperature',
  'meter_ml as meter',
] as const

/** All readings of a unit, struck-out ones too, the earliest first. */
export async function allReadingsOfUnit(
  db: ReadDb,
  officeId: OfficeId,
  installationId: InstallationId,
): Promise<KeptReading[]> {
  const rows = await db
    .selectFrom('readings')
    .select(['id as readingId', 'taken_on as takenOn', 'visit_id as visitId', 'note', 'unlikely'])
    .select(['struck_on', 'struck_reason'])
    .select(FIGURES)
    .where('office_id', '=', officeId)
    .where('installation_id', '=', installationId)
    .orderBy('taken_on')
    .orderBy('id')
    .execute()
  return rows.map(({ struck_on, struck_reason, unlikely, ...row }) => ({
    ...row,
    rejectionPercent: rejectionOf(row),
    unlikely: unlikely === 1,
    struck: struck_on === null ? null : { on: struck_on, reason: struck_reason },
  }))
}

/** Days on which a housing of the unit stood open: its fitting, and every recorded change or sanitising of one of its stages. */
export async function daysOpened(
  db: ReadDb,
  officeId: OfficeId,
  installationId: InstallationId,
): Promise<CalendarDate[]> {
  const rows = await db
    .selectFrom('visit_tasks as k')
    .innerJoin('visits as v', (join) => join.onRef('v.office_id', '=', 'k.office_id').onRef('v.id', '=', 'k.visit_id'))
    .innerJoin('stages as s', (join) => join.onRef('s.office_id', '=', 'k.office_id').onRef('s.id', '=', 'k.stage_id'))
    .select('v.done_on')
    .distinct()
    .where('k.office_id', '=', officeId)
    .where('s.installation_id', '=', installationId)
    .where('k.state', '=', 'done')
    .where('v.state', '=', 'done')
    .where('k.kind', 'in', ['change', 'sanitise'])
    .execute()
  return rows.flatMap(({ done_on }) => done_on ?? [])
}

export interface ReadingPlace {
  readonly installationId: InstallationId
  readonly siteId: SiteId
  readonly takenOn: CalendarDate
  readonly unit: string
  readonly struckOn: CalendarDate | null
}

/** Where a reading was taken, and whether it is struck out. */
export async function findReading(db: ReadDb, officeId: OfficeId, readingId: ReadingId): Promise<ReadingPlace | null> {
  const row = await db
    .selectFrom('readings as r')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.office_id', '=', 'r.office_id').onRef('i.id', '=', 'r.installation_id'),
    )
    .select(['i.id as installationId', 'i.site_id as siteId', 'r.taken_on as takenOn', 'i.name as unit'])
    .select('r.struck_on as struckOn')
    .where('r.office_id', '=', officeId)
    .where('r.id', '=', readingId)
    .executeTakeFirst()
  return row ?? null
}

export async function insertReading(
  tx: WriteDb,
  officeId: OfficeId,
  { installationId, takenOn, figures, note }: TakenReading,
  unlikely: boolean,
): Promise<ReadingId> {
  const row = await tx
    .insertInto('readings')
    .values({
      office_id: officeId,
      installation_id: installationId,
      visit_id: null,
      taken_on: takenOn,
      tds_in_mg_l: figures.tdsIn,
      tds_out_mg_l: figures.tdsOut,
      flow_ml_min: figures.flow,
      feed_kpa: figures.feedPressure,
      tank_kpa: figures.tankPressure,
      temperature_c: figures.temperature,
      meter_ml: figures.meter,
      unlikely: unlikely ? 1 : 0,
      note,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

/** Strikes a reading out, or puts it back with `on` null. */
export async function writeStruck(
  tx: WriteDb,
  officeId: OfficeId,
  readingId: ReadingId,
  struck: { readonly on: CalendarDate | null; readonly reason: string },
): Promise<void> {
  await tx
    .updateTable('readings')
    .set({ struck_on: struck.on, struck_reason: struck.reason })
    .where('office_id', '=', officeId)
    .where('id', '=', readingId)
    .execute()
}
