import type { OfficeSettings } from '../settings/office-settings.ts'
import { addDays, addMonths, type CalendarDate, earlierOf, laterOf } from '../units/calendar-date.ts'
import type { ReadingId, VisitId } from '../units/ids.ts'
import type { FlowInput } from '../water/corrected-flow.ts'
import type { MeasuredFigures } from '../water/figures.ts'
import { type FlowReading, flowFinding, flowPoints } from '../water/flow-finding.ts'
import { causesInWords, flowInWords } from '../water/flow-words.ts'
import { bandOn, type MembraneFinding, percentOn, type RejectionTrend } from '../water/membrane-trend.ts'
import { type FindingInWords, membraneInWords } from '../water/trend-words.ts'
import type { DueDefaults, InstallationFacts, UnitReading } from './due-facts.ts'
import { membraneFindingOf, membraneReadings, membraneSince, thresholdsOf } from './measured-membrane.ts'
import type { FlowTells, RejectionTells } from './measurement-shapes.ts'

/** A reading as the books keep it. */
export interface KeptReading extends MeasuredFigures {
  readonly readingId: ReadingId
  readonly takenOn: CalendarDate
  readonly visitId: VisitId | null
  readonly note: string
  readonly rejectionPercent: number | null
  readonly unlikely: boolean
  readonly struck: { readonly on: CalendarDate; readonly reason: string } | null
}

/** The readings that due dates may rest on: without those that were struck out. */
export function unitReadings(readings: readonly KeptReading[]): UnitReading[] {
  return readings.filter(({ struck }) => struck === null)
}

/** Of the membrane that is fitted now: taken on the day it was fitted, or later. */
export const isOfThisMembrane = (reading: { readonly takenOn: CalendarDate }, since: CalendarDate | null): boolean =>
  since === null || reading.takenOn >= since

/** A picture looks so far past the last reading at least, and so far at most. */
const LEAST_MONTHS_AHEAD = 12
const MOST_MONTHS_AHEAD = 60
/** Days from point to point of a band. */
const BAND_STEP = 30

/** What the readings tell of the rejection of the membrane that is fitted now. `installation.readings` are the same without the struck ones. */
export function rejectionTells(
  readings: readonly KeptReading[],
  installation: InstallationFacts,
  defaults: DueDefaults,
): RejectionTells {
  const since = membraneSince(installation)
  const finding: MembraneFinding = membraneFindingOf(installation, defaults) ?? { kind: 'none' }
  const points = readings.flatMap((reading) => {
    const { readingId, takenOn, rejectionPercent, unlikely, struck } = reading
    if (rejectionPercent === null || struck !== null || !isOfThisMembrane(reading, since)) return []
    return [{ readingId, on: takenOn, percent: rejectionPercent, counts: !unlikely, unlikely }]
  })
  const trend = 'trend' in finding ? finding.trend : null
  const dates = crossingOf(finding)
  const untilOn = lastDayShown(finding, points.at(-1)?.on ?? null)
  return {
    points,
    finding: finding.kind,
    readings: finding.kind === 'none' ? 0 : finding.readings,
    latestPercent: finding.kind === 'none' ? null : finding.latestPercent,
    lastReadOn: finding.kind === 'none' ? null : finding.lastReadOn,
    ...dates,
    belowSince: finding.kind === 'below' ? finding.since : null,
    trend: trend === null || untilOn === null ? null : drawnTrend(trend, untilOn),
    fromOn: since ?? points[0]?.on ?? null,
    untilOn,
    sentences: sentencesOf(membraneInWords(finding, thresholdsOf(defaults), defaults.settings.locale)),
  }
}

const sentencesOf = ({ says, because, next }: FindingInWords): string[] =>
  [says, ...because, next].filter((sentence) => sentence !== '')

function crossingOf(finding: MembraneFinding): Pick<RejectionTells, 'crossesOn' | 'earliestOn' | 'latestOn'> {
  switch (finding.kind) {
    case 'crosses':
    case 'unsure':
      return { crossesOn: finding.on, earliestOn: finding.earliestOn, latestOn: finding.latestOn }
    case 'holding':
    case 'rising':
      return { crossesOn: null, earliestOn: finding.earliestOn, latestOn: null }
    default:
      return { crossesOn: null, earliestOn: null, latestOn: null }
  }
}

