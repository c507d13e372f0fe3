import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, SiteId, StageId, TechnicianId, VisitId, VisitTaskId } from '../units/ids.ts'
import type { StageBooks, VisitEffects } from './record-visit.ts'
import type { LotToFit, VisitReportInput } from './report-shapes.ts'

/** The stages of a household as recording looks at them: what stands there, what stood there before, every recorded fitting. */
export async function readStageBooks(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<StageBooks[]> {
  const stages = await db
    .selectFrom('stages as g')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.office_id', '=', 'g.office_id').onRef('i.id', '=', 'g.installation_id'),
    )
    .select([
      'g.id',
      'g.kind',
      'g.part_id',
      'g.fitted_on',
      'g.fitted_lot_id',
      'g.fitted_visit_id',
      'g.earlier_fitted_on',
      'g.earlier_part_id',
      'g.earlier_lot_id',
    ])
    .where('g.office_id', '=', officeId)
    .where('i.site_id', '=', siteId)
    .orderBy('g.id')
    .execute()
  const fittings = await readFittings(db, officeId, siteId)
  return stages.map((row) => ({
    stageId: row.id,
    kind: row.kind,
    now: { fittedOn: row.fitted_on, partId: row.part_id, lotId: row.fitted_lot_id, visitId: row.fitted_visit_id },
    earlier: {
      fittedOn: row.earlier_fitted_on,
      partId: row.earlier_part_id,
      lotId: row.earlier_lot_id,
      visitId: null,
    },
    fittings: fittings.filter((fitting) => fitting.stageId === row.id),
  }))
}

