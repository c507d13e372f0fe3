import { type KeptStage, trainStageOn } from '../due/stage-today.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, SiteId, TechnicianId, VisitId } from '../units/ids.ts'
import { type EarlierFigures, NOTHING_EARLIER } from '../water/judge-reading.ts'
import { rejectionOf } from '../water/rejection.ts'
import type { HouseholdShape, PartShape, StageShape, UnitShape, VisitShape } from './visit-shapes.ts'
import { type ReadingRoom, readingsOfVisits, tasksOf } from './visit-tasks-store.ts'

/** Which visits to read whole. */
export interface WhichVisits {
  readonly visitId?: VisitId
  readonly on?: CalendarDate
  readonly technicianId?: TechnicianId
  readonly states?: readonly VisitShape['state'][]
}

/** Visits with everything that belongs to them, by technician and window; empty when none is meant. */
export async function readVisits(room: ReadingRoom, which: WhichVisits): Promise<VisitShape[]> {
  const heads = await visitHeads(room, which)
  if (heads.length === 0) return []
  const visitIds = heads.map((head) => head.id)
  const siteIds = [...new Set(heads.map((head) => head.site_id))]
  const tasks = await tasksOf(room, visitIds)
  // The ring says what the next visit will change: a recorded visit has none any more.
  const ahead = new Set(heads.filter((head) => head.state === 'booked').map((head) => head.id))
  const ringed = new Set<number>()
  for (const task of tasks) if (task.stageId !== null && ahead.has(task.visitId)) ringed.add(task.stageId)
  const households = await readHouseholds(room, siteIds)
  const units = await readUnits(room, siteIds, ringed, visitIds)
  const readings = await readingsOfVisits(room, visitIds)
  return heads.flatMap((head) => {
    const household = households.find((one) => one.siteId === head.site_id)
    if (!household) return []
    return [
      {
        visitId: head.id,
        version: head.version,
        state: head.state,
        reason: head.reason,
        on: head.visit_on,
        windowFrom: head.window_from,
        windowUntil: head.window_until,
        plannedMinutes: head.planned_minutes,
        promised: head.promised === 1,
        note: head.note,
        technician:
          head.technician_id === null
            ? null
            : {
                technicianId: head.technician_id,
                name: head.technician ?? '',
                shortName: head.short_name ?? '',
                phone: head.technician_phone ?? '',
              },
        household,
        units: units.filter((unit) => unit.siteId === head.site_id).map(({ siteId: _, ...unit }) => unit),
        tasks: tasks.filter((task) => task.visitId === head.id).map(({ visitId: _, ...task }) => task),
        readings: readings.filter((one) => one.visitId === head.id).map(({ visitId: _, ...reading }) => reading),
        doneOn: head.done_on,
        leakChecked: head.leak_checked === 1,
        leakCheckedFull: head.leak_checked_full === 1,
        callFree: head.call_free === 1,
        remarks: head.remarks,
      },
    ]
  })
}

function visitHeads({ db, officeId }: ReadingRoom, which: WhichVisits) {
  let query = db
    .selectFrom('visits as v')
    .leftJoin('technicians as t', (join) =>
      join.onRef('t.office_id', '=', 'v.office_id').onRef('t.id', '=', 'v.technician_id'),
    )
    .select([
      'v.id',
      'v.site_id',
      'v.technician_id',
      'v.visit_on',
      'v.window_from',
      'v.window_until',
      'v.planned_minutes',
      'v.state',
      'v.reason',
      'v.promised',
      'v.note',
      'v.done_on',
      'v.leak_checked',
      'v.leak_checked_full',
      'v.call_free',
      'v.remarks',
      'v.version',
      't.name as technician',
      't.short_name',
      't.phone as technician_phone',
    ])
    .where('v.office_id', '=', officeId)
    .orderBy('t.name')
    .orderBy('v.window_from')
    .orderBy('v.id')
  if (which.visitId !== undefined) query = query.where('v.id', '=', which.visitId)
  if (which.on !== undefined) query = query.where('v.visit_on', '=', which.on)
  if (which.technicianId !== undefined) query = query.where('v.technician_id', '=', which.technicianId)
  if (which.states !== undefined) query = query.where('v.state', 'in', which.states)
  return query.execute()
}

/** Households by their sites. */
export async function readHouseholds(
  { db, officeId }: ReadingRoom,
  siteIds: readonly SiteId[],
): Promise<HouseholdShape[]> {
  if (siteIds.length === 0) return []
  const rows = await db
    .selectFrom('sites as s')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .select([
      's.id as siteId',
      's.customer_id as customerId',
      'c.sort_name as household',
      'c.reference as reference',
      's.line1 as line1',
      's.line2 as line2',
      's.town as town',
      's.postal_code as postalCode',
      'c.phone as phone',
      'c.phone_note as phoneNote',
      's.access_note as accessNote',
      's.people as people',
      's.latitude as latitude',
      's.longitude as longitude',
      'c.tax_exempt as taxExempt',
    ])
    .where('s.office_id', '=', officeId)
    .where('s.id', 'in', siteIds)
    .execute()
  return rows.map((row) => ({ ...row, taxExempt: row.taxExempt === 1 }))
}

