import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { type CalendarDate, laterOf } from '../units/calendar-date.ts'
import type { MembraneFinding } from '../water/membrane-trend.ts'
import type { DueDefaults, InstallationFacts, StageDue, StageFacts } from './due-facts.ts'
import {
  dueByFeedWater,
  dueByMonths,
  dueByRecall,
  dueBySanitising,
  dueByVolume,
  dueWithMembrane,
  type RuleAnswer,
  type RuleQuestion,
} from './due-rules.ts'
import { dueByMeasurement, membraneFindingOf } from './measured-membrane.ts'
import { type WaterUse, waterUseOf } from './water-use.ts'

/** An installation with what its stages share: the water that is drunk, what the readings say, where the last membrane stands. */
export interface InstallationLooked {
  readonly installation: InstallationFacts
  readonly defaults: DueDefaults
  readonly use: WaterUse
  /** Null for a unit without a membrane. */
  readonly finding: MembraneFinding | null
  /** Index of the last membrane; -1 without one. */
  readonly lastMembrane: number
}

export function lookAt(installation: InstallationFacts, defaults: DueDefaults): InstallationLooked {
  const lastMembrane = lastMembraneOf(installation)
  return {
    installation,
    defaults,
    use: waterUseOf(installation, defaults),
    finding: lastMembrane < 0 ? null : membraneFindingOf(installation, defaults),
    lastMembrane,
  }
}

export const lastMembraneOf = ({ stages }: InstallationFacts): number =>
  stages.findLastIndex((stage) => stage.kind === 'membrane')

/** When a stage's clock started; null when nobody knows, or when the date cannot be one that anybody wrote down on purpose. */
export function startOf(stage: StageFacts, installation: InstallationFacts): CalendarDate | null {
  const startedOn = stage.changedOn ?? installation.fittedOn
  return startedOn === null || startedOn > LAST_START ? null : startedOn
}

/** Nothing lasts beyond the calendar from here. */
const LAST_START = '9000-01-01'

/**
 * When each stage of an installation is due, in the order given: the earliest of the rules that apply, with its reason in words; where
 * the readings of a membrane speak, they take the place of its rule of thumb. A date set by hand takes the place of all rules but a recall.
 * A stage never dated counts from the fitting of the unit; without that either, it has no date and says so. On one day the rule that
 * comes first in the rule book speaks.
 */
export function dueDatesOf(installation: InstallationFacts, defaults: DueDefaults): StageDue[] {
  const looked = lookAt(installation, defaults)
  const dues = installation.stages.map((stage, index) => dueOfStage(stage, index, looked))
  if (looked.lastMembrane < 0) return dues
  const { changedOn, dueOn } = membraneDates(installation, dues)
  return dues.map((due, index) => {
    const stage = installation.stages[index]
    return stage ? tankWithMembrane(due, stage, looked, changedOn, dueOn) : due
  })
}

/** The latest change and the next due date of any membrane of the unit. */
export function membraneDates(installation: InstallationFacts, dues: readonly StageDue[]) {
  let changedOn: CalendarDate | null = null
  let dueOn: CalendarDate | null = null
  installation.stages.forEach((stage, index) => {
    if (stage.kind !== 'membrane') return
    if (stage.changedOn !== null) changedOn = changedOn === null ? stage.changedOn : laterOf(changedOn, stage.changedOn)
    const due = dues[index]?.dueOn ?? null
    if (due !== null && (dueOn === null || due < dueOn)) dueOn = due
  })
  return { changedOn, dueOn }
}

/** What the rules are asked about one stage; null when its clock has no start. */
export function questionOf(stage: StageFacts, index: number, looked: InstallationLooked): RuleQuestion | null {
  const { installation, defaults, use, lastMembrane } = looked
  const startedOn = startOf(stage, installation)
  return startedOn === null
    ? null
    : { stage, installation, defaults, startedOn, aheadOfMembrane: index < lastMembrane, use }
}

