import { addDays, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { type Kilopascals, KPA_PER_PSI } from '../units/measures.ts'
import {
  type CorrectedFlow,
  correctedFlow,
  type FlowConditions,
  type MeasuredFlow,
  STANDARD_CONDITIONS,
  usualConditions,
} from './corrected-flow.ts'
import { medianOf } from './median.ts'
import type { MembraneReading } from './membrane-trend.ts'

/** One reading of a unit with the membrane that is fitted now. */
export interface FlowReading extends MeasuredFlow {
  readonly takenOn: CalendarDate
  /** Percent of the dissolved solids held back; null when one end was not measured. */
  readonly rejectionPercent: number | null
  /** Air in the tank while it is empty, kPa. */
  readonly tankPrecharge: Kilopascals | null
  readonly unlikely: boolean
}

/** The office's own marks, in percent. */
export interface FlowLimits {
  /** A fall of the corrected flow beyond this is flagged. */
  readonly flowFallPercent: number
  /** Held back at or under this, a new membrane is not well seated. */
  readonly replacePercent: number
  /** From here up a membrane is healthy, whatever it held back when it was new: it is not called the cause of anything. */
  readonly healthyPercent: number
}

/** What was done at the unit since its membrane was fitted, the fitting included: a housing stood open on each of these days. */
export interface OpenedUnit {
  readonly openedOn: readonly CalendarDate[]
  /** Every rejection of this membrane, also from readings without a flow; where it is left out, those of the readings given. */
  readonly rejections?: readonly MembraneReading[]
}

export type FlowCauseKind =
  | 'low-pressure'
  | 'cold-water'
  | 'low-tank-charge'
  | 'clogged-pre-filter'
  | 'failing-membrane'
  | 'leaking-seal'

/** A cause with the figures that speak for it. */
export interface FlowCause {
  readonly kind: FlowCauseKind
  /** What it takes of the flow by itself, in percent; null where the flow does not tell. */
  readonly takesPercent: number | null
}

/** One day's flow put right, for comparing and for pictures. */
export interface FlowPoint {
  readonly takenOn: CalendarDate
  readonly flow: CorrectedFlow
  readonly rejectionPercent: number | null
  readonly tankPrecharge: Kilopascals | null
  readonly unlikely: boolean
}

/** The membrane's own first readings, the middle of each figure, and how the latest one stands against them. */
export interface FlowComparison {
  readonly firstOn: CalendarDate
  readonly firstReadings: number
  /** Corrected flow at first, mL/min. */
  readonly firstFlow: number
  readonly firstMeasured: number
  readonly firstDrivingPressure: number
  readonly firstFeedPressure: number
  readonly firstTdsIn: number
  readonly firstCelsius: number
  readonly firstTemperatureFactor: number
  readonly firstRejectionPercent: number | null
  readonly latest: FlowPoint
  /** Fall of the flow as measured and as corrected, percent; below 0 when it rose. Corrected is null without driving pressure. */
  readonly measuredFallPercent: number
  readonly correctedFallPercent: number | null
  /** What the membrane of the first readings would hold back at this flow and warmth, percent (`rejectionAtFlow`). */
  readonly expectedRejectionPercent: number | null
  /** The reading before the sudden drop and after it, and when the unit was opened between the two. */
  readonly drop: RejectionDrop | null
}

export interface RejectionDrop {
  /** Null when the membrane was new: its very first reading was low. */
  readonly before: number | null
  readonly after: number
  readonly openedOn: CalendarDate
  readonly seenOn: CalendarDate
}

/**
 * How a unit's flow stands against the first readings of its own membrane.
 * - `none`: no flow was measured. `first`: only the first readings are there, nothing to compare with. Both can still name a seal, by rejection.
 * - `held`: as measured and as corrected within the limit. Causes may still stand there: a membrane can let salt through at full flow.
 * - `explained`: less water came, but at the same pressure and temperature it would be as much as at first.
 * - `fallen`: the corrected flow has fallen beyond the limit: flagged. `no-drive`: too little pressure to compare anything.
 */
export type FlowFinding =
  | { readonly kind: 'none'; readonly drop: RejectionDrop | null; readonly causes: readonly FlowCause[] }
  | {
      readonly kind: 'first'
      readonly latest: FlowPoint
      readonly drop: RejectionDrop | null
      readonly causes: readonly FlowCause[]
    }
  | {
      readonly kind: 'held' | 'explained' | 'fallen' | 'no-drive'
      readonly comparison: FlowComparison
      /** Likeliest first. */
      readonly causes: readonly FlowCause[]
    }

// Common practice, no source, for all of these.
/** Readings up to this many days after the first one count among the membrane's first. */
export const FIRST_READINGS_DAYS = 90
/** Rejection down: this many points below what the flow and the warmth alone would bring it to. Less is what two readings of one meter differ by. */
export const REJECTION_DOWN_POINTS = 5
/** At once: the drop shows within this many days of the unit standing open. */
export const AT_ONCE_DAYS = 45
/** What a sound membrane loses at most, points a day: 21 of a hundred in the two years that hard feed leaves it. */
export const HARDEST_WEAR_A_DAY = 21 / 731
/** Air in an empty tank: 5 to 8 psi is usual. */
export const LOW_PRECHARGE_KPA = 5 * KPA_PER_PSI
export const USUAL_PRECHARGE_KPA = 8 * KPA_PER_PSI
/** Pressure and cold are named when each takes at least this much of the flow, percent. */
export const WORTH_NAMING_PERCENT = 5

/** Every reading with a flow, put right, in order of days. What was not measured is taken as usual at this unit. */
export function flowPoints(
  readings: readonly FlowReading[],
  standard: FlowConditions = STANDARD_CONDITIONS,
): FlowPoint[] {
  const usual = usualConditions(
    readings.filter((reading) => !reading.unlikely),
    standard,
  )
  return [...readings]
    .sort((a, b) => daysBetween(b.takenOn, a.takenOn))
    .map((reading) => ({
      takenOn: reading.takenOn,
      flow: correctedFlow(reading, usual),
      rejectionPercent: reading.rejectionPercent,
      tankPrecharge: reading.tankPrecharge,
      unlikely: reading.unlikely,
    }))
}

/** How the flow of a unit stands, and what is likely behind it. Readings of the membrane that is fitted now, in any order. */
export function flowFinding(
  readings: readonly FlowReading[],
  limits: FlowLimits,
  opened: OpenedUnit = { openedOn: [] },
): FlowFinding {
  const points = flowPoints(readings).filter((point) => !point.unlikely)
  const read = countingRejections(opened.rejections ?? rejectionsOf(points))
  const drop = suddenDrop(read, opened) ?? lowFromTheStart(read, limits, opened)
  const seal: readonly FlowCause[] = drop ? [{ kind: 'leaking-seal', takesPercent: null }] : []
  const latest = points.at(-1)
  const start = points[0]
  if (!latest || !start) return { kind: 'none', drop, causes: seal }
  const until = addDays(start.takenOn, FIRST_READINGS_DAYS)
  const first = points.filter((point) => point !== latest && point.takenOn <= until && point.flow.corrected !== null)
  if (first.length === 0) return { kind: 'first', latest, drop, causes: seal }
  const comparison = compare(first, latest, drop)
  return { kind: standing(comparison, limits), comparison, causes: causesOf(comparison, limits) }
}

function rejectionsOf(points: readonly FlowPoint[]): MembraneReading[] {
  return points.flatMap(({ takenOn, rejectionPercent, unlikely }) =>
    rejectionPercent === null ? [] : [{ takenOn, rejectionPercent, unlikely }],
  )
}

/** Those that were not marked, in order of days; of several on one day in the order given, for the drop may lie between them. */
function countingRejections(readings: readonly MembraneReading[]): MembraneReading[] {
  return readings.filter(({ unlikely }) => !unlikely).sort((a, b) => daysBetween(b.takenOn, a.takenOn))
}

function compare(first: readonly FlowPoint[], latest: FlowPoint, drop: RejectionDrop | null): FlowComparison {
  const middle = (figure: (point: FlowPoint) => number | null): number | null =>
    medianOf(first.flatMap((point) => figure(point) ?? []))
  const firstFlow = middle(({ flow }) => flow.corrected) ?? 0
  const firstMeasured = middle(({ flow }) => flow.flow) ?? 0
  const firstDrivingPressure = middle(({ flow }) => flow.drivingPressure) ?? 0
  const firstRejectionPercent = middle((point) => point.rejectionPercent)
  const firstCelsius = middle(({ flow }) => flow.conditions.temperature) ?? 0
  const { corrected } = latest.flow
  return {
    firstOn: first[0]?.takenOn ?? latest.takenOn,
    firstReadings: first.length,
    firstFlow,
    firstMeasured,
    firstDrivingPressure,
    firstFeedPressure: middle(({ flow }) => flow.conditions.feedPressure) ?? 0,
    firstTdsIn: middle(({ flow }) => flow.conditions.tdsIn) ?? 0,
    firstCelsius,
    firstTemperatureFactor: middle(({ flow }) => flow.temperatureFactor) ?? 1,
    firstRejectionPercent,
    latest,
    measuredFallPercent: fall(firstMeasured, latest.flow.flow),
    correctedFallPercent: corrected === null ? null : fall(firstFlow, corrected),
    expectedRejectionPercent:
      firstRejectionPercent === null
        ? null
        : rejectionAtFlow(
            firstRejectionPercent,
            firstMeasured > 0 ? latest.flow.flow / firstMeasured : 1,
            latest.flow.conditions.temperature - firstCelsius,
          ),
    drop,
  }
}

const fall = (from: number, to: number): number => (from > 0 ? 100 * (1 - to / from) : 0)

/** A degree C more lets 6 of 100 more salt through (and 3 more water): Water Quality Association Education Kit, Vol. X, Article 4. */
const SALT_A_DEGREE = 1.06

/**
 * What a sound membrane that holds back `percent` at first would hold back at another flow and warmth. Salt passes at its own pace, whatever
 * the water does, so less water carries the same salt and held back to let through goes as the flow: the solution-diffusion model,
 * R / (1 - R) = B (dP - dpi) (Geankoplis, ch. 13, from memory). Only what speaks for the membrane counts: neither more water nor colder water
 * is held against it.
 */
export function rejectionAtFlow(percent: number, flowRatio: number, degreesWarmer: number): number {
  if (percent >= 100) return 100
  const waterOverSalt = Math.max(0, flowRatio) / SALT_A_DEGREE ** degreesWarmer
  const odds = (percent / (100 - percent)) * Math.min(1, waterOverSalt)
  return (100 * odds) / (1 + odds)
}

/**
 * The latest two neighbouring readings between which the unit stood open shortly before the second, and rejection fell at once, for good: by more
 * than the membrane wears in so long a time, so that two readings a year apart do not make a seal of an old membrane.
 */
function suddenDrop(read: readonly MembraneReading[], { openedOn }: OpenedUnit): RejectionDrop | null {
  for (let at = read.length - 1; at > 0; at--) {
    const [before, after] = [read[at - 1], read[at]]
    if (!before || !after) continue
    const worn = wearADay(read.slice(0, at)) * daysBetween(before.takenOn, after.takenOn)
    if (before.rejectionPercent - after.rejectionPercent < REJECTION_DOWN_POINTS + worn) continue
    const opening = [...openedOn]
      .sort()
      .findLast((on) => on >= before.takenOn && on <= after.takenOn && daysBetween(on, after.takenOn) <= AT_ONCE_DAYS)
    if (opening === undefined) return null
    const recovered = read.slice(at + 1).some((later) => later.rejectionPercent > before.rejectionPercent - 2)
    if (recovered) continue
    return {
      before: before.rejectionPercent,
      after: after.rejectionPercent,
      openedOn: opening,
      seenOn: after.takenOn,
    }
  }
  return null
}

/** Points a day that it lost up to the last of the readings given; while they do not show any pace, the most that a sound one loses. */
function wearADay(read: readonly MembraneReading[]): number {
  const [first, last] = [read[0], read.at(-1)]
  const days = first && last ? daysBetween(first.takenOn, last.takenOn) : 0
  if (!first || !last || days < FIRST_READINGS_DAYS) return HARDEST_WEAR_A_DAY
  return Math.max(0, first.rejectionPercent - last.rejectionPercent) / days
}

/** A new membrane whose every reading, from the first one soon after its fitting, lies at or under the replacement mark. */
function lowFromTheStart(
  read: readonly MembraneReading[],
  { replacePercent }: FlowLimits,
  { openedOn }: OpenedUnit,
): RejectionDrop | null {
  const first = read[0]
  if (!first || read.some(({ rejectionPercent }) => rejectionPercent > replacePercent)) return null
  const opening = [...openedOn]
    .sort()
    .findLast((on) => on <= first.takenOn && daysBetween(on, first.takenOn) <= AT_ONCE_DAYS)
  return opening === undefined
    ? null
    : { before: null, after: first.rejectionPercent, openedOn: opening, seenOn: first.takenOn }
}

function standing(
  { correctedFallPercent, measuredFallPercent }: FlowComparison,
  { flowFallPercent }: FlowLimits,
): 'held' | 'explained' | 'fallen' | 'no-drive' {
  if (correctedFallPercent === null) return 'no-drive'
  if (correctedFallPercent > flowFallPercent) return 'fallen'
  return measuredFallPercent > flowFallPercent ? 'explained' : 'held'
}

/** Whether rejection is below what the flow and the warmth alone would bring it to; null when it cannot be told. */
export function isRejectionDown(comparison: FlowComparison): boolean | null {
  const now = comparison.latest.rejectionPercent
  const expected = comparison.expectedRejectionPercent
  return now === null || expected === null ? null : expected - now >= REJECTION_DOWN_POINTS
}

/** Down, and no longer healthy; a drop at once speaks for itself. Null when it cannot be told. */
function isFailing(comparison: FlowComparison, healthyPercent: number): boolean | null {
  const isDown = isRejectionDown(comparison)
  return isDown === true && comparison.drop === null
    ? (comparison.latest.rejectionPercent ?? 0) < healthyPercent
    : isDown
}

/**
 * The causes, likeliest first. What comes through the membrane leads: rejection that is down is a leaking seal when it dropped at once after the
 * unit stood open, else a failing membrane. Then by what each takes of the flow by itself: pressure, cold, and whatever is left over, which is
 * a tank with too little air where that was measured, and else the filters ahead of the membrane, because rejection that held clears the membrane.
 */
function causesOf(comparison: FlowComparison, { flowFallPercent, healthyPercent }: FlowLimits): FlowCause[] {
  const { latest, drop, correctedFallPercent: left } = comparison
  const isDown = drop?.before === null ? true : isFailing(comparison, healthyPercent)
  const fallen = left !== null && left > flowFallPercent ? left : null
  const isTankLow = latest.tankPrecharge !== null && latest.tankPrecharge < LOW_PRECHARGE_KPA
  const causes: FlowCause[] = outsideCauses(comparison)
  if (fallen !== null) {
    if (isTankLow) causes.push({ kind: 'low-tank-charge', takesPercent: fallen })
    if (!isDown) causes.push({ kind: 'clogged-pre-filter', takesPercent: fallen })
    causes.sort((a, b) => (b.takesPercent ?? 0) - (a.takesPercent ?? 0))
  }
  if (isDown) causes.unshift({ kind: drop ? 'leaking-seal' : 'failing-membrane', takesPercent: fallen })
  if (isDown === null && fallen !== null) causes.push({ kind: 'failing-membrane', takesPercent: null })
  if (isTankLow && fallen === null) causes.push({ kind: 'low-tank-charge', takesPercent: null })
  return causes
}

/** Pressure and cold, as far as each is worth naming, the one that takes more first. */
function outsideCauses({ latest, firstDrivingPressure, firstTemperatureFactor }: FlowComparison): FlowCause[] {
  const shares = [
    { kind: 'low-pressure', takesPercent: Math.min(fall(firstDrivingPressure, latest.flow.drivingPressure), 100) },
    { kind: 'cold-water', takesPercent: fall(firstTemperatureFactor, latest.flow.temperatureFactor) },
  ] as const
  return shares
    .filter(({ takesPercent }) => takesPercent >= WORTH_NAMING_PERCENT)
    .toSorted((a, b) => b.takesPercent - a.takesPercent)
}
