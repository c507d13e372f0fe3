import { sql } from 'kysely'
import { NEVER_AWAY, readMonthsAway } from '../customers/months-away.ts'
import type { ReadDb } from '../database/handles.ts'
import { type IntervalRule, intervalRulesByKind } from '../installations/interval-rules.ts'
import { standingOwnDate } from '../installations/own-date.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, LotId, OfficeId, PartId, SiteId } from '../units/ids.ts'
import type { Millilitres } from '../units/measures.ts'
import { rejectionOf } from '../water/rejection.ts'
import type { DueDefaults, InstallationFacts, LotRecall, StageFacts, UnitReading } from './due-facts.ts'

/** Which installations are to be reckoned again. */
export type DueScope =
  | { readonly kind: 'sites'; readonly siteIds: readonly SiteId[] }
  | { readonly kind: 'installations'; readonly installationIds: readonly InstallationId[] }
  | { readonly kind: 'part'; readonly partId: PartId }
  /** Where a lot is fitted. */
  | { readonly kind: 'lot'; readonly lotId: LotId }
  /** Where a date set by hand ended before this day, and still stands in the books. */
  | { readonly kind: 'own-dates-ended'; readonly before: CalendarDate }
  /** Ids above `after`, up to and including `until`: a stretch of all of them. */
  | { readonly kind: 'stretch'; readonly after: number; readonly until: number }

/** What stands in the books for a stage, to see whether it changes. */
export interface StoredDue {
  readonly dueOn: CalendarDate | null
  readonly rule: string
  readonly reason: string
}

/** An installation with its facts, and what stands in the books now; `stored` goes with `facts.stages`. */
export interface KeptInstallation {
  readonly installationId: InstallationId
  readonly siteId: SiteId
  /** The household's earliest due date as it stands in the books. */
  readonly siteDueOn: CalendarDate | null
  /** Of a household that is closed: nothing is due. */
  readonly closed: boolean
  readonly dueOn: CalendarDate | null
  readonly facts: InstallationFacts
  readonly stored: readonly StoredDue[]
}

/** The office's own figures for due dates. */
export async function readDueDefaults(db: ReadDb, officeId: OfficeId): Promise<DueDefaults> {
  const rows = await db
    .selectFrom('interval_rules')
    .select(['stage_kind', 'basis', 'months_most', 'months_least'])
    .where('office_id', '=', officeId)
    .execute()
  const own = rows.map(
    (row): IntervalRule => ({
      stageKind: row.stage_kind,
      basis: row.basis,
      monthsMost: row.months_most,
      monthsLeast: row.months_least,
    }),
  )
  return { intervals: intervalRulesByKind(own), settings: await readSettings(db, officeId) }
}

/** The highest id of an installation in the office; 0 when there is none. */
export async function lastInstallationId(db: ReadDb, officeId: OfficeId): Promise<number> {
  const row = await db
    .selectFrom('installations')
    .select((eb) => eb.fn.max('id').as('last'))
    .where('office_id', '=', officeId)
    .executeTakeFirst()
  return Number(row?.last ?? 0)
}

/**
 * The installations in scope that still stand, with all their due dates rest on; a handful of questions, however many there are. Whoever
 * asks again and again hands over what is known of the parts.
 */
