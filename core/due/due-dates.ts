import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { type CalendarDate, laterOf } from '../units/calendar-date.ts'
import type { DueDefaults, InstallationFacts, StageDue, StageFacts } from './due-facts.ts'
import {
  dueByFeedWater,
  dueByMonths,
  dueBySanitising,
  dueByVolume,
  dueWithMembrane,
  type RuleAnswer,
  type RuleQuestion,
} from './due-rules.ts'

/**
 * When each stage of an installation is due, in the order given: the earliest of the rules that apply, with its reason in words.
 * A date set by hand takes the place of all rules. A stage never dated counts from the fitting of the unit; without that either, it
 * has no date and says so. On one day the rule that comes first in the rule book speaks.
 */
export function dueDatesOf(installation: InstallationFacts, defaults: DueDefaults): StageDue[] {
  const lastMembrane = installation.stages.findLastIndex((stage) => stage.kind === 'membrane')
  const dues = installation.stages.map((stage, index) =>
    dueOfStage(stage, index < lastMembrane, installation, defaults),
  )
  if (lastMembrane < 0) return dues
  const membranes = installation.stages.flatMap((stage, index) =>
    stage.kind === 'membrane' ? [{ stage, due: dues[index] }] : [],
  )
  const changedOn = latest(membranes.map(({ stage }) => stage.changedOn))
  const dueOn = earliest(membranes.map(({ due }) => due?.dueOn ?? null))
  return dues.map((due, index) => {
    const stage = installation.stages[index]
    return stage ? tankWithMembrane(due, stage, installation, defaults, changedOn, dueOn) : due
  })
}

function dueOfStage(
  stage: StageFacts,
  aheadOfMembrane: boolean,
  installation: InstallationFacts,
  defaults: DueDefaults,
): StageDue {
  const { stageId } = stage
  if (stage.ownDueOn !== null) {
    const note = stage.ownDueNote.trim()
    return {
      stageId,
      dueOn: stage.ownDueOn,
      rule: 'own-date',
      reason: note === '' ? 'date set by hand' : `set by hand: ${note}`,
    }
  }
  const startedOn = stage.changedOn ?? installation.fittedOn
  if (startedOn === null) return { stageId, dueOn: null, rule: 'not-dated', reason: neverDated(stage) }
  const question: RuleQuestion = { stage, installation, defaults, startedOn, aheadOfMembrane }
  let first: RuleAnswer | null = null
  for (const answer of [
    dueByMonths(question),
    dueByVolume(question),
    dueByFeedWater(question),
    dueBySanitising(question),
  ])
    if (answer !== null && (first === null || answer.dueOn < first.dueOn)) first = answer
  if (first === null)
    return { stageId, dueOn: null, rule: 'not-dated', reason: 'no interval is set for this kind of stage' }
  return { stageId, dueOn: first.dueOn, rule: first.rule, reason: withStart(first.reason, stage) }
}

function tankWithMembrane(
  due: StageDue,
  stage: StageFacts,
  installation: InstallationFacts,
  defaults: DueDefaults,
  membraneChangedOn: CalendarDate | null,
  membraneDueOn: CalendarDate | null,
): StageDue {
  const startedOn = stage.changedOn ?? installation.fittedOn
  if (due.dueOn === null || startedOn === null || due.rule === 'own-date') return due
  const question: RuleQuestion = { stage, installation, defaults, startedOn, aheadOfMembrane: false }
  const answer = dueWithMembrane(question, membraneChangedOn, membraneDueOn)
  return answer !== null && answer.dueOn < due.dueOn ? { ...answer, stageId: due.stageId } : due
}

function neverDated(stage: StageFacts): string {
  return STAGE_KIND_WORDS[stage.kind].care === 'sanitise'
    ? 'not known when it was last sanitised'
    : 'not known when it was last changed'
}

function withStart(reason: string, stage: StageFacts): string {
  return stage.changedOn === null ? `${reason}, counted from the fitting` : reason
}

function earliest(dates: readonly (CalendarDate | null)[]): CalendarDate | null {
  return dates.reduce((first, date) => (first === null || (date !== null && date < first) ? date : first), null)
}

function latest(dates: readonly (CalendarDate | null)[]): CalendarDate | null {
  return dates.reduce((last, date) => (last === null ? date : date === null ? last : laterOf(last, date)), null)
}