function lastDayShown(finding: MembraneFinding, lastOn: CalendarDate | null): CalendarDate | null {
  if (lastOn === null) return null
  const { crossesOn, earliestOn, latestOn } = crossingOf(finding)
  let until = addMonths(lastOn, LEAST_MONTHS_AHEAD)
  if (finding.kind === 'crosses' || finding.kind === 'unsure')
    for (const date of [crossesOn, earliestOn, latestOn]) if (date !== null) until = laterOf(until, addMonths(date, 2))
  const most = addMonths(lastOn, MOST_MONTHS_AHEAD)
  return earlierOf(until, most)
}

function drawnTrend(trend: RejectionTrend, untilOn: CalendarDate): NonNullable<RejectionTells['trend']> {
  const { firstOn, lastOn, confidence, middle } = trend
  const days: CalendarDate[] = []
  for (let on = firstOn; on < untilOn; on = addDays(on, BAND_STEP)) days.push(on)
  days.push(untilOn)
  return {
    perYear: middle.perYear,
    perYearSteepest: trend.steepest.perYear,
    perYearFlattest: trend.flattest.perYear,
    confidence,
    firstOn,
    lastOn,
    line: [firstOn, untilOn].map((on) => ({ on, percent: percentOn(middle, on) })),
    band: days.map((on) => ({ on, ...bandOn(trend, on) })),
  }
}

/**
 * What the readings tell of the flow of the membrane that is fitted now, put to the same warmth and pressure. `openedOn`: days on which a
 * housing of the unit stood open. Readings in order of days.
 */
export function flowTells(
  readings: readonly KeptReading[],
  installation: InstallationFacts,
  openedOn: readonly CalendarDate[],
  settings: DueDefaults['settings'] & Pick<OfficeSettings, 'flowFallPercent'>,
): FlowTells {
  const { flowFallPercent, replaceRejectionPercent: replacePercent, healthyRejectionPercent: healthyPercent } = settings
  const since = membraneSince(installation)
  const drawn = readings.flatMap((reading) =>
    reading.flow === null || reading.struck !== null || !isOfThisMembrane(reading, since)
      ? []
      : [{ reading, measured: flowReadingOf(reading, reading.flow, installation) }],
  )
  const measured = drawn.map((each) => each.measured)
  const rejections = membraneReadings(unitReadings(readings), since)
  const finding = flowFinding(measured, { flowFallPercent, replacePercent, healthyPercent }, { openedOn, rejections })
  const comparison = 'comparison' in finding ? finding.comparison : null
  return {
    points: flowPoints(measured).flatMap(({ takenOn: on, flow, unlikely }, at) => {
      const readingId = drawn[at]?.reading.readingId
      if (readingId === undefined) return []
      return [
        {
          readingId,
          on,
          measured: flow.flow,
          corrected: flow.corrected,
          unlikely,
          takenWords: takenInWords(flow.taken),
        },
      ]
    }),
    finding: finding.kind,
    firstFlow: comparison?.firstFlow ?? null,
    flaggedBelow: comparison === null ? null : comparison.firstFlow * (1 - flowFallPercent / 100),
    measuredFallPercent: comparison?.measuredFallPercent ?? null,
    correctedFallPercent: comparison?.correctedFallPercent ?? null,
    causes: causesInWords(finding, settings).map(({ kind, name, because, next }) => ({
      kind,
      name,
      sentence: because,
      next,
    })),
    sentences: sentencesOf(flowInWords(finding, settings)),
  }
}

function flowReadingOf(reading: KeptReading, flow: FlowReading['flow'], installation: InstallationFacts): FlowReading {
  return {
    takenOn: reading.takenOn,
    flow,
    feedPressure: reading.feedPressure,
    backPressure: null,
    temperature: reading.temperature,
    tdsIn: reading.tdsIn,
    tdsOut: reading.tdsOut,
    recoveryPercent: installation.recoveryPercent,
    rejectionPercent: reading.rejectionPercent,
    tankPrecharge: reading.tankPressure,
    unlikely: reading.unlikely,
  }
}

/** What is worth saying when it was not measured; a flow is measured to an open tap, and recovery is a figure of the unit. */
const INPUT_WORDS: Partial<Readonly<Record<FlowInput, string>>> = {
  feedPressure: 'feed pressure',
  temperature: 'temperature',
  tdsIn: 'dissolved solids',
}

function takenInWords(taken: readonly FlowInput[]): string {
  const words = taken.flatMap((input) => INPUT_WORDS[input] ?? [])
  if (words.length === 0) return ''
  const list = words.length === 1 ? words[0] : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`
  return `${list} taken as usual here`
}
