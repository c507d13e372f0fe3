import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import { type IntervalRule, intervalRulesByKind } from '../installations/interval-rules.ts'
import { standingOwnDate } from '../installations/own-date.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, PartId, SiteId } from '../units/ids.ts'
import type { DueDefaults, InstallationFacts, StageFacts } from './due-facts.ts'

/** Which installations are to be reckoned again. */
export type DueScope =
  | { readonly kind: 'sites'; readonly siteIds: readonly SiteId[] }
  | { readonly kind: 'installations'; readonly installationIds: readonly InstallationId[] }
  | { readonly kind: 'part'; readonly partId: PartId }
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

/** The installations in scope that still stand, with all their due dates rest on; two questions, however many there are. */
export async function readKeptInstallations(
  db: ReadDb,
  officeId: OfficeId,
  scope: DueScope,
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
      't.closed_on',
      't.due_on as site_due_on',
    ])
    .where('i.office_id', '=', officeId)
    .where('i.removed_on', 'is', null)
    .where(inScope(scope, officeId))
    .execute()
  const stages = await readStages(db, officeId, scope)
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
        stages: own,
      },
      stored: own,
    }
  })
}

/** A stage's facts, and in the same object what stands in the books for it: half a million of them are read in a row. */
type KeptStage = StageFacts & StoredDue

async function readStages(db: ReadDb, officeId: OfficeId, scope: DueScope): Promise<Map<InstallationId, KeptStage[]>> {
  const byInstallation = new Map<InstallationId, KeptStage[]>()
  let last: { readonly id: InstallationId; readonly stages: KeptStage[] } | null = null
  for (const row of await stageRows(db, officeId, scope)) {
    if (last === null || last.id !== row.installationId) {
      last = { id: row.installationId, stages: [] }
      byInstallation.set(last.id, last.stages)
    }
    const { ownDueOn, ownDueUntil, changedOn } = row
    last.stages.push(ownDueOn === null ? row : { ...row, ownDueOn: standingOwnDate(ownDueOn, ownDueUntil, changedOn) })
  }
  return byInstallation
}

function stageRows(db: ReadDb, officeId: OfficeId, scope: DueScope) {
  const rows = db
    .selectFrom('stages as s')
    .leftJoin('parts as p', (join) => join.onRef('p.id', '=', 's.part_id').onRef('p.office_id', '=', 's.office_id'))
    .select([
      's.id as stageId',
      's.installation_id as installationId',
      's.kind',
      's.fitted_on as changedOn',
      's.interval_months as ownMonths',
      's.own_due_on as ownDueOn',
      's.own_due_note as ownDueNote',
      's.own_due_until as ownDueUntil',
      's.due_on as dueOn',
      's.due_rule as rule',
      's.due_reason as reason',
      'p.rated_ml as ratedMillilitres',
    ])
    .where('s.office_id', '=', officeId)
    .where('s.removed_on', 'is', null)
    .orderBy('s.installation_id')
    .orderBy('s.position')
  if (scope.kind === 'stretch')
    return rows
      .where(sql<number>`s.installation_id`, '>', scope.after)
      .where(sql<number>`s.installation_id`, '<=', scope.until)
      .execute()
  return rows
    .where('s.installation_id', 'in', (eb) =>
      eb
        .selectFrom('installations as i')
        .select('i.id')
        .where('i.office_id', '=', officeId)
        .where(inScope(scope, officeId)),
    )
    .execute()
}

function inScope(scope: DueScope, officeId: OfficeId) {
  switch (scope.kind) {
    case 'sites':
      return sql<boolean>`i.site_id in (${listOf(scope.siteIds)})`
    case 'installations':
      return sql<boolean>`i.id in (${listOf(scope.installationIds)})`
    case 'part':
      return sql<boolean>`i.id in (select installation_id from stages where office_id = ${officeId} and part_id = ${scope.partId})`
    case 'stretch':
      return sql<boolean>`i.id > ${scope.after} and i.id <= ${scope.until}`
  }
}

function listOf(ids: readonly number[]) {
  return sql.join(ids.length === 0 ? [-1] : [...ids])
}
