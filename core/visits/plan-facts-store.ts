import { readMonthsAway } from '../customers/months-away.ts'
import type { ReadDb } from '../database/handles.ts'
import type { DueDefaults, InstallationFacts } from '../due/due-facts.ts'
import {
  type KeptInstallation,
  readDueDefaults,
  readKeptInstallations,
  type StoredDue,
} from '../due/due-facts-store.ts'
import { changeAhead, membraneFindingOf } from '../due/measured-membrane.ts'
import { nextDueRules } from '../due/next-due-date.ts'
import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, SiteId, StageId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { HouseholdToPlan, PlanFigures, StageToPlan } from './plan-household.ts'
import type { PlanWishes } from './plan-shapes.ts'

/** What plans rest on in this office: its figures, and its rules for due dates. */
export interface PlanGround {
  readonly officeId: OfficeId
  readonly settings: OfficeSettings
  readonly defaults: DueDefaults
  readonly figures: PlanFigures
}

/** A household as it is planned; `version` is the household's own. */
export interface FoundHousehold extends HouseholdToPlan {
  readonly version: number
}

export async function readPlanGround(db: ReadDb, officeId: OfficeId, today: CalendarDate): Promise<PlanGround> {
  const settings = await readSettings(db, officeId)
  return { officeId, settings, defaults: await readDueDefaults(db, officeId), figures: figuresOf(settings, today) }
}

export function figuresOf(settings: OfficeSettings, today: CalendarDate): PlanFigures {
  return {
    today,
    graceDays: settings.graceDays,
    planHorizonYears: settings.planHorizonYears,
    callCostCents: settings.callCostCents,
    hourCostCents: settings.hourCostCents,
    callMinutes: settings.callMinutes,
    avoidMonths: readMonthsAway(settings.avoidedMonths),
    membraneNeverEarly: settings.earlyMembrane === 'never',
  }
}

/** Open households with all that their plans rest on; a handful of questions, however many there are. Those closed or gone are left out. */
export async function readHouseholdsToPlan(
  db: ReadDb,
  ground: PlanGround,
  siteIds: readonly SiteId[],
): Promise<FoundHousehold[]> {
  if (siteIds.length === 0) return []
  const { officeId, figures } = ground
  const sites = await db
    .selectFrom('sites')
    .select(['id', 'customer_id', 'version', 'plan_avoid_months', 'plan_membrane_never_early', 'plan_align'])
    .where('office_id', '=', officeId)
    .where('id', 'in', [...siteIds])
    .where('closed_on', 'is', null)
    .orderBy('id')
    .execute()
  const units = await readKeptInstallations(db, officeId, { kind: 'sites', siteIds }, figures.today)
  const extras = await stageExtras(db, officeId, siteIds)
  const booked = await bookedDays(db, officeId, siteIds, figures.today)
  const bySite = new Map<SiteId, KeptInstallation[]>()
  for (const unit of units) {
    const own = bySite.get(unit.siteId)
    if (own) own.push(unit)
    else bySite.set(unit.siteId, [unit])
  }
  const aligned = sites.filter((site) => site.plan_align === 1).map((site) => site.id)
  const neighbours = await neighbourDays(db, officeId, aligned, figures.today)
  return sites.map((site) => ({
    siteId: site.id,
    version: site.version,
    stages: stagesToPlan(bySite.get(site.id) ?? [], extras, ground),
    wishes: wishesOf(site),
    neighbourDays: neighbours.get(site.id) ?? NO_DAYS,
    bookedOn: booked.get(site.id) ?? null,
  }))
}

const NO_DAYS: readonly CalendarDate[] = []

function wishesOf(site: {
  readonly plan_avoid_months: string
  readonly plan_membrane_never_early: 0 | 1 | null
  readonly plan_align: 0 | 1
}): PlanWishes {
  return {
    avoidMonths: [...readMonthsAway(site.plan_avoid_months)],
    membraneNeverEarly: site.plan_membrane_never_early === null ? null : site.plan_membrane_never_early === 1,
    align: site.plan_align === 1,
  }
}

interface StageExtra {
  readonly label: string
  readonly unit: string
  readonly partCents: Cents | null
  readonly fitMinutes: number | null
}

