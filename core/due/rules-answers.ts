import type { Desk } from '../answering.ts'
import { findHousehold } from '../customers/customers-store.ts'
import { monthsAwayInWords, readMonthsAway } from '../customers/months-away.ts'
import { type KeptUnit, unitsOfSite } from '../installations/installations-store.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { ok, type Result, refused } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import type { SiteId } from '../units/ids.ts'
import { startOf } from './due-dates.ts'
import type { DueDefaults, InstallationFacts } from './due-facts.ts'
import { readDueDefaults, readKeptInstallations } from './due-facts-store.ts'
import { remarksOnStage, remarksOnUnit } from './due-remarks.ts'
import type { HouseholdRules, StageRules, UnitRules } from './rules-shapes.ts'
import { rulesSideBySide, type StageSideBySide } from './side-by-side.ts'
import { waterUseInWords, waterUseOf } from './water-use.ts'

/** Every rule of every stage of a household, side by side, reckoned now from what the books hold. */
export async function householdRules(desk: Desk, { siteId }: { siteId: SiteId }): Promise<Result<HouseholdRules>> {
  const { read, officeId, today } = desk
  const household = await findHousehold(read, officeId, siteId)
  if (!household) return refused('RECORD_GONE', { what: 'This household' })
  const defaults = await readDueDefaults(read, officeId)
  const kept = await readKeptInstallations(read, officeId, { kind: 'sites', siteIds: [siteId] }, today)
  const units = await unitsOfSite(read, officeId, siteId, today)
  const monthsAway = readMonthsAway(household.site.monthsAway)
  return ok({
    siteId,
    monthsAway: [...monthsAway],
    monthsAwayWords: monthsAwayInWords(monthsAway),
    units: units.flatMap((unit) => {
      const found = kept.find(({ installationId }) => installationId === unit.installationId)
      if (!found) return []
      const rules = rulesOfUnit(unit, found.facts, defaults, today)
      return [found.closed ? { ...rules, remarks: [CLOSED, ...rules.remarks] } : rules]
    }),
  })
}

const CLOSED = 'The household is closed: these are the dates it would have, and nothing is asked of it.'

function rulesOfUnit(unit: KeptUnit, facts: InstallationFacts, defaults: DueDefaults, today: CalendarDate): UnitRules {
  const use = waterUseOf(facts, defaults)
  return {
    installationId: unit.installationId,
    name: unit.fields.name,
    use: { perDay: use.perDay, from: use.from, words: waterUseInWords(use, facts.people, defaults) },
    stages: rulesSideBySide(facts, defaults).map((told) => rulesOfStage(told, unit, facts, defaults, today)),
    remarks: remarksOnUnit(facts, defaults, today),
  }
}

function rulesOfStage(
  { due, answers }: StageSideBySide,
  unit: KeptUnit,
  installation: InstallationFacts,
  defaults: DueDefaults,
  today: CalendarDate,
): StageRules {
  const facts = installation.stages.find(({ stageId }) => stageId === due.stageId)
  const fields = unit.stages.find(({ stageId }) => stageId === due.stageId)
  if (!facts || !fields) throw new Error(`Stage ${due.stageId} is in the books twice differently`)
  return {
    stageId: due.stageId,
    kind: facts.kind,
    label: fields.label === '' ? STAGE_KIND_WORDS[facts.kind].name : fields.label,
    changedOn: facts.changedOn,
    startedOn: startOf(facts, installation),
    dueOn: due.dueOn,
    rule: due.rule,
    reason: due.reason,
    own: ownDateOf(fields, defaults.settings.locale),
    answers: [...answers],
    remarks: remarksOnStage(facts, installation, defaults, today),
  }
}

function ownDateOf(fields: KeptUnit['stages'][number], locale: string): StageRules['own'] {
  const { ownDueOn, ownDueNote, ownDueEndsOn } = fields
  if (ownDueOn === null) return null
  const endWords =
    ownDueEndsOn === null
      ? 'until the stage is changed'
      : `until ${longDate(ownDueEndsOn, locale)}, then the rules speak again`
  return { dueOn: ownDueOn, note: ownDueNote, endsOn: ownDueEndsOn, endWords }
}