function dueOfStage(stage: StageFacts, index: number, looked: InstallationLooked): StageDue {
  const { stageId } = stage
  const recall = dueByRecall(stage)
  if (stage.ownDueOn !== null) {
    const own: RuleAnswer = { dueOn: stage.ownDueOn, rule: 'own-date', reason: ownReason(stage) }
    return { stageId, ...(recall !== null && recall.dueOn < own.dueOn ? recall : own) }
  }
  const question = questionOf(stage, index, looked)
  const first = earliest(rulesOf(stage, question, looked), recall)
  if (first !== null) return { stageId, ...first }
  if (question === null)
    return { stageId, dueOn: null, rule: 'not-dated', reason: neverDated(stage, looked.installation) }
  return { stageId, dueOn: null, rule: 'not-dated', reason: 'no interval is set for this kind of stage' }
}

/** The earliest of the rules that go by the stage itself. */
function rulesOf(stage: StageFacts, question: RuleQuestion | null, looked: InstallationLooked): RuleAnswer | null {
  const byVolume = question && counted(dueByVolume(question), stage)
  if (stage.kind !== 'membrane') {
    if (question === null) return null
    const first = earliest(counted(dueByMonths(question), stage), byVolume)
    return earliest(first, counted(dueBySanitising(question), stage))
  }
  return earliest(byVolume, ofMembrane(stage, question, looked).first)
}

/** A membrane's rule of thumb, and what its readings put in its place. */
export function ofMembrane(stage: StageFacts, question: RuleQuestion | null, looked: InstallationLooked) {
  const thumb = question && counted(dueByMonths(question) ?? dueByFeedWater(question), stage)
  const measured = looked.finding && dueByMeasurement(looked.finding, thumb, looked.defaults)
  return { thumb, measured, first: measured ?? thumb }
}

/** The earlier of two answers; on one day the one that comes first in the rule book. */
function earliest(first: RuleAnswer | null, second: RuleAnswer | null): RuleAnswer | null {
  if (first === null || second === null) return first ?? second
  if (first.dueOn !== second.dueOn) return first.dueOn < second.dueOn ? first : second
  return ORDER[first.rule] <= ORDER[second.rule] ? first : second
}

const ORDER: Readonly<Record<RuleAnswer['rule'], number>> = {
  'own-date': 0,
  months: 1,
  volume: 2,
  'feed-water': 3,
  measurement: 4,
  sanitise: 5,
  'with-membrane': 6,
  recall: 7,
  'not-dated': 8,
}

function tankWithMembrane(
  due: StageDue,
  stage: StageFacts,
  looked: InstallationLooked,
  membraneChangedOn: CalendarDate | null,
  membraneDueOn: CalendarDate | null,
): StageDue {
  if (due.dueOn === null || stage.ownDueOn !== null) return due
  const question = questionOf(stage, 0, looked)
  const answer = question && dueWithMembrane(question, membraneChangedOn, membraneDueOn)
  return answer !== null && answer.dueOn < due.dueOn ? { ...answer, stageId: due.stageId } : due
}

export function ownReason(stage: StageFacts): string {
  const note = stage.ownDueNote.trim()
  return note === '' ? 'date set by hand' : `set by hand: ${note}`
}

export function neverDated(stage: StageFacts, { fittedOn }: InstallationFacts): string {
  const care = STAGE_KIND_WORDS[stage.kind].care === 'sanitise' ? 'sanitised' : 'changed'
  const wrong = stage.changedOn ?? fittedOn
  return wrong === null ? `not known when it was last ${care}` : `it cannot have been ${care} on ${wrong}`
}

/** Says so when the clock runs from the fitting of the unit. */
export function counted(answer: RuleAnswer | null, stage: StageFacts): RuleAnswer | null {
  if (answer === null || stage.changedOn !== null) return answer
  return { dueOn: answer.dueOn, rule: answer.rule, reason: `${answer.reason}, counted from the fitting` }
}
