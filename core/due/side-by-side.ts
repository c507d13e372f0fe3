import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import {
  counted,
  dueDatesOf,
  type InstallationLooked,
  lookAt,
  membraneDates,
  neverDated,
  ofMembrane,
  ownReason,
  questionOf,
} from './due-dates.ts'
import type { DueDefaults, DueRule, InstallationFacts, StageDue, StageFacts } from './due-facts.ts'
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
import { whyReadingsAreSilent } from './measured-membrane.ts'
import type { RuleOnSheet, Standing } from './rules-shapes.ts'

/** What the rules are called on screens. */
export const RULE_NAMES: Readonly<Record<DueRule, string>> = {
  'own-date': 'Date set by hand',
  months: 'Months by use',
  volume: 'Rated volume',
  'feed-water': 'Feed water',
  measurement: 'Measurement',
  sanitise: 'Sanitising',
  'with-membrane': 'With the membrane',
  recall: 'Recall',
  'not-dated': 'No date',
}

export const STANDING_WORDS: Readonly<Record<Standing, string>> = {
  decides: 'decides',
  later: 'later',
  'set-aside-by-readings': 'the readings take its place',
  'set-aside-by-hand': 'the date set by hand takes its place',
  silent: 'says nothing',
}

/** One stage with what decides, and every rule that concerns it. */
export interface StageSideBySide {
  readonly due: StageDue
  readonly answers: readonly RuleOnSheet[]
}

/**
 * All rules side by side, stage by stage in the order given: each with its date or none, its reason, and how it stands to the others.
 * Exactly one decides, the one that `dueDatesOf` takes; none where the stage has no date.
 */
export function rulesSideBySide(installation: InstallationFacts, defaults: DueDefaults): StageSideBySide[] {
  const looked = lookAt(installation, defaults)
  const dues = dueDatesOf(installation, defaults)
  return installation.stages.flatMap((stage, index) => {
    const due = dues[index]
    if (!due) return []
    const asked: Asked = { stage, question: questionOf(stage, index, looked), looked, dues }
    return [{ due, answers: RULES.flatMap((ask) => ask(asked)).map((told) => standingOf(told, stage, due)) }]
  })
}

interface Asked {
  readonly stage: StageFacts
  readonly question: RuleQuestion | null
  readonly looked: InstallationLooked
  readonly dues: readonly StageDue[]
}

/** A rule's answer, or why it has none. */
interface Told {
  readonly rule: DueRule
  readonly answer: RuleAnswer | null
  readonly silence: string
  readonly byReadings: boolean
}

const told = (rule: DueRule, answer: RuleAnswer | null, silence = ''): Told[] => [
  { rule, answer, silence, byReadings: false },
]

/** Each rule in the order of the rule book; one that does not concern a kind of stage is left out. */
const RULES: readonly ((asked: Asked) => Told[])[] = [
  ({ stage }) =>
    stage.ownDueOn === null
      ? []
      : told('own-date', { dueOn: stage.ownDueOn, rule: 'own-date', reason: ownReason(stage) }),
  months,
  volume,
  feedWater,
  measurement,
  sanitising,
  withMembrane,
  ({ stage }) => (stage.recall === null ? [] : told('recall', dueByRecall(stage))),
]

function months(asked: Asked): Told[] {
  const { stage, question, looked } = asked
  const { care } = STAGE_KIND_WORDS[stage.kind]
  const goesByWater = looked.defaults.intervals[stage.kind]?.basis === 'feed-water' && stage.ownMonths === null
  if (care === 'sanitise' || goesByWater) return []
  const answer = question && counted(dueByMonths(question), stage)
  const silence = question ? 'no interval is set for this kind of stage' : neverDated(stage, looked.installation)
  return told('months', answer, silence).map((each) => ({ ...each, byReadings: areReadingsInPlace(asked) }))
}

function volume({ stage, question, looked }: Asked): Told[] {
  const isTank = STAGE_KIND_WORDS[stage.kind].care === 'sanitise'
  if (stage.ratedMillilitres === null) return isTank ? [] : told('volume', null, 'the part has no rated volume')
  const answer = question && counted(dueByVolume(question), stage)
  return told('volume', answer, question ? 'nobody draws so much' : neverDated(stage, looked.installation))
}

function feedWater(asked: Asked): Told[] {
  const { stage, question, looked } = asked
  if (looked.defaults.intervals[stage.kind]?.basis !== 'feed-water') return []
  if (stage.ownMonths !== null) return told('feed-water', null, 'months are set for this stage')
  const answer = question && counted(dueByFeedWater(question), stage)
  return told('feed-water', answer, neverDated(stage, looked.installation)).map((each) => ({
    ...each,
    byReadings: areReadingsInPlace(asked),
  }))
}

const areReadingsInPlace = ({ stage, question, looked }: Asked): boolean =>
  stage.kind === 'membrane' && ofMembrane(stage, question, looked).measured !== null

function measurement({ stage, question, looked }: Asked): Told[] {
  if (stage.kind !== 'membrane' || looked.finding === null) return []
  return told('measurement', ofMembrane(stage, question, looked).measured, whyReadingsAreSilent(looked.finding))
}

function sanitising({ stage, question, looked }: Asked): Told[] {
  if (STAGE_KIND_WORDS[stage.kind].care !== 'sanitise') return []
  return told('sanitise', question && counted(dueBySanitising(question), stage), neverDated(stage, looked.installation))
}

function withMembrane({ stage, question, looked, dues }: Asked): Told[] {
  if (STAGE_KIND_WORDS[stage.kind].care !== 'sanitise' || looked.lastMembrane < 0) return []
  const membrane = membraneDates(looked.installation, dues)
  const answer = question && dueWithMembrane(question, membrane.changedOn, membrane.dueOn)
  return told('with-membrane', answer, question ? 'the membrane has no date' : neverDated(stage, looked.installation))
}

function standingOf({ rule, answer, silence, byReadings }: Told, stage: StageFacts, due: StageDue): RuleOnSheet {
  const standing: Standing =
    answer === null
      ? 'silent'
      : due.rule === rule
        ? 'decides'
        : stage.ownDueOn !== null && rule !== 'own-date' && rule !== 'recall'
          ? 'set-aside-by-hand'
          : byReadings
            ? 'set-aside-by-readings'
            : 'later'
  return {
    rule,
    name: RULE_NAMES[rule],
    dueOn: answer?.dueOn ?? null,
    reason: answer?.reason ?? silence,
    standing,
    standingWords: standing === 'later' && answer?.dueOn === due.dueOn ? 'the same day' : STANDING_WORDS[standing],
  }
}
