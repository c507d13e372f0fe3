import { monthsAwayInWords } from '../customers/months-away.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { addMonths, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { millilitres, volumeText } from '../units/measures.ts'
import { hardnessClassOf } from '../water/hardness-classes.ts'
import { daysOfRatedVolume, passedPerDrunk, type WaterPosition } from '../water/water-passed.ts'
import type { DueDefaults, DueRule, InstallationFacts, StageFacts } from './due-facts.ts'
import { monthsInWords, numberInWords, peopleInWords } from './due-words.ts'
import { monthsByHardness, monthsByPeople } from './months-by-use.ts'
import { addDaysInUse, addMonthsInUse } from './months-in-use.ts'
import type { WaterUse } from './water-use.ts'

/** One rule's answer for one stage. */
export interface RuleAnswer {
  readonly dueOn: CalendarDate
  readonly rule: DueRule
  readonly reason: string
}

/** How long a stage lasts does not hang on when its clock started: the stage, the installation around it, the office's figures. */
export interface LifeQuestion {
  readonly stage: StageFacts
  readonly installation: InstallationFacts
  readonly defaults: DueDefaults
  readonly aheadOfMembrane: boolean
  /** What is drunk at the unit a day. */
  readonly use: WaterUse
}

/** What every rule is given: that, and the date the clock started. */
export interface RuleQuestion extends LifeQuestion {
  readonly startedOn: CalendarDate
}

/** A hundred years: a part that lasts longer is not due by its volume. */
const LONGEST_DAYS = 36_525

/** An interval in whole months, and why that many. */
export interface MonthsOfLife {
  readonly count: number
  readonly why: string
  /** Whether only the months in use count: so for everything that goes by the household. */
  readonly inUse: boolean
}

/**
 * Months by use (household), or the same for everyone (fixed). A stage's own months beat the installation's, which beat the
 * office's table. Null for a stage that goes by its feed water, and for a tank.
 */
export function monthsOfLife({ stage, installation, defaults }: LifeQuestion): MonthsOfLife | null {
  if (STAGE_KIND_WORDS[stage.kind].care === 'sanitise') return null
  const rule = defaults.intervals[stage.kind]
  const inUse = rule?.basis === 'household'
  if (stage.ownMonths !== null) return { count: stage.ownMonths, why: 'set for this stage', inUse }
  if (!rule || rule.basis === 'feed-water' || rule.basis === 'none') return null
  if (rule.basis === 'fixed') return { count: rule.monthsMost, why: '', inUse }
  if (installation.ownMonths !== null) return { count: installation.ownMonths, why: 'set for this unit', inUse }
  const { settings } = defaults
  const people = installation.people ?? settings.usualPeople
  const why =
    installation.people === null
      ? `household size not known, taken as ${numberInWords(people)}`
      : peopleInWords(people, settings.largeHouseholdPeople)
  return { count: monthsByPeople(rule, people, settings), why, inUse }
}

/** The date by `monthsOfLife`. */
export function dueByMonths(question: RuleQuestion): RuleAnswer | null {
  const life = monthsOfLife(question)
  if (life === null) return null
  const { count, why, inUse } = life
  const away = inUse ? question.installation.monthsAway : []
  const seasons = away.length === 0 ? '' : ` in use, away ${monthsAwayInWords(away)}`
  const reason = `${monthsInWords(count)}${seasons}${why === '' ? '' : `, ${why}`}`
  return { dueOn: addMonthsInUse(question.startedOn, count, away), rule: 'months', reason }
}

/** Whole days in use until the rated volume has passed this position. Null when the part has no rating or nobody drinks. */
export function daysOfLife(question: LifeQuestion): number | null {
  const { stage, use } = question
  if (stage.ratedMillilitres === null) return null
  const days = daysOfRatedVolume(stage.ratedMillilitres, use.perDay, waterPositionOf(question))
  return days === null || days > LONGEST_DAYS ? null : days
}

