import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, PartId, SiteId, StageId } from '../units/ids.ts'
import type { InstallationFields, StageFields } from './installations-contract.ts'
import { NEVER_FITTED, standingOwnDate } from './own-date.ts'
import type { StageKind } from './stage-kinds.ts'

export interface KeptUnit {
  readonly installationId: InstallationId
  readonly siteId: SiteId
  readonly fields: InstallationFields
  readonly stages: (StageFields & { readonly stageId: StageId })[]
}

/** The units of a household that still stand, with their stages in flow order. */
export async function unitsOfSite(
  db: ReadDb,
  officeId: OfficeId,
  siteId: SiteId,
  today: CalendarDate,
): Promise<KeptUnit[]> {
  const rows = await units(db, officeId)
    .where('site_id', '=', siteId)
    .where('removed_on', 'is', null)
    .orderBy('id')
    .execute()
  return Promise.all(rows.map((row) => unitWithStages(db, officeId, row, today)))
}

/** One unit; null when it is not in the books, or was taken out. */
export async function findUnit(
  db: ReadDb,
  officeId: OfficeId,
  installationId: InstallationId,
  today: CalendarDate,
): Promise<KeptUnit | null> {
  const row = await units(db, officeId)
    .where('id', '=', installationId)
    .where('removed_on', 'is', null)
    .executeTakeFirst()
  return row ? unitWithStages(db, officeId, row, today) : null
}

function units(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('installations')
    .select([
      'id',
      'site_id',
      'name',
      'installed_on',
      'recovery_percent',
      'people',
      'daily_ml',
      'interval_months',
      'note',
    ])
    .where('office_id', '=', officeId)
}

type UnitRow = Awaited<ReturnType<ReturnType<typeof units>['execute']>>[number]

async function unitWithStages(db: ReadDb, officeId: OfficeId, row: UnitRow, today: CalendarDate): Promise<KeptUnit> {
  const stages = await db
    .selectFrom('stages')
    .select([
      'id',
      'kind',
      'label',
      'part_id',
      'own_part_only',
      'fitted_on',
      'interval_months',
      'own_due_on',
      'own_due_note',
      'own_due_until',
      'own_due_ends_on',
    ])
    .where('office_id', '=', officeId)
    .where('installation_id', '=', row.id)
    .where('removed_on', 'is', null)
    .orderBy('position')
    .execute()
  return {
    installationId: row.id,
    siteId: row.site_id,
    fields: {
      name: row.name,
      fittedOn: row.installed_on,
      recoveryPercent: row.recovery_percent,
      people: row.people,
      drunkPerDay: row.daily_ml,
      ownMonths: row.interval_months,
      note: row.note,
    },
    stages: stages.map((stage) => {
      const ownDueOn = standingOwnDate(
        { ownDueOn: stage.own_due_on, against: stage.own_due_until, endsOn: stage.own_due_ends_on },
        stage.fitted_on,
        today,
      )
      return {
        stageId: stage.id,
        kind: stage.kind,
        label: stage.label,
        partId: stage.part_id,
        ownPartOnly: stage.own_part_only === 1,
        changedOn: stage.fitted_on,
        ownMonths: stage.interval_months,
        ownDueOn,
        ownDueNote: ownDueOn === null ? '' : stage.own_due_note,
        ownDueEndsOn: ownDueOn === null ? null : stage.own_due_ends_on,
      }
    }),
  }
}

function unitColumns(fields: InstallationFields) {
  return {
    name: fields.name,
    installed_on: fields.fittedOn,
    recovery_percent: fields.recoveryPercent,
    people: fields.people,
    daily_ml: fields.drunkPerDay,
    interval_months: fields.ownMonths,
    note: fields.note,
  }
}

export async function insertUnit(
  tx: WriteDb,
  officeId: OfficeId,
  siteId: SiteId,
  fields: InstallationFields,
): Promise<InstallationId> {
  const row = await tx
    .insertInto('installations')
    .values({ ...unitColumns(fields), office_id: officeId, site_id: siteId })
    .returning('id')
    .executeTakeFirstOrThrow()
  return row.id
}

