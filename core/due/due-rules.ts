import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { addDays, addMonths, type CalendarDate } from '../units/calendar-date.ts'
import { type Millilitres, millilitres, volumeText } from '../units/measures.ts'
import { hardnessClassOf } from '../water/hardness-classes.ts'
import { daysOfRatedVolume, passedPerDrunk, type WaterPosition } from '../water/water-passed.ts'
import type { DueDefaults, DueRule, InstallationFacts, StageFacts } from './due-facts.ts'
import { monthsInWords, numberInWords, peopleInWords } from './due-words.ts'
import { monthsByHardness, monthsByPeople } from './months-by-use.ts'

/** One rule's answer for one stage. */
export interface RuleAnswer {
  readonly dueOn: CalendarDate
  readonly rule: DueRule
  readonly reason: string
}

/** What every rule is given: the stage, the installation around it, the office's figures, and the date the clock started. */
export interface RuleQuestion {
  readonly stage: StageFacts
  readonly installation: InstallationFacts
  readonly defaults: DueDefaults
  readonly startedOn: CalendarDate
  readonly aheadOfMembrane: boolean
}

/** A hundred years: a part that lasts longer is not due by its volume. */
const LONGEST_DAYS = 36_525

/**
 * Months by use (household), or the same for everyone (fixed). A stage's own months beat the installation's, which beat the
 * office's table. Null for a stage that goes by its feed water, and for a tank.
 */
export function dueByMonths(question: RuleQuestion): RuleAnswer | null {
  const { stage, installation, defaults, startedOn } = question
  if (STAGE_KIND_WORDS[stage.kind].care === 'sanitise') return null
  const rule = defaults.intervals[stage.kind]
  if (stage.ownMonths !== null) return months(startedOn, stage.ownMonths, 'set for this stage')
  if (!rule || rule.basis === 'feed-water' || rule.basis === 'none') return null
  if (installation.ownMonths !== null && rule.basis === 'household')
    return months(startedOn, installation.ownMonths, 'set for this unit')
  if (rule.basis === 'fixed') return months(startedOn, rule.monthsMost, '')
  const { settings } = defaults
  const people = installation.people ?? settings.usualPeople
  const why =
    installation.people === null
      ? `household size not known, taken as ${numberInWords(people)}`
      : peopleInWords(people, settings.largeHouseholdPeople)
  return months(startedOn, monthsByPeople(rule, people, settings), why)
}

/** Rated volume over the water that passes this position in a day. Null when the part has no rating or nobody drinks. */
export function dueByVolume(question: RuleQuestion): RuleAnswer | null {
  const { stage, installation, defaults, startedOn } = question
  if (stage.ratedMillilitres === null) return null
  const position = waterPositionOf(question)
  const drunk = drunkPerDayOf(installation, defaults)
  const days = daysOfRatedVolume(stage.ratedMillilitres, drunk, position)
  if (days === null || days > LONGEST_DAYS) return null
  const { measures } = defaults.settings
  const daily = volumeText(millilitres(Math.round(drunk * passedPerDrunk(position))), measures)
  const unknown = installation.people === null && installation.drunkPerDay === null
  const guess = unknown ? `, household size not known, taken as ${numberInWords(defaults.settings.usualPeople)}` : ''
  const reason = `rated for ${volumeText(stage.ratedMillilitres, measures)}, sees ${daily} a day${guess}`
  return { dueOn: addDays(startedOn, days), rule: 'volume', reason }
}

/** A stage that goes by its feed water (the membrane): months by hardness. Null for every other, and where months are set by hand. */
export function dueByFeedWater(question: RuleQuestion): RuleAnswer | null {
  const { stage, installation, defaults, startedOn } = question
  const rule = defaults.intervals[stage.kind]
  if (rule?.basis !== 'feed-water' || stage.ownMonths !== null) return null
  const hardness = installation.hardness ?? defaults.settings.usualHardness
  const count = monthsByHardness(rule, hardness)
  const water = hardnessClassOf(hardness)
  const why = installation.hardness === null ? `hardness not known, taken as ${water}` : `${water} water`
  return { dueOn: addMonths(startedOn, count), rule: 'feed-water', reason: `${monthsInWords(count)}, ${why}` }
}

/** Sanitising at its own interval: a tank's own months, else the office's. Null for what is changed rather than sanitised. */
export function dueBySanitising(question: RuleQuestion): RuleAnswer | null {
  const { stage, defaults, startedOn } = question
  if (STAGE_KIND_WORDS[stage.kind].care !== 'sanitise') return null
  const count = stage.ownMonths ?? defaults.settings.sanitiseMonths
  const dueOn = addMonths(startedOn, count)
  if (stage.ownMonths !== null)
    return { dueOn, rule: 'sanitise', reason: `sanitise, ${monthsInWords(count)}, set for this stage` }
  return {
    dueOn,
    rule: 'sanitise',
    reason: count === 12 ? 'sanitise, once a year' : `sanitise, every ${monthsInWords(count)}`,
  }
}

/**
 * Sanitising at the membrane change at the latest. `membraneChangedOn` is the latest change, `membraneDueOn` the next one, of any membrane
 * of the unit: a membrane changed after the tank was last sanitised leaves the sanitising owed since that day.
 */
export function dueWithMembrane(
  question: RuleQuestion,
  membraneChangedOn: CalendarDate | null,
  membraneDueOn: CalendarDate | null,
): RuleAnswer | null {
  if (STAGE_KIND_WORDS[question.stage.kind].care !== 'sanitise') return null
  if (membraneChangedOn !== null && membraneChangedOn > question.startedOn)
    return {
      dueOn: membraneChangedOn,
      rule: 'with-membrane',
      reason: 'sanitise, left out when the membrane was changed',
    }
  if (membraneDueOn === null) return null
  return { dueOn: membraneDueOn, rule: 'with-membrane', reason: 'sanitise, with the membrane' }
}

/** Where the stage stands in the water, with the unit's own recovery or the office's. */
export function waterPositionOf(question: RuleQuestion): WaterPosition {
  const { installation, defaults, aheadOfMembrane } = question
  return { aheadOfMembrane, recoveryPercent: installation.recoveryPercent ?? defaults.settings.recoveryPercent }
}

/** Water drunk a day at a unit: its own figure, else people times the office's figure. */
export function drunkPerDayOf(installation: InstallationFacts, defaults: DueDefaults): Millilitres {
  if (installation.drunkPerDay !== null) return installation.drunkPerDay
  return millilitres(
    (installation.people ?? defaults.settings.usualPeople) * defaults.settings.dailyMillilitresPerPerson,
  )
}

function months(startedOn: CalendarDate, count: number, why: string): RuleAnswer {
  const reason = why === '' ? monthsInWords(count) : `${monthsInWords(count)}, ${why}`
  return { dueOn: addMonths(startedOn, count), rule: 'months', reason }
}
