import { addMonths, type CalendarDate, laterOf } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import {
  type MembraneFinding,
  type MembraneReading,
  type MembraneThresholds,
  membraneTrend,
} from '../water/membrane-trend.ts'
import { heldParts } from '../water/rejection.ts'
import type { DueDefaults, InstallationFacts, StageFacts, UnitReading } from './due-facts.ts'
import type { RuleAnswer } from './due-rules.ts'
import { numberInWords } from './due-words.ts'

/**
 * Since when the readings of a unit tell of the membrane that is fitted now: its change, or the fitting of the unit; null when neither is
 * known, and then all of them do. Where several membranes stand in a row, since the latest change of any: a reading tells of all together.
 */
export function membraneSince({ stages, fittedOn }: MembranePlace): CalendarDate | null {
  let since: CalendarDate | null = null
  for (const { kind, changedOn } of stages)
    if (kind === 'membrane' && changedOn !== null && (since === null || changedOn > since)) since = changedOn
  return since ?? fittedOn
}

interface MembranePlace extends Pick<InstallationFacts, 'fittedOn'> {
  readonly stages: readonly Pick<StageFacts, 'kind' | 'changedOn'>[]
}

/** The readings of the membrane that is fitted now. One on the day of the change was taken after it. */
export function membraneReadings(readings: readonly UnitReading[], since: CalendarDate | null): MembraneReading[] {
  const own: MembraneReading[] = []
  for (const { takenOn, rejectionPercent, unlikely } of readings)
    if (rejectionPercent !== null && (since === null || takenOn >= since))
      own.push({ takenOn, rejectionPercent, unlikely })
  return own
}

/** What the readings of a unit say of its membrane; null for a unit without one. */
export function membraneFindingOf(installation: InstallationFacts, defaults: DueDefaults): MembraneFinding | null {
  if (!installation.stages.some(({ kind }) => kind === 'membrane')) return null
  if (installation.readings.length === 0) return NOTHING_READ
  return membraneTrend(membraneReadings(installation.readings, membraneSince(installation)), thresholdsOf(defaults))
}

const NOTHING_READ: MembraneFinding = { kind: 'none' }

/** The office's marks for a membrane. */
export function thresholdsOf({ settings }: DueDefaults): MembraneThresholds {
  return {
    healthyPercent: settings.healthyRejectionPercent,
    replacePercent: settings.replaceRejectionPercent,
    overduePercent: settings.overdueRejectionPercent,
    widestBandDays: settings.widestBandDays,
  }
}

/**
 * The membrane by its measurement, in place of its rule of thumb (`thumb`), both ways. At or under the replacement mark: due since then. A trend
 * that crosses it: due on that day. A membrane that holds: due, to be measured again, when its last reading has spoken long enough, or by
 * the rule of thumb where that is later; no trend puts the date off further than that. Null where the readings do not speak.
 */
export function dueByMeasurement(
  finding: MembraneFinding,
  thumb: RuleAnswer | null,
  { settings }: DueDefaults,
): RuleAnswer | null {
  if (finding.kind === 'none' || finding.kind === 'too-few' || finding.kind === 'unsure') return null
  const held = `holds back ${heldParts(finding.latestPercent)} of 100`
  if (finding.kind === 'below') {
    const mark = finding.overdue
      ? `overdue at ${settings.overdueRejectionPercent}`
      : `time to replace it at ${settings.replaceRejectionPercent}`
    const once = finding.inARow === 1 ? '; measured so once, so measure again' : ''
    return { dueOn: finding.since, rule: 'measurement', reason: `${held}, ${mark}${once}` }
  }
  const spoken = addMonths(finding.lastReadOn, settings.readingSpeaksMonths)
  const latest = thumb === null ? spoken : laterOf(thumb.dueOn, spoken)
  if (finding.kind === 'crosses' && finding.on <= latest) {
    const { earliestOn, latestOn } = finding
    const span =
      earliestOn === latestOn
        ? `around ${shortDate(finding.on, settings.locale)}`
        : `between ${shortDate(earliestOn, settings.locale)} and ${shortDate(latestOn, settings.locale)}`
    const reason = `${held}, reaches ${settings.replaceRejectionPercent} ${span}`
    return { dueOn: finding.on, rule: 'measurement', reason }
  }
  const calendar = thumb !== null && thumb.dueOn > spoken ? `, and by its age: ${thumb.reason}` : ''
  return { dueOn: latest, rule: 'measurement', reason: `still ${held}; measure again by then${calendar}` }
}

/**
 * When a membrane whose date rests on its readings is to be changed, for a plan of years. The date of one that holds is the day to measure it
 * again, not to change it: it is changed when its trend reaches the mark, or not as far as one can see (`changeOn` null). Null where the due
 * date itself is the day of the change.
 */
export function changeAhead(
  finding: MembraneFinding,
): { readonly changeOn: CalendarDate | null; readonly held: string } | null {
  if (finding.kind !== 'crosses' && finding.kind !== 'holding' && finding.kind !== 'rising') return null
  const held = `still holds back ${heldParts(finding.latestPercent)} of 100`
  return { changeOn: finding.kind === 'crosses' ? finding.on : null, held }
}

/** Why the readings of a membrane do not set its date; empty where they do. */
export function whyReadingsAreSilent(finding: MembraneFinding): string {
  switch (finding.kind) {
    case 'none':
      return 'no reading of this membrane that counts'
    case 'too-few':
      return `${numberInWords(finding.readings)} ${finding.readings === 1 ? 'reading' : 'readings'}, a trend needs three`
    case 'unsure':
      return 'the readings lie too far apart to name a day'
    default:
      return ''
  }
}