/** The units of households with their stages as of today. Readings of `exceptVisits` do not count as earlier ones. */
export async function readUnits(
  room: ReadingRoom,
  siteIds: readonly SiteId[],
  ringed: ReadonlySet<number> = new Set(),
  exceptVisits: readonly VisitId[] = [],
): Promise<(UnitShape & { readonly siteId: SiteId })[]> {
  if (siteIds.length === 0) return []
  const rows = await stageRows(room, siteIds)
  const units = new Map<InstallationId, UnitShape & { siteId: SiteId }>()
  for (const row of rows) {
    const unit = units.get(row.installation_id) ?? {
      siteId: row.site_id,
      installationId: row.installation_id,
      name: row.installation,
      stages: [],
      lastRejection: null,
      lastMeter: null,
    }
    if (row.stage_id !== null && row.kind !== null)
      unit.stages.push(stageShape({ ...row, stage_id: row.stage_id, kind: row.kind }, room, ringed))
    units.set(row.installation_id, unit)
  }
  const last = await lastFigures(room, [...units.keys()], exceptVisits)
  return [...units.values()].map((unit) => {
    const { rejection, meter } = last.get(unit.installationId) ?? NOTHING_EARLIER
    return { ...unit, lastRejection: rejection, lastMeter: meter }
  })
}

function stageRows({ db, officeId }: ReadingRoom, siteIds: readonly SiteId[]) {
  return db
    .selectFrom('installations as i')
    .innerJoin('sites as t', (join) => join.onRef('t.office_id', '=', 'i.office_id').onRef('t.id', '=', 'i.site_id'))
    .leftJoin('stages as g', (join) =>
      join
        .onRef('g.office_id', '=', 'i.office_id')
        .onRef('g.installation_id', '=', 'i.id')
        .on('g.removed_on', 'is', null),
    )
    .leftJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'g.office_id').onRef('p.id', '=', 'g.part_id'))
    .select([
      'i.site_id',
      'i.id as installation_id',
      'i.name as installation',
      'i.installed_on',
      'g.id as stage_id',
      'g.kind',
      'g.label',
      'g.fitted_on',
      'g.due_on',
      'g.due_rule',
      'g.due_reason',
      'p.id as part_id',
      'p.number as part_number',
      'p.name as part_name',
      'p.price_cents',
      'p.tax_free',
      'p.fit_minutes',
      'p.rated_ml',
      't.months_away',
    ])
    .where('i.office_id', '=', officeId)
    .where('i.site_id', 'in', siteIds)
    .where('i.removed_on', 'is', null)
    .orderBy('i.site_id')
    .orderBy('i.id')
    .orderBy('g.position')
    .orderBy('g.id')
    .execute()
}

type StageRow = Awaited<ReturnType<typeof stageRows>>[number]
type FoundStage = StageRow & {
  readonly stage_id: NonNullable<StageRow['stage_id']>
  readonly kind: NonNullable<StageRow['kind']>
}

function stageShape(row: FoundStage, room: ReadingRoom, ringed: ReadonlySet<number>): StageShape {
  const kept: KeptStage = {
    stageId: row.stage_id,
    kind: row.kind,
    label: row.label ?? '',
    changedOn: row.fitted_on,
    fittedOn: row.installed_on,
    dueOn: row.due_on,
    dueRule: row.due_rule ?? '',
    dueReason: row.due_reason ?? '',
    ratedMillilitres: row.rated_ml,
    monthsAway: row.months_away,
  }
  const train = trainStageOn(room.today, kept, room.measures, ringed.has(row.stage_id))
  const part: PartShape | null =
    row.part_id === null || row.price_cents === null
      ? null
      : {
          partId: row.part_id,
          number: row.part_number ?? '',
          name: row.part_name ?? '',
          priceCents: row.price_cents,
          taxFree: row.tax_free === 1,
          fitMinutes: row.fit_minutes,
        }
  return {
    stageId: row.stage_id,
    installationId: row.installation_id,
    kind: row.kind,
    label: train.label,
    dueOn: row.due_on,
    reason: train.reason,
    part,
    train,
  }
}

/** What each unit showed the last time: readings that were struck out tell nothing. */
async function lastFigures(
  { db, officeId }: ReadingRoom,
  installationIds: readonly InstallationId[],
  exceptVisits: readonly VisitId[],
): Promise<Map<InstallationId, EarlierFigures>> {
  const found = new Map<InstallationId, EarlierFigures>()
  if (installationIds.length === 0) return found
  let query = db
    .selectFrom('readings')
    .select(['installation_id', 'tds_in_mg_l', 'tds_out_mg_l', 'meter_ml'])
    .where('office_id', '=', officeId)
    .where('installation_id', 'in', installationIds)
    .where('struck_on', 'is', null)
    .orderBy('taken_on')
    .orderBy('id')
  if (exceptVisits.length > 0)
    query = query.where((where) => where.or([where('visit_id', 'is', null), where('visit_id', 'not in', exceptVisits)]))
  for (const row of await query.execute()) {
    const before = found.get(row.installation_id) ?? NOTHING_EARLIER
    found.set(row.installation_id, {
      rejection: rejectionOf({ tdsIn: row.tds_in_mg_l, tdsOut: row.tds_out_mg_l }) ?? before.rejection,
      meter: row.meter_ml ?? before.meter,
    })
  }
  return found
}