export async function updateUnit(
  tx: WriteDb,
  officeId: OfficeId,
  installationId: InstallationId,
  fields: InstallationFields,
): Promise<void> {
  await tx
    .updateTable('installations')
    .set((eb) => ({ ...unitColumns(fields), version: eb('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', installationId)
    .execute()
}

function stageColumns(stage: StageFields, position: number) {
  return {
    position,
    kind: stage.kind,
    label: stage.label,
    part_id: stage.partId,
    own_part_only: stage.ownPartOnly ? (1 as const) : (0 as const),
    fitted_on: stage.changedOn,
    interval_months: stage.ownMonths,
    own_due_on: stage.ownDueOn,
    own_due_note: stage.ownDueNote,
    own_due_until: stage.ownDueOn === null ? null : (stage.changedOn ?? NEVER_FITTED),
    own_due_ends_on: stage.ownDueOn === null ? null : stage.ownDueEndsOn,
  }
}

/** Writes the list of stages in its order: new ones are added, those left out are taken out, the rest take their new place and facts. */
export async function putStages(
  tx: WriteDb,
  officeId: OfficeId,
  installationId: InstallationId,
  before: readonly StageId[],
  stages: readonly StageFields[],
  today: CalendarDate,
): Promise<void> {
  const kept = new Set(stages.map((stage) => stage.stageId))
  for (const stageId of before.filter((id) => !kept.has(id)))
    await tx
      .updateTable('stages')
      .set({ removed_on: today })
      .where('office_id', '=', officeId)
      .where('id', '=', stageId)
      .execute()
  for (const [index, stage] of stages.entries()) {
    const columns = stageColumns(stage, index + 1)
    if (stage.stageId === null)
      await tx
        .insertInto('stages')
        .values({ ...columns, office_id: officeId, installation_id: installationId })
        .execute()
    else
      await tx
        .updateTable('stages')
        .set((eb) => ({ ...columns, version: eb('version', '+', 1) }))
        .where('office_id', '=', officeId)
        .where('installation_id', '=', installationId)
        .where('id', '=', stage.stageId)
        .execute()
  }
}

/** A changed part: the lot that is fitted is no longer known. */
export async function forgetFittedLot(tx: WriteDb, officeId: OfficeId, stageIds: readonly StageId[]): Promise<void> {
  if (stageIds.length === 0) return
  await tx
    .updateTable('stages')
    .set({ fitted_lot_id: null })
    .where('office_id', '=', officeId)
    .where('id', 'in', [...stageIds])
    .execute()
}

export async function removeUnit(
  tx: WriteDb,
  officeId: OfficeId,
  installationId: InstallationId,
  today: CalendarDate,
): Promise<void> {
  await tx
    .updateTable('installations')
    .set({ removed_on: today, due_on: null })
    .where('office_id', '=', officeId)
    .where('id', '=', installationId)
    .execute()
  await tx
    .updateTable('stages')
    .set({ removed_on: today })
    .where('office_id', '=', officeId)
    .where('installation_id', '=', installationId)
    .where('removed_on', 'is', null)
    .execute()
}

/** Parts still in use, by their names. */
export async function listStageParts(
  db: ReadDb,
  officeId: OfficeId,
): Promise<{ partId: PartId; number: string; name: string; stageKind: StageKind | null }[]> {
  return db
    .selectFrom('parts')
    .select(['id as partId', 'number', 'name', 'stage_kind as stageKind'])
    .where('office_id', '=', officeId)
    .where('closed_on', 'is', null)
    .orderBy('name')
    .orderBy('id')
    .execute()
}

export async function siteExists(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<boolean> {
  const row = await db
    .selectFrom('sites')
    .select('id')
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .executeTakeFirst()
  return row !== undefined
}