async function readFittings(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<StageBooks['fittings']> {
  const rows = await db
    .selectFrom('visits as v')
    .innerJoin('visit_tasks as k', (join) =>
      join.onRef('k.office_id', '=', 'v.office_id').onRef('k.visit_id', '=', 'v.id'),
    )
    .select(['v.id', 'v.done_on', 'k.kind', 'k.stage_id', 'k.fitted_part_id', 'k.fitted_lot_id'])
    .where('v.office_id', '=', officeId)
    .where('v.site_id', '=', siteId)
    .where('v.state', '=', 'done')
    .where('k.state', '=', 'done')
    .where('k.kind', 'in', ['change', 'sanitise'])
    .where('k.stage_id', 'is not', null)
    .execute()
  return rows.flatMap((row) =>
    row.stage_id === null || row.done_on === null
      ? []
      : [
          {
            visitId: row.id,
            stageId: row.stage_id,
            on: row.done_on,
            partId: row.kind === 'change' ? row.fitted_part_id : null,
            lotId: row.kind === 'change' ? row.fitted_lot_id : null,
          },
        ],
  )
}

/** Lots of the given parts that are somewhere: those on the technician's van first, then the first to expire. */
export async function listLotsToFit(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
  technicianId: TechnicianId | null,
): Promise<LotToFit[]> {
  if (partIds.length === 0) return []
  const rows = await db
    .selectFrom('balances as b')
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .leftJoin('vans as v', (join) =>
      join.onRef('v.office_id', '=', 'b.office_id').onRef('v.place_id', '=', 'b.place_id'),
    )
    .select([
      'l.part_id as partId',
      'l.id as lotId',
      'l.code as code',
      'l.expires_on as expiresOn',
      'p.id as placeId',
      'p.code as place',
      'p.kind as placeKind',
      'v.name as van',
      'v.technician_id as technicianId',
      'b.quantity as quantity',
    ])
    .where('b.office_id', '=', officeId)
    .where('l.part_id', 'in', partIds)
    .where('l.recalled_on', 'is', null)
    .where('b.quantity', '>', 0)
    .where('p.kind', 'in', ['van', 'bin'])
    .execute()
  return rows
    .map((row) => ({
      partId: row.partId,
      lotId: row.lotId,
      code: row.code,
      expiresOn: row.expiresOn,
      placeId: row.placeId,
      place: row.van ?? row.place,
      onVan: technicianId !== null && row.technicianId === technicianId,
      quantity: row.quantity,
      isBin: row.placeKind === 'bin',
    }))
    .toSorted(
      (a, b) =>
        Number(b.onVan) - Number(a.onVan) ||
        Number(b.isBin) - Number(a.isBin) ||
        (a.expiresOn ?? '9999').localeCompare(b.expiresOn ?? '9999') ||
        a.lotId - b.lotId,
    )
    .map(({ isBin: _, ...lot }) => lot)
}

/** The part of each lot; a lot that is not in the books is not in the answer. */
export async function partsOfLots(
  db: ReadDb,
  officeId: OfficeId,
  lotIds: readonly LotId[],
): Promise<Map<LotId, { readonly partId: PartId; readonly code: string }>> {
  if (lotIds.length === 0) return new Map()
  const rows = await db
    .selectFrom('lots')
    .select(['id', 'part_id', 'code'])
    .where('office_id', '=', officeId)
    .where('id', 'in', lotIds)
    .execute()
  return new Map(rows.map((row) => [row.id, { partId: row.part_id, code: row.code }]))
}

/** What the log says about a visit, newest first. */
export async function readTrace(
  db: ReadDb,
  officeId: OfficeId,
  visitId: VisitId,
): Promise<{ on: CalendarDate; by: string; sentence: string; details: string }[]> {
  return db
    .selectFrom('events')
    .select(['happened_on as on', 'by_whom as by', 'sentence', 'details'])
    .where('office_id', '=', officeId)
    .where('subject_kind', '=', 'visit')
    .where('subject_id', '=', visitId)
    .orderBy('id', 'desc')
    .execute()
}

/** Writes the outcome on a visit that still has the version that was seen. False when it has not. */
export async function writeOutcome(
  tx: WriteDb,
  officeId: OfficeId,
  report: VisitReportInput,
  recordedAt: string,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('visits')
    .set({
      state: report.outcome,
      reason: report.outcome === 'could-not' ? report.because : '',
      done_on: report.doneOn,
      sanitised:
        report.outcome === 'done' && report.tasks.some((task) => task.kind === 'sanitise' && task.done) ? 1 : 0,
      leak_checked: report.leakChecked ? 1 : 0,
      leak_checked_full: report.leakCheckedFull ? 1 : 0,
      call_free: report.callFree ? 1 : 0,
      remarks: report.remarks,
      recorded_at: recordedAt,
      version: report.version + 1,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', report.visitId)
    .where('version', '=', report.version)
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

/** Writes what became of each task: rows that were planned keep their key, what came on top is added, the rest was left. */
export async function writeReportedTasks(
  tx: WriteDb,
  officeId: OfficeId,
  report: VisitReportInput,
  plannedIds: readonly VisitTaskId[],
): Promise<void> {
  const isDone = report.outcome === 'done'
  for (const [index, task] of report.tasks.entries()) {
    const done = isDone && task.done
    const fits = done && task.kind === 'change'
    const outcome = {
      state: done ? ('done' as const) : ('left' as const),
      quantity: task.quantity,
      fitted_part_id: fits ? task.partId : null,
      fitted_lot_id: fits ? task.lotId : null,
      from_place_id: fits ? task.fromPlaceId : null,
      free_of_charge: task.freeOfCharge ? (1 as const) : (0 as const),
    }
    if (task.taskId === null)
      await tx
        .insertInto('visit_tasks')
        .values({
          office_id: officeId,
          visit_id: report.visitId,
          kind: task.kind,
          stage_id: task.stageId,
          part_id: task.partId,
          planned_minutes: task.minutes,
          description: task.description,
          position: plannedIds.length + index + 1,
          ...outcome,
        })
        .execute()
    else
      await tx
        .updateTable('visit_tasks')
        .set({ ...outcome, planned_minutes: task.minutes })
        .where('office_id', '=', officeId)
        .where('id', '=', task.taskId)
        .execute()
  }
  const left = plannedIds.filter((id) => !report.tasks.some((task) => task.taskId === id))
  if (left.length === 0) return
  await tx
    .updateTable('visit_tasks')
    .set({ state: 'left', fitted_part_id: null, fitted_lot_id: null, from_place_id: null })
    .where('office_id', '=', officeId)
    .where('id', 'in', left)
    .execute()
}

/** Puts the readings of a visit in place of those it had; what was struck out stays as it is. */
export async function replaceReadings(
  tx: WriteDb,
  officeId: OfficeId,
  report: VisitReportInput,
  unlikely: ReadonlySet<number>,
): Promise<void> {
  await tx
    .deleteFrom('readings')
    .where('office_id', '=', officeId)
    .where('visit_id', '=', report.visitId)
    .where('struck_on', 'is', null)
    .execute()
  for (const { installationId, figures, note } of report.readings)
    await tx
      .insertInto('readings')
      .values({
        office_id: officeId,
        installation_id: installationId,
        visit_id: report.visitId,
        taken_on: report.doneOn,
        tds_in_mg_l: figures.tdsIn,
        tds_out_mg_l: figures.tdsOut,
        flow_ml_min: figures.flow,
        feed_kpa: figures.feedPressure,
        tank_kpa: figures.tankPressure,
        temperature_c: figures.temperature,
        meter_ml: figures.meter,
        unlikely: unlikely.has(installationId) ? 1 : 0,
        note,
      })
      .execute()
}

/** Sets the clocks that a recorded visit changed. */
export async function writeClocks(tx: WriteDb, officeId: OfficeId, clocks: VisitEffects['clocks']): Promise<void> {
  for (const { stageId, clock, earlier } of clocks)
    await tx
      .updateTable('stages')
      .set((row) => ({
        fitted_on: clock.fittedOn,
        part_id: clock.partId,
        fitted_lot_id: clock.lotId,
        fitted_visit_id: clock.visitId,
        earlier_fitted_on: earlier.fittedOn,
        earlier_part_id: earlier.partId,
        earlier_lot_id: earlier.lotId,
        version: row('version', '+', 1),
      }))
      .where('office_id', '=', officeId)
      .where('id', '=', stageId)
      .execute()
}

/** Which of the stages belong to the household. */
export async function stagesOfSite(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<Set<StageId>> {
  const rows = await db
    .selectFrom('stages as g')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.office_id', '=', 'g.office_id').onRef('i.id', '=', 'g.installation_id'),
    )
    .select('g.id')
    .where('g.office_id', '=', officeId)
    .where('i.site_id', '=', siteId)
    .execute()
  return new Set(rows.map((row) => row.id))
}
