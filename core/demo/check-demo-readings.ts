import { DEFAULT_SETTINGS } from '../settings/office-settings.ts'
import { type DayNumber, dateOfDayNumber } from '../units/calendar-date.ts'
import { celsius, flow, kilopascals, millilitres, tds } from '../units/measures.ts'
import type { MeasuredFigures } from '../water/figures.ts'
import { type FlowFinding, type FlowReading, flowFinding } from '../water/flow-finding.ts'
import { judgeReading } from '../water/judge-reading.ts'
import { type MembraneFinding, membraneTrend } from '../water/membrane-trend.ts'
import { rejectionOf } from '../water/rejection.ts'
import type { DemoOffice, DemoReading } from './demo-records.ts'
import { DEMO_STORIES } from './demo-stories.ts'

/** A reading with the day it was taken. */
export interface DatedReading {
  readonly on: DayNumber
  readonly reading: DemoReading
}

/** Everything that was measured at one unit, and when it was opened, in order of days. */
export interface MeasuredUnit {
  readonly readings: readonly DatedReading[]
  /** Since when the membrane is fitted that is there now. */
  readonly membraneOn: DayNumber
  readonly membranesOn: readonly DayNumber[]
  readonly openedOn: readonly DayNumber[]
}

/** A new membrane that is well seated holds back at least so much: healthy by the office's own mark. */
const NEW_HOLDS_BACK = DEFAULT_SETTINGS.healthyRejectionPercent

/** Judge: readings that cannot be, that nobody was asked about, or that do not tell what they are there to tell. */
export function checkDemoReadings(office: DemoOffice): string[] {
  const stories = new Map(DEMO_STORIES.map((story) => [story.id, story]))
  return office.households.flatMap(({ units, story: id }, household) =>
    units.flatMap((_, unit) => {
      const measured = measuredUnit(office, household, unit)
      const complaints = unitComplaints(measured, household)
      const story = id === null ? undefined : stories.get(id)
      return story && unit === 0 ? [...complaints, ...storyComplaints(measured, story.id)] : complaints
    }),
  )
}

export function measuredUnit(office: DemoOffice, household: number, unit: number): MeasuredUnit {
  const home = office.households[household]
  const visits = office.visits.filter((visit) => visit.household === household && visit.outcome === 'done')
  const since = home?.since ?? 0
  const membranesOn = [since]
  const openedOn = [since]
  for (const { on, fittings } of visits) {
    const own = fittings.filter(({ stage }) => home?.stages[stage]?.unit === unit)
    if (own.length > 0) openedOn.push(on)
    if (own.some(({ stage }) => home?.stages[stage]?.kind === 'membrane')) membranesOn.push(on)
  }
  const readings = [
    ...visits.flatMap(({ on, readings: taken }) => taken.map((reading) => ({ on, reading }))),
    ...office.readings.filter((one) => one.household === household),
  ]
    .filter(({ reading }) => reading.unit === unit)
    .sort((a, b) => a.on - b.on)
  return { readings, membranesOn, openedOn, membraneOn: Math.max(...membranesOn) }
}

function unitComplaints({ readings, membranesOn }: MeasuredUnit, household: number): string[] {
  return readings.flatMap(({ on, reading }, place) => {
    const where = `household ${household} on ${dateOfDayNumber(on)}`
    const before = readings[place - 1]
    const isNew = before === undefined || membranesOn.some((change) => change > before.on && change <= on)
    const judged = judgeReading(
      figuresOf(reading),
      { rejection: isNew ? null : heldBack(before.reading), meter: before ? figuresOf(before.reading).meter : null },
      'us',
    )
    const complaints = judged.impossible.map(({ sentence }) => `${where}: ${sentence}`)
    const isAsked = judged.questions.length > 0
    const afterUnlikely = before?.reading.unlikely === true
    if (isAsked !== reading.unlikely && !afterUnlikely)
      complaints.push(`${where}: ${reading.unlikely ? 'marked for nothing' : judged.questions.join(' ')}`)
    if (membranesOn.includes(on) && (heldBack(reading) ?? 0) < NEW_HOLDS_BACK)
      complaints.push(`${where}: a new membrane holds back ${heldBack(reading)?.toFixed(1)}`)
    return complaints
  })
}

function storyComplaints(measured: MeasuredUnit, id: string): string[] {
  const finding = DEMO_STORIES.find((story) => story.id === id)?.finding
  if (!finding) return [`story ${id} is not among the stories`]
  const { membrane, flow: flowTold } = findingsOf(measured)
  const complaints: string[] = []
  if (membrane.kind !== finding.membrane) complaints.push(`story ${id}: its membrane is told as ${membrane.kind}`)
  if (finding.flow !== 'any' && flowTold.kind !== finding.flow)
    complaints.push(`story ${id}: its flow is told as ${flowTold.kind}`)
  const causes = flowTold.kind === 'none' ? [] : flowTold.causes.map(({ kind }) => kind)
  if (finding.cause !== null && !causes.includes(finding.cause))
    complaints.push(`story ${id}: what is behind it is told as ${causes.join(', ') || 'nothing'}`)
  return complaints
}

/** What the pure rules of the water say of the membrane that is fitted now. */
export function findingsOf({ readings, membraneOn, openedOn }: MeasuredUnit): {
  readonly membrane: MembraneFinding
  readonly flow: FlowFinding
} {
  const { healthyRejectionPercent, replaceRejectionPercent, overdueRejectionPercent, widestBandDays, flowFallPercent } =
    DEFAULT_SETTINGS
  const own = readings.filter(({ on }) => on >= membraneOn)
  return {
    membrane: membraneTrend(
      own.map(({ on, reading }) => ({
        takenOn: dateOfDayNumber(on),
        rejectionPercent: heldBack(reading) ?? 0,
        unlikely: reading.unlikely,
      })),
      {
        healthyPercent: healthyRejectionPercent,
        replacePercent: replaceRejectionPercent,
        overduePercent: overdueRejectionPercent,
        widestBandDays,
      },
    ),
    flow: flowFinding(
      own.map(flowReading),
      { flowFallPercent, replacePercent: replaceRejectionPercent, healthyPercent: healthyRejectionPercent },
      { openedOn: openedOn.filter((on) => on >= membraneOn).map(dateOfDayNumber) },
    ),
  }
}

function flowReading({ on, reading }: DatedReading): FlowReading {
  const figures = figuresOf(reading)
  return {
    takenOn: dateOfDayNumber(on),
    flow: flow(reading.flowMlMin),
    feedPressure: figures.feedPressure,
    backPressure: null,
    temperature: figures.temperature,
    tdsIn: figures.tdsIn,
    tdsOut: figures.tdsOut,
    recoveryPercent: null,
    rejectionPercent: heldBack(reading),
    tankPrecharge: figures.tankPressure,
    unlikely: reading.unlikely,
  }
}

function figuresOf(reading: DemoReading): MeasuredFigures {
  return {
    tdsIn: tds(reading.tdsIn),
    tdsOut: tds(reading.tdsOut),
    flow: flow(reading.flowMlMin),
    feedPressure: kilopascals(reading.feedKpa),
    tankPressure: kilopascals(reading.tankKpa),
    temperature: celsius(reading.temperatureC),
    meter: reading.meterMl === null ? null : millilitres(reading.meterMl),
  }
}

const heldBack = (reading: DemoReading): number | null => rejectionOf(figuresOf(reading))
