import { addDays, type CalendarDate, dayNumberOf, daysBetween } from '../units/calendar-date.ts'
import { FEWEST_POINTS, type FittedLine, type Line, theilSen } from './theil-sen.ts'

/** One reading of the membrane that is fitted now: percent of the dissolved solids held back. */
export interface MembraneReading {
  readonly takenOn: CalendarDate
  readonly rejectionPercent: number
  /** Asked about and kept with its mark: shown, but it does not count. */
  readonly unlikely: boolean
}

/** The office's marks, in percent held back, and how wide a band may be that one still acts on, in days. */
export interface MembraneThresholds {
  readonly healthyPercent: number
  readonly replacePercent: number
  readonly overduePercent: number
  readonly widestBandDays: number
}

/** A line over the calendar: percent held back on one day, and how much that changes in a year of 365.25 days. */
export interface RejectionLine {
  readonly from: CalendarDate
  readonly percentThen: number
  readonly perYear: number
}

/** The trend over the readings that count, with the steepest fall and the flattest that the band allows. */
export interface RejectionTrend {
  readonly middle: RejectionLine
  readonly steepest: RejectionLine
  readonly flattest: RejectionLine
  /** How often such a band holds the true trend, 0 to 1. */
  readonly confidence: number
  readonly firstOn: CalendarDate
  readonly lastOn: CalendarDate
}

interface Told {
  /** Days with a reading that counts. */
  readonly readings: number
  readonly lastReadOn: CalendarDate
  readonly latestPercent: number
}

interface TrendTold extends Told {
  readonly trend: RejectionTrend
}

/**
 * What the readings of a membrane say about the day on which it is to be replaced.
 * - `none`: none that counts. `too-few`: one or two; a trend needs three.
 * - `below`: at or under the mark already, since the first of the last readings in a row there. `inARow` is how many; one alone asks to be
 *   measured again. The trend is there where there are three readings.
 * - `crosses`: the trend reaches the mark on that day; the band is narrow enough to act on.
 * - `holding`: it falls, but even at its steepest does not reach the mark within the widest band after the last reading.
 * - `rising`: it does not fall, and the band does not let it reach the mark soon.
 * - `unsure`: the band is too wide to act on; `latestOn` null when it may never cross, `on` null when the trend itself does not fall.
 */
export type MembraneFinding =
  | { readonly kind: 'none' }
  | ({ readonly kind: 'too-few' } & Told)
  | ({
      readonly kind: 'below'
      readonly since: CalendarDate
      readonly inARow: number
      readonly overdue: boolean
      readonly trend: RejectionTrend | null
    } & Told)
  | ({
      readonly kind: 'crosses'
      readonly on: CalendarDate
      readonly earliestOn: CalendarDate
      readonly latestOn: CalendarDate
    } & TrendTold)
  | ({ readonly kind: 'holding'; readonly earliestOn: CalendarDate | null } & TrendTold)
  | ({ readonly kind: 'rising'; readonly earliestOn: CalendarDate | null } & TrendTold)
  | ({
      readonly kind: 'unsure'
      readonly on: CalendarDate | null
      readonly earliestOn: CalendarDate
      readonly latestOn: CalendarDate | null
    } & TrendTold)

const DAYS_A_YEAR = 365.25
/** Nobody's readings tell what happens later than this after the last of them: our decision, no source. */
export const FARTHEST_LOOK_DAYS = 3653

/** The readings that count, in order of days; of several on one day their mean, so that no day weighs more than another. */
export function readingsThatCount(readings: readonly MembraneReading[]): MembraneReading[] {
  const days = new Map<CalendarDate, number[]>()
  for (const { takenOn, rejectionPercent, unlikely } of readings)
    if (!unlikely) days.set(takenOn, [...(days.get(takenOn) ?? []), rejectionPercent])
  return [...days]
    .map(([takenOn, percents]) => ({
      takenOn,
      rejectionPercent: percents.reduce((sum, percent) => sum + percent, 0) / percents.length,
      unlikely: false,
    }))
    .sort((a, b) => (a.takenOn < b.takenOn ? -1 : 1))
}

/**
 * What the readings of one membrane say, given in any order. The trend is Theil-Sen over day and percent. The earliest and latest crossing
 * come from the lines of the steepest and the flattest slope in the band; a crossing that the line puts before the last reading, which was
 * still above the mark, is said to be on the day of that reading.
 */
