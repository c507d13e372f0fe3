import { addDays, type CalendarDate, calendarDate } from '../../core/units/calendar-date.ts'
import { celsius, flow, kilopascals, psiToKilopascals, tds } from '../../core/units/measures.ts'
import { STANDARD_CONDITIONS } from '../../core/water/corrected-flow.ts'
import { drivingPressure } from '../../core/water/driving-pressure.ts'
import { type FlowFinding, type FlowLimits, type FlowReading, flowFinding } from '../../core/water/flow-finding.ts'
import { temperatureFactor } from '../../core/water/temperature-factor.ts'

/** 15 and 75 of 100: common practice, no source. */
export const LIMITS: FlowLimits = { flowFallPercent: 15, replacePercent: 75, healthyPercent: 90 }
/** The day on which the membrane of every story was fitted. */
export const FITTED = calendarDate('2024-03-04')
const FEED = 420

/** What was read on one day of a story, that many days after the fitting. */
export interface StoryDay {
  readonly after: number
  readonly mlPerMinute: number
  readonly psi: number
  readonly degrees: number
  readonly rejection: number | null
  readonly prechargePsi: number | null
}

const AT_FIRST: StoryDay = { after: 0, mlPerMinute: 160, psi: 60, degrees: 14, rejection: 94, prechargePsi: 7 }

/** A reading of a made-up home with 420 mg/L of feed, measured to an open tap; what is not given is as on the first day. */
export function storyReading(own: Partial<StoryDay> = {}): FlowReading {
  const day = { ...AT_FIRST, ...own }
  return {
    takenOn: addDays(FITTED, day.after),
    flow: flow(day.mlPerMinute),
    feedPressure: psiToKilopascals(day.psi),
    backPressure: kilopascals(0),
    temperature: celsius(day.degrees),
    tdsIn: tds(FEED),
    tdsOut: day.rejection === null ? null : tds(FEED * (1 - day.rejection / 100)),
    recoveryPercent: null,
    rejectionPercent: day.rejection,
    tankPrecharge: day.prechargePsi === null ? null : psiToKilopascals(day.prechargePsi),
    unlikely: false,
  }
}

/** The finding of a home whose first day was usual and whose second reading, 380 days later, is as given. */
export function flowStory(latest: Partial<StoryDay>, openedOn: readonly CalendarDate[] = [FITTED]): FlowFinding {
  return flowFinding([storyReading(), storyReading({ after: 380, ...latest })], LIMITS, { openedOn })
}

/** What drives the water in such a home at a feed pressure, kPa, while the membrane holds back what it did at first. */
export function driveAt(psi: number): number {
  return drivingPressure({
    ...STANDARD_CONDITIONS,
    feedPressure: psiToKilopascals(psi),
    tdsIn: tds(FEED),
    tdsOut: tds(FEED * 0.06),
  })
}

/** How much of the first flow the same membrane gives at another pressure and temperature. */
export function sameMembraneAt(psi: number, degrees: number): number {
  const warmth = temperatureFactor(celsius(degrees)) / temperatureFactor(celsius(AT_FIRST.degrees))
  return (driveAt(psi) / driveAt(AT_FIRST.psi)) * warmth
}