export async function readKeptInstallations(
  db: ReadDb,
  officeId: OfficeId,
  scope: DueScope,
  today: CalendarDate,
  parts?: KnownOfParts,
): Promise<KeptInstallation[]> {
  const installations = await db
    .selectFrom('installations as i')
    .innerJoin('sites as t', (join) => join.onRef('t.id', '=', 'i.site_id').onRef('t.office_id', '=', 'i.office_id'))
    .select([
      'i.id',
      'i.site_id',
      'i.installed_on',
      'i.recovery_percent',
      'i.people',
      'i.daily_ml',
      'i.interval_months',
      'i.due_on',
      't.people as site_people',
      't.daily_ml as site_daily_ml',
      't.hardness_mg_l',
      't.months_away',
      't.closed_on',
      't.due_on as site_due_on',
    ])
    .where('i.office_id', '=', officeId)
    .where('i.removed_on', 'is', null)
    .where(inScope(scope, officeId))
    .execute()
  const stages = await readStages(db, officeId, scope, today, parts ?? (await readKnownOfParts(db, officeId)))
  const readings = await readUnitReadings(db, officeId, scope)
  return installations.map((row) => {
    const own = stages.get(row.id) ?? []
    return {
      installationId: row.id,
      siteId: row.site_id,
      siteDueOn: row.site_due_on,
      closed: row.closed_on !== null,
      dueOn: row.due_on,
      facts: {
        people: row.people ?? row.site_people,
        hardness: row.hardness_mg_l,
        fittedOn: row.installed_on,
        ownMonths: row.interval_months,
        recoveryPercent: row.recovery_percent,
        drunkPerDay: row.daily_ml ?? row.site_daily_ml,
        monthsAway: row.months_away === '' ? NEVER_AWAY : readMonthsAway(row.months_away),
        readings: readings.get(row.id) ?? NO_READINGS,
        stages: own,
      },
      stored: own,
    }
  })
}

/** A stage's facts, and in the same object what stands in the books for it: half a million of them are read in a row. */
type KeptStage = StageFacts & StoredDue

async function readStages(
  db: ReadDb,
  officeId: OfficeId,
  scope: DueScope,
  today: CalendarDate,
  known: KnownOfParts,
): Promise<Map<InstallationId, KeptStage[]>> {
  const byInstallation = new Map<InstallationId, KeptStage[]>()
  let last: { readonly id: InstallationId; readonly stages: KeptStage[] } | null = null
  for (const row of await stageRows(db, officeId, scope)) {
    if (last === null || last.id !== row.installationId) {
      last = { id: row.installationId, stages: [] }
      byInstallation.set(last.id, last.stages)
    }
    const isPlain = row.ownDueOn === null && known.recalls.size === 0 && !known.rated.has(row.partId)
    last.stages.push(isPlain ? row : withOwnDateAndPart(row, known, today))
  }
  return byInstallation
}

type StageRow = Awaited<ReturnType<typeof stageRows>>[number]

/** What is known of few parts and lots only: asked once, for a join would look it up for every stage. Plain data: it travels between threads. */
export interface KnownOfParts {
  readonly recalls: ReadonlyMap<LotId, LotRecall>
  readonly rated: ReadonlyMap<PartId | null, Millilitres>
}

export async function readKnownOfParts(db: ReadDb, officeId: OfficeId): Promise<KnownOfParts> {
  return { recalls: await readRecalls(db, officeId), rated: await readRatings(db, officeId) }
}

function withOwnDateAndPart(row: StageRow, { recalls, rated }: KnownOfParts, today: CalendarDate): KeptStage {
  const { ownDueOn, ownDueUntil: against, ownDueEndsOn: endsOn, changedOn, lotId } = row
  return {
    ...row,
    ownDueOn: standingOwnDate({ ownDueOn, against, endsOn }, changedOn, today),
    recall: lotId === null ? null : (recalls.get(lotId) ?? null),
    ratedMillilitres: rated.get(row.partId) ?? null,
  }
}

/** The parts that are rated for a volume. */
async function readRatings(db: ReadDb, officeId: OfficeId): Promise<Map<PartId | null, Millilitres>> {
  const rows = await db
    .selectFrom('parts')
    .select(['id', 'rated_ml'])
    .where('office_id', '=', officeId)
    .where('rated_ml', 'is not', null)
    .execute()
  return new Map(rows.flatMap(({ id, rated_ml: rated }) => (rated === null ? [] : [[id, rated] as const])))
}

/** The lots that were recalled: few, if any. */
async function readRecalls(db: ReadDb, officeId: OfficeId): Promise<Map<LotId, LotRecall>> {
  const rows = await db
    .selectFrom('lots')
    .select(['id', 'code', 'recalled_on'])
    .where('office_id', '=', officeId)
    .where('recalled_on', 'is not', null)
    .execute()
  return new Map(
    rows.flatMap(({ id, code, recalled_on: on }) => (on === null ? [] : [[id, { on, lot: code }] as const])),
  )
}

