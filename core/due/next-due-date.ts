import type { MonthsAway } from '../customers/months-away.ts'
import { addDays, addMonths, type CalendarDate, earlierOf } from '../units/calendar-date.ts'
import { lastMembraneOf } from './due-dates.ts'
import type { DueDefaults, InstallationFacts, StageFacts } from './due-facts.ts'
import { daysOfLife, type LifeQuestion, monthsOfLife, monthsOfMembrane, monthsOfSanitising } from './due-rules.ts'
import { addDaysInUse, addMonthsInUse } from './months-in-use.ts'
import { waterUseOf } from './water-use.ts'

/** When a stage falls due again once it was changed. */
export interface NextDueRule {
  /** Equal exactly when two rules give the same date for every day; for sharing what was tabulated. */
  readonly key: string
  /** The day it falls due again, always later than the change. A later change never gives an earlier day. */
  readonly after: (changedOn: CalendarDate) => CalendarDate
}

/**
 * When a stage will fall due again for a change on any day: by the rules that go by its own life, months (of those in use where the
 * household counts) or days of its rated volume, whichever ends first. A membrane goes by its rule of thumb, for nobody has measured the
 * next one; a tank by its own interval; an own date, a reading or a recall ends with the change. Null when the stage never falls due
 * again by itself.
 */
export function nextDueRule(
  stage: StageFacts,
  installation: InstallationFacts,
  defaults: DueDefaults,
): NextDueRule | null {
  const at = installation.stages.findIndex(({ stageId }) => stageId === stage.stageId)
  const aheadOfMembrane = at < lastMembraneOf(installation)
  return nextDueRuleOf({ stage, installation, defaults, aheadOfMembrane, use: waterUseOf(installation, defaults) })
}

/** The rules of all stages of an installation, in their order; what they share is looked at once. */
export function nextDueRules(installation: InstallationFacts, defaults: DueDefaults): (NextDueRule | null)[] {
  const use = waterUseOf(installation, defaults)
  const lastMembrane = lastMembraneOf(installation)
  return installation.stages.map((stage, index) =>
    nextDueRuleOf({ stage, installation, defaults, aheadOfMembrane: index < lastMembrane, use }),
  )
}

function nextDueRuleOf(question: LifeQuestion): NextDueRule | null {
  const life = monthsOfLife(question)
  const months = life?.count ?? monthsOfMembrane(question) ?? monthsOfSanitising(question)
  const away = question.installation.monthsAway
  return ruleOf(months, life?.inUse ? away : [], daysOfLife(question), away)
}

function ruleOf(
  months: number | null,
  monthsAway: MonthsAway,
  days: number | null,
  daysAway: MonthsAway,
): NextDueRule | null {
  if (months === null && days === null) return null
  const byMonths = months === null ? '' : `${months}m${monthsAway.join('.')}`
  const byDays = days === null ? '' : `${days}d${daysAway.join('.')}`
  return {
    key: `${byMonths}|${byDays}`,
    after: (changedOn) => {
      const monthly = months === null ? null : inMonths(changedOn, months, monthsAway)
      const daily = days === null ? null : addDaysInUse(changedOn, days, daysAway)
      const due = monthly !== null && daily !== null ? earlierOf(monthly, daily) : (monthly ?? daily)
      return due !== null && due > changedOn ? due : addDays(changedOn, 1)
    },
  }
}

const inMonths = (from: CalendarDate, months: number, away: MonthsAway): CalendarDate =>
  away.length === 0 ? addMonths(from, months) : addMonthsInUse(from, months, away)
