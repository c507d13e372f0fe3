import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { listed } from '../installations/stage-train-words.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { dayAndMonth } from '../units/date-words.ts'
import { earliestDueOn, type ReasonedStage, stagesInWords } from './household-reason.ts'

/** The next visit as a household's plan has it. */
export interface NextOfPlan {
  readonly visitOn: CalendarDate
  readonly latestOn: CalendarDate
  readonly stageIds: ReadonlySet<number>
}

/** Which stages the next visit sees to: those that the plan has on it; without a plan, those that `seenToAtNextVisit` gives. */
export function seenToNext<Stage extends Pick<ReasonedStage, 'dueOn'> & { readonly stageId: number }>(
  stages: readonly Stage[],
  plan: NextOfPlan | undefined,
  today: CalendarDate,
  graceDays: number,
): Stage[] {
  if (!plan || plan.latestOn < today) return seenToAtNextVisit(stages, today, graceDays)
  return stages.filter(({ stageId }) => plan.stageIds.has(stageId))
}

/**
 * Which stages the next visit sees to where nothing is planned yet: those due by then, and those that would fall due within the grace after it. The visit is taken
 * to be on the earliest due date, or today when that is past. Nothing when nothing has a date.
 */
export function seenToAtNextVisit<Stage extends Pick<ReasonedStage, 'dueOn'>>(
  stages: readonly Stage[],
  today: CalendarDate,
  graceDays: number,
): Stage[] {
  const first = earliestDueOn(stages)
  if (first === null) return []
  const until = addDays(laterOf(first, today), graceDays)
  return stages.filter((stage) => stage.dueOn !== null && stage.dueOn <= until)
}

/** The same as a sentence: "change all filters, and sanitise the tank; due Nov 9." Empty when nothing has a date. */
export function nextVisitInWords(
  stages: readonly ReasonedStage[],
  today: CalendarDate,
  graceDays: number,
  locale: string,
): string {
  const first = earliestDueOn(stages)
  if (first === null) return ''
  const sentence = careInWords(seenToAtNextVisit(stages, today, graceDays), stages)
  const when = first < today ? `it was due on ${dayAndMonth(first, locale)}` : `due ${dayAndMonth(first, locale)}`
  return `${sentence}; ${when}.`
}

/**
 * What the plan's next visit does at a unit: "change all filters; it was due on Nov 9, by Dec 9 at the latest." Empty when it leaves the unit alone.
 * `chosen` are the unit's stages that it sees to.
 */
export function plannedVisitInWords(
  chosen: readonly ReasonedStage[],
  stages: readonly ReasonedStage[],
  plan: NextOfPlan,
  today: CalendarDate,
  locale: string,
): string {
  if (chosen.length === 0) return ''
  return `${careInWords(chosen, stages)}; ${whenOfPlan(plan, earliestDueOn(chosen), today, locale)}.`
}

function whenOfPlan(plan: NextOfPlan, dueOn: CalendarDate | null, today: CalendarDate, locale: string): string {
  const latest = plan.latestOn <= today ? 'now' : `by ${dayAndMonth(plan.latestOn, locale)}`
  if (dueOn !== null && dueOn < today)
    return plan.latestOn <= today
      ? `it was due on ${dayAndMonth(dueOn, locale)}`
      : `it was due on ${dayAndMonth(dueOn, locale)}, ${latest} at the latest`
  if (plan.visitOn <= today || plan.visitOn === plan.latestOn) return latest
  return `${dayAndMonth(plan.visitOn, locale)} to ${dayAndMonth(plan.latestOn, locale)}`
}

function careInWords(chosen: readonly ReasonedStage[], stages: readonly ReasonedStage[]): string {
  const change = chosen.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'change')
  const sanitise = chosen.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'sanitise')
  const acts = [
    change.length > 0 ? `change ${listed(withArticles(stagesInWords(change, stages).split(', ')))}` : '',
    sanitise.length > 0 ? 'sanitise the tank' : '',
  ].filter((act) => act !== '')
  return acts.join(', and ')
}

function withArticles(names: readonly string[]): string[] {
  return names.map((name) => (name === 'all filters' ? name : `the ${name}`))
}