const NO_READINGS: readonly UnitReading[] = []

/** What was read at the units in scope, as far as dates rest on it: rejection and meter, without what was struck out. */
async function readUnitReadings(
  db: ReadDb,
  officeId: OfficeId,
  scope: DueScope,
): Promise<Map<InstallationId, UnitReading[]>> {
  const rows = await db
    .selectFrom('readings as r')
    .select(['r.installation_id', 'r.taken_on', 'r.tds_in_mg_l', 'r.tds_out_mg_l', 'r.meter_ml', 'r.unlikely'])
    .where('r.office_id', '=', officeId)
    .where('r.struck_on', 'is', null)
    .where(inUnits('r', scope, officeId))
    .orderBy('r.installation_id')
    .orderBy('r.taken_on')
    .execute()
  const byInstallation = new Map<InstallationId, UnitReading[]>()
  for (const row of rows) {
    const reading: UnitReading = {
      takenOn: row.taken_on,
      rejectionPercent: rejectionOf({ tdsIn: row.tds_in_mg_l, tdsOut: row.tds_out_mg_l }),
      meter: row.meter_ml,
      unlikely: row.unlikely === 1,
    }
    const own = byInstallation.get(row.installation_id)
    if (own) own.push(reading)
    else byInstallation.set(row.installation_id, [reading])
  }
  return byInstallation
}

function stageRows(db: ReadDb, officeId: OfficeId, scope: DueScope) {
  const rows = db
    .selectFrom('stages as s')
    .select([
      's.id as stageId',
      's.installation_id as installationId',
      's.kind',
      's.fitted_on as changedOn',
      's.interval_months as ownMonths',
      's.own_due_on as ownDueOn',
      's.own_due_note as ownDueNote',
      's.own_due_until as ownDueUntil',
      's.own_due_ends_on as ownDueEndsOn',
      's.fitted_lot_id as lotId',
      sql<LotRecall | null>`null`.as('recall'),
      's.due_on as dueOn',
      's.due_rule as rule',
      's.due_reason as reason',
      's.part_id as partId',
      sql<Millilitres | null>`null`.as('ratedMillilitres'),
    ])
    .where('s.office_id', '=', officeId)
    .where('s.removed_on', 'is', null)
    .orderBy('s.installation_id')
    .orderBy('s.position')
  return rows.where(inUnits('s', scope, officeId)).execute()
}

/** Rows of the installations in scope, in a table that names them. A stretch is a range along the table's own index. */
function inUnits(table: 's' | 'r', scope: DueScope, officeId: OfficeId) {
  const unit = sql.ref(`${table}.installation_id`)
  if (scope.kind === 'stretch') return sql<boolean>`${unit} > ${scope.after} and ${unit} <= ${scope.until}`
  return sql<boolean>`${unit} in (select i.id from installations i where i.office_id = ${officeId} and ${inScope(scope, officeId)})`
}

function inScope(scope: DueScope, officeId: OfficeId) {
  switch (scope.kind) {
    case 'sites':
      return sql<boolean>`i.site_id in (${listOf(scope.siteIds)})`
    case 'installations':
      return sql<boolean>`i.id in (${listOf(scope.installationIds)})`
    case 'part':
      return sql<boolean>`i.id in (select installation_id from stages where office_id = ${officeId} and part_id = ${scope.partId})`
    case 'lot':
      return sql<boolean>`i.id in (select installation_id from stages where office_id = ${officeId} and fitted_lot_id = ${scope.lotId})`
    case 'own-dates-ended':
      return sql<boolean>`i.id in (select installation_id from stages where office_id = ${officeId} and own_due_ends_on < ${scope.before} and removed_on is null and due_rule = 'own-date')`
    case 'stretch':
      return sql<boolean>`i.id > ${scope.after} and i.id <= ${scope.until}`
  }
}

function listOf(ids: readonly number[]) {
  return sql.join(ids.length === 0 ? [-1] : [...ids])
}
