import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, longDate } from '../units/date-words.ts'
import { startOf } from './due-dates.ts'
import type { DueDefaults, InstallationFacts, StageFacts, UnitReading } from './due-facts.ts'
import { nextDueRule } from './next-due-date.ts'

/*
 * What in the books of a household somebody should look at: each a sentence that says what is odd and what to do about it. Due dates are
 * reckoned all the same; nothing here stops anything.
 */

/** Remarks on one stage; mostly none. */
export function remarksOnStage(
  stage: StageFacts,
  installation: InstallationFacts,
  defaults: DueDefaults,
  today: CalendarDate,
): string[] {
  const { locale } = defaults.settings
  const care = STAGE_KIND_WORDS[stage.kind].care === 'sanitise' ? 'sanitised' : 'changed'
  const found: string[] = []
  const startedOn = startOf(stage, installation)
  const written = stage.changedOn ?? installation.fittedOn
  if (written === null)
    found.push(
      `Nobody wrote down when it was last ${care}. Write that date on the unit, or the day the unit was fitted.`,
    )
  else if (startedOn === null) found.push(`${written} cannot be the day it was last ${care}. Put the date right.`)
  else if (startedOn > today)
    found.push(
      `By the books it was ${care} on ${longDate(startedOn, locale)}, a day that has not come. Its clock runs from there; put the date right if it is wrong.`,
    )
  if (stage.changedOn !== null && installation.fittedOn !== null && stage.changedOn < installation.fittedOn)
    found.push(
      `By the books it was ${care} before the unit was fitted, on ${longDate(installation.fittedOn, locale)}. One of the two dates is wrong.`,
    )
  if (hasNoTime(stage, defaults))
    found.push('Its interval is no time at all, so it is due on the day it is changed. Give it a month at least.')
  else if (nextDueRule(stage, installation, defaults) === null)
    found.push(
      'Nothing says how long it lasts. Give it months of its own, or give this kind of stage an interval in Settings.',
    )
  if (stage.recall !== null) found.push(`Lot ${stage.recall.lot} is fitted here and was recalled. Change it soon.`)
  return found
}

function hasNoTime(stage: StageFacts, { intervals, settings }: DueDefaults): boolean {
  if (stage.ownMonths !== null) return stage.ownMonths <= 0
  if (stage.kind === 'tank') return settings.sanitiseMonths <= 0
  const rule = intervals[stage.kind]
  return rule !== undefined && rule.basis !== 'none' && rule.monthsLeast <= 0
}

/** Remarks on a unit and the household around it. */
export function remarksOnUnit(installation: InstallationFacts, defaults: DueDefaults, today: CalendarDate): string[] {
  const { locale } = defaults.settings
  const found: string[] = []
  if (installation.stages.length === 0)
    found.push('This unit has no stages, so nothing of it falls due. Add them from feed to tap.')
  if (installation.people !== null && installation.people <= 0)
    found.push('Nobody is counted in this household. Write how many drink from the unit, or leave it blank.')
  if (installation.fittedOn !== null && installation.fittedOn > today)
    found.push(
      `By the books the unit is fitted on ${longDate(installation.fittedOn, locale)}, a day that has not come. Put the date right if it is wrong.`,
    )
  return found
}

/** Remarks on the readings of a unit: several on one day, one that lies ahead, a meter that stands still or went back. */
export function remarksOnReadings(readings: readonly UnitReading[], today: CalendarDate, locale: string): string[] {
  const found: string[] = []
  const perDay = new Map<CalendarDate, number>()
  for (const { takenOn, rejectionPercent, unlikely } of readings)
    if (rejectionPercent !== null && !unlikely) perDay.set(takenOn, (perDay.get(takenOn) ?? 0) + 1)
  for (const [day, count] of perDay)
    if (count > 1)
      found.push(
        `${counted(count, 'reading')} on ${longDate(day, locale)}: their mean counts. Strike out the one that is wrong.`,
      )
  for (const day of new Set(readings.map(({ takenOn }) => takenOn)))
    if (day > today) found.push(`A reading is dated ${longDate(day, locale)}, a day that has not come. Strike it out.`)
  const meters = readings
    .filter(({ meter, unlikely }) => meter !== null && !unlikely)
    .toSorted((a, b) => (a.takenOn < b.takenOn ? -1 : a.takenOn > b.takenOn ? 1 : 0))
  for (const [at, { takenOn, meter }] of meters.entries()) {
    const before = meters[at - 1]
    if (before?.meter == null || meter === null || meter >= before.meter || before.takenOn === takenOn) continue
    found.push(`On ${longDate(takenOn, locale)} the meter stood lower than before: it is taken as a new one.`)
  }
  return found
}