function stagesToPlan(
  units: readonly KeptInstallation[],
  extras: ReadonlyMap<StageId, StageExtra>,
  { defaults, settings }: PlanGround,
): StageToPlan[] {
  return units.flatMap(({ installationId, facts, stored }) => {
    const rules = nextDueRules(facts, defaults)
    return facts.stages.map((stage, index): StageToPlan => {
      const extra = extras.get(stage.stageId)
      const { name, care } = STAGE_KIND_WORDS[stage.kind]
      const due = plannedDue(facts, stage.kind, stored[index], defaults)
      return {
        stageId: stage.stageId,
        installationId,
        kind: stage.kind,
        label: extra?.label ? extra.label : name,
        unit: units.length > 1 ? (extra?.unit ?? '') : '',
        ...due,
        again: rules[index] ?? null,
        partCents: care === 'sanitise' ? null : (extra?.partCents ?? null),
        minutes: care === 'sanitise' ? settings.sanitiseMinutes : (extra?.fitMinutes ?? settings.stageMinutes),
      }
    })
  })
}

/** A stage's date as a plan takes it: that of a membrane which its readings put off is the day it is to be changed, not measured again. */
function plannedDue(
  facts: InstallationFacts,
  kind: StageKind,
  stored: StoredDue | undefined,
  defaults: DueDefaults,
): Pick<StageToPlan, 'dueOn' | 'reason' | 'stays'> {
  const due = { dueOn: stored?.dueOn ?? null, reason: stored?.reason ?? '' }
  if (kind !== 'membrane' || stored?.rule !== 'measurement') return due
  const finding = membraneFindingOf(facts, defaults)
  const ahead = finding && changeAhead(finding)
  if (!ahead) return due
  if (ahead.changeOn !== null) return { ...due, dueOn: ahead.changeOn }
  return { dueOn: null, reason: `${ahead.held}: it is measured at every visit, and changed when it falls`, stays: true }
}

/** Names, parts and times of the stages. A part without a cost counts at its price. */
async function stageExtras(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<Map<StageId, StageExtra>> {
  const rows = await db
    .selectFrom('installations as i')
    .innerJoin('stages as s', (join) =>
      join.onRef('s.office_id', '=', 'i.office_id').onRef('s.installation_id', '=', 'i.id'),
    )
    .leftJoin('parts as p', (join) => join.onRef('p.office_id', '=', 's.office_id').onRef('p.id', '=', 's.part_id'))
    .select(['s.id', 's.label', 'i.name', 'p.cost_cents', 'p.price_cents', 'p.fit_minutes'])
    .where('i.office_id', '=', officeId)
    .where('i.site_id', 'in', [...siteIds])
    .where('i.removed_on', 'is', null)
    .where('s.removed_on', 'is', null)
    .execute()
  return new Map(
    rows.map((row) => [
      row.id,
      {
        label: row.label,
        unit: row.name,
        partCents: row.cost_cents !== null && row.cost_cents > 0 ? row.cost_cents : row.price_cents,
        fitMinutes: row.fit_minutes,
      },
    ]),
  )
}

/** The nearest booked visit of each household from today on. */
async function bookedDays(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
  today: CalendarDate,
): Promise<Map<SiteId, CalendarDate>> {
  const rows = await db
    .selectFrom('visits')
    .select((eb) => ['site_id', eb.fn.min('visit_on').as('first')])
    .where('office_id', '=', officeId)
    .where('site_id', 'in', [...siteIds])
    .where('state', '=', 'booked')
    .where('visit_on', '>=', today)
    .groupBy('site_id')
    .execute()
  return new Map(rows.map((row) => [row.site_id, row.first]))
}

/** Days on which another place of the same customer in the same town has a visit, booked or planned. */
async function neighbourDays(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
  today: CalendarDate,
): Promise<Map<SiteId, CalendarDate[]>> {
  const days = new Map<SiteId, CalendarDate[]>()
  if (siteIds.length === 0) return days
  const beside = db
    .selectFrom('sites as t')
    .innerJoin('sites as n', (join) =>
      join
        .onRef('n.office_id', '=', 't.office_id')
        .onRef('n.customer_id', '=', 't.customer_id')
        .onRef('n.town', '=', 't.town')
        .onRef('n.id', '<>', 't.id'),
    )
    .where('t.office_id', '=', officeId)
    .where('t.id', 'in', [...siteIds])
    .where('n.closed_on', 'is', null)
  const booked = await beside
    .innerJoin('visits as v', (join) => join.onRef('v.office_id', '=', 'n.office_id').onRef('v.site_id', '=', 'n.id'))
    .select(['t.id', 'v.visit_on as day'])
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '>=', today)
    .execute()
  const planned = await beside
    .innerJoin('planned_visits as v', (join) =>
      join.onRef('v.office_id', '=', 'n.office_id').onRef('v.site_id', '=', 'n.id'),
    )
    .select(['t.id', 'v.latest_on as day'])
    .where('v.latest_on', '>=', today)
    .execute()
  for (const { id, day } of [...booked, ...planned]) days.set(id, [...(days.get(id) ?? []), day])
  return days
}