export function membraneTrend(readings: readonly MembraneReading[], thresholds: MembraneThresholds): MembraneFinding {
  const counting = readingsThatCount(readings)
  const latest = counting.at(-1)
  if (!latest) return { kind: 'none' }
  const told: Told = {
    readings: counting.length,
    lastReadOn: latest.takenOn,
    latestPercent: latest.rejectionPercent,
  }
  const trend = trendOver(counting)
  if (latest.rejectionPercent <= thresholds.replacePercent) return below(counting, told, trend, thresholds)
  if (!trend) return { kind: 'too-few', ...told }
  return crossing(trend, told, thresholds)
}

function below(
  counting: readonly MembraneReading[],
  told: Told,
  trend: RejectionTrend | null,
  { replacePercent, overduePercent }: MembraneThresholds,
): MembraneFinding {
  const lastAbove = counting.findLastIndex(({ rejectionPercent }) => rejectionPercent > replacePercent)
  const row = counting.slice(lastAbove + 1)
  return {
    kind: 'below',
    ...told,
    since: row[0]?.takenOn ?? told.lastReadOn,
    inARow: row.length,
    overdue: told.latestPercent <= overduePercent,
    trend,
  }
}

function crossing(trend: RejectionTrend, told: Told, thresholds: MembraneThresholds): MembraneFinding {
  const mark = thresholds.replacePercent
  const on = crossesOn(trend.middle, mark, told.lastReadOn)
  const earliestOn = crossesOn(trend.steepest, mark, told.lastReadOn)
  const latestOn = crossesOn(trend.flattest, mark, told.lastReadOn)
  const widest = thresholds.widestBandDays
  if (on && earliestOn && latestOn && daysBetween(earliestOn, latestOn) <= widest)
    return { kind: 'crosses', ...told, trend, on, earliestOn, latestOn }
  if (earliestOn === null || daysBetween(told.lastReadOn, earliestOn) > widest)
    return { kind: trend.middle.perYear < 0 ? 'holding' : 'rising', ...told, trend, earliestOn }
  return { kind: 'unsure', ...told, trend, on, earliestOn, latestOn }
}

/** The day on which a line reaches a mark, not before `notBefore`; null when it does not fall or only in the far future. */
function crossesOn(line: RejectionLine, mark: number, notBefore: CalendarDate): CalendarDate | null {
  if (line.perYear >= 0) return null
  const days = ((mark - percentOn(line, notBefore)) / line.perYear) * DAYS_A_YEAR
  if (days > FARTHEST_LOOK_DAYS) return null
  return addDays(notBefore, Math.max(0, wholeDays(days)))
}

/** The first day on which it is so; what lies a hair above a whole day by the arithmetic of machines is that day. */
const wholeDays = (days: number): number => Math.ceil(days - 1e-6)

/** The trend, from three days with readings on. */
function trendOver(counting: readonly MembraneReading[]): RejectionTrend | null {
  const [first, last] = [counting[0], counting.at(-1)]
  if (!first || !last || counting.length < FEWEST_POINTS) return null
  const origin = dayNumberOf(first.takenOn)
  const fitted = theilSen(
    counting.map(({ takenOn, rejectionPercent }) => ({ x: dayNumberOf(takenOn) - origin, y: rejectionPercent })),
  )
  return fitted && inCalendar(fitted, first.takenOn, last.takenOn)
}

function inCalendar(fitted: FittedLine, firstOn: CalendarDate, lastOn: CalendarDate): RejectionTrend {
  const line = ({ slope, intercept }: Line): RejectionLine => ({
    from: firstOn,
    percentThen: intercept,
    perYear: slope * DAYS_A_YEAR,
  })
  return {
    middle: line(fitted),
    steepest: line(fitted.lowest),
    flattest: line(fitted.highest),
    confidence: fitted.confidence,
    firstOn,
    lastOn,
  }
}

/** What a line says for a day, in percent held back; it may lie outside 0 to 100 far from the readings. */
export function percentOn(line: RejectionLine, date: CalendarDate): number {
  return line.percentThen + (line.perYear * daysBetween(line.from, date)) / DAYS_A_YEAR
}

/** The band on a day, in percent held back, for a picture: before, between and after the readings. */
export function bandOn(trend: RejectionTrend, date: CalendarDate): { readonly low: number; readonly high: number } {
  const all = [trend.steepest, trend.middle, trend.flattest].map((line) => percentOn(line, date))
  return { low: Math.min(...all), high: Math.max(...all) }
}