/** Rated volume over the water that passes this position in a day, counting the months in use. */
export function dueByVolume(question: RuleQuestion): RuleAnswer | null {
  const { stage, installation, defaults, startedOn, use } = question
  const days = daysOfLife(question)
  if (days === null || stage.ratedMillilitres === null) return null
  const { measures } = defaults.settings
  const daily = volumeText(millilitres(Math.round(use.perDay * passedPerDrunk(waterPositionOf(question)))), measures)
  const away = installation.monthsAway
  const seasons = away.length === 0 ? '' : `, away ${monthsAwayInWords(away)}`
  const reason = `rated for ${volumeText(stage.ratedMillilitres, measures)}, sees ${daily} a day, ${sourceOfUse(question)}${seasons}`
  return { dueOn: addDaysInUse(startedOn, days, away), rule: 'volume', reason }
}

function sourceOfUse({ use, installation, defaults }: LifeQuestion): string {
  const { usualPeople, largeHouseholdPeople } = defaults.settings
  if (use.from === 'meter') return 'by the meter'
  if (use.from === 'entered') return 'as entered'
  if (use.from === 'usual') return `household size not known, taken as ${numberInWords(usualPeople)}`
  return peopleInWords(installation.people ?? 0, largeHouseholdPeople)
}

/** Months by the hardness of the feed, for a stage that goes by it (the membrane). Null for every other, and where months are set by hand. */
export function monthsOfMembrane({ stage, installation, defaults }: LifeQuestion): number | null {
  const rule = defaults.intervals[stage.kind]
  if (rule?.basis !== 'feed-water' || stage.ownMonths !== null) return null
  return monthsByHardness(rule, installation.hardness ?? defaults.settings.usualHardness)
}

/** The date by `monthsOfMembrane`: by the calendar, for a membrane ages in a home that stands empty too. */
export function dueByFeedWater(question: RuleQuestion): RuleAnswer | null {
  const { installation, defaults, startedOn } = question
  const count = monthsOfMembrane(question)
  if (count === null) return null
  const water = hardnessClassOf(installation.hardness ?? defaults.settings.usualHardness)
  const why = installation.hardness === null ? `hardness not known, taken as ${water}` : `${water} water`
  return { dueOn: addMonths(startedOn, count), rule: 'feed-water', reason: `${monthsInWords(count)}, ${why}` }
}

/** Months between two sanitisings: a tank's own, else the office's. Null for what is changed rather than sanitised. */
export function monthsOfSanitising({ stage, defaults }: LifeQuestion): number | null {
  if (STAGE_KIND_WORDS[stage.kind].care !== 'sanitise') return null
  return stage.ownMonths ?? defaults.settings.sanitiseMonths
}

/** The date by `monthsOfSanitising`: by the calendar, for standing water needs it no less. */
export function dueBySanitising(question: RuleQuestion): RuleAnswer | null {
  const count = monthsOfSanitising(question)
  if (count === null) return null
  const dueOn = addMonths(question.startedOn, count)
  if (question.stage.ownMonths !== null)
    return { dueOn, rule: 'sanitise', reason: `sanitise, ${monthsInWords(count)}, set for this stage` }
  return {
    dueOn,
    rule: 'sanitise',
    reason: count === 12 ? 'sanitise, once a year' : `sanitise, every ${monthsInWords(count)}`,
  }
}

/** A lot that was recalled while it is fitted here is due on that day; one that was fitted all the same, on the day of the fitting. */
export function dueByRecall(stage: StageFacts): RuleAnswer | null {
  if (stage.recall === null) return null
  const { on, lot } = stage.recall
  const dueOn = stage.changedOn === null ? on : laterOf(on, stage.changedOn)
  return { dueOn, rule: 'recall', reason: `lot ${lot} was recalled` }
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
export function waterPositionOf(question: LifeQuestion): WaterPosition {
  const { installation, defaults, aheadOfMembrane } = question
  return { aheadOfMembrane, recoveryPercent: installation.recoveryPercent ?? defaults.settings.recoveryPercent }
}
