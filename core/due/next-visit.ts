import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { listed } from '../installations/stage-train-words.ts'
import { addDays, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { dayAndMonth } from '../units/date-words.ts'
import { earliestDueOn, type ReasonedStage, stagesInWords } from './household-reason.ts'

/**
 * Which stages the next visit sees to: those due by then, and those that would fall due within the grace after it. The visit is taken
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
  const chosen = seenToAtNextVisit(stages, today, graceDays)
  const change = chosen.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'change')
  const sanitise = chosen.filter((stage) => STAGE_KIND_WORDS[stage.kind].care === 'sanitise')
  const acts = [
    change.length > 0 ? `change ${listed(withArticles(stagesInWords(change, stages).split(', ')))}` : '',
    sanitise.length > 0 ? 'sanitise the tank' : '',
  ].filter((act) => act !== '')
  const sentence = acts.join(', and ')
  const when = first < today ? `it was due on ${dayAndMonth(first, locale)}` : `due ${dayAndMonth(first, locale)}`
  return `${sentence}; ${when}.`
}

function withArticles(names: readonly string[]): string[] {
  return names.map((name) => (name === 'all filters' ? name : `the ${name}`))
}
