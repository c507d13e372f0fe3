import {
  type Celsius,
  celsius,
  flow as flowOf,
  type Kilopascals,
  kilopascals,
  type MillilitresPerMinute,
  psiToKilopascals,
  type Tds,
  tds,
} from '../units/measures.ts'
import { type DrivingConditions, drivingPressure } from './driving-pressure.ts'
import { medianOf } from './median.ts'
import { STANDARD_CELSIUS, temperatureFactor } from './temperature-factor.ts'

/** A flow and what was measured with it; null where nothing was. mL/min, kPa above atmosphere, degrees C, mg/L, percent. */
export interface MeasuredFlow {
  readonly flow: MillilitresPerMinute
  readonly feedPressure: Kilopascals | null
  /** Pressure on the product side while the flow ran: that of the tank; 0 when it was measured to an open tap. */
  readonly backPressure: Kilopascals | null
  readonly temperature: Celsius | null
  readonly tdsIn: Tds | null
  readonly tdsOut: Tds | null
  readonly recoveryPercent: number | null
}

/** All that a flow depends on beside the membrane itself. */
export interface FlowConditions extends DrivingConditions {
  readonly temperature: Celsius
}

export type FlowInput = keyof FlowConditions
const FLOW_INPUTS: readonly FlowInput[] = [
  'feedPressure',
  'backPressure',
  'temperature',
  'tdsIn',
  'tdsOut',
  'recoveryPercent',
]

/**
 * What flows are put to, so that they can be compared: 25 degrees C, an open tap, and the test conditions of NSF/ANSI 58 for the feed, 50 psi
 * and 750 mg/L (Water Conditioning & Purification, Jul 2002). That a tenth of it comes through and a quarter of the feed is drawn is common
 * practice, no source.
 */
export const STANDARD_CONDITIONS: FlowConditions = {
  feedPressure: psiToKilopascals(50),
  backPressure: kilopascals(0),
  temperature: celsius(STANDARD_CELSIUS),
  tdsIn: tds(750),
  tdsOut: tds(75),
  recoveryPercent: 25,
}

/** A flow put to the standard conditions, with everything that went into it. */
export interface CorrectedFlow {
  readonly flow: MillilitresPerMinute
  /** `flow` put to 25 degrees C and the standard driving pressure; null when the driving pressure leaves nothing to compare. */
  readonly corrected: MillilitresPerMinute | null
  /** Net driving pressure, kPa; at or below 0 no water should come. */
  readonly drivingPressure: number
  /** The flow at this temperature over that at 25 degrees C. */
  readonly temperatureFactor: number
  /** What was reckoned with. */
  readonly conditions: FlowConditions
  /** What of it was not measured, and so was taken from what is usual at this unit, or from the standard. */
  readonly taken: readonly FlowInput[]
}

/** Below this the driving pressure is too small a difference of two large figures to divide by, kPa: our decision, no source. */
export const LEAST_DRIVING_PRESSURE = 35
/** The most that a flow can be in the books; no house unit comes near it. */
const MOST_FLOW = 1_000_000

/**
 * Puts a measured flow to standard conditions: Q x (driving pressure at standard / at measuring) / temperature factor. What was not measured
 * is taken from `usual`, the conditions that are usual at this unit (`usualConditions`).
 */
export function correctedFlow(measured: MeasuredFlow, usual: FlowConditions = STANDARD_CONDITIONS): CorrectedFlow {
  const conditions: FlowConditions = {
    feedPressure: measured.feedPressure ?? usual.feedPressure,
    backPressure: measured.backPressure ?? usual.backPressure,
    temperature: measured.temperature ?? usual.temperature,
    tdsIn: measured.tdsIn ?? usual.tdsIn,
    tdsOut: measured.tdsOut ?? usual.tdsOut,
    recoveryPercent: measured.recoveryPercent ?? usual.recoveryPercent,
  }
  const driving = drivingPressure(conditions)
  const factor = temperatureFactor(conditions.temperature)
  const standard = drivingPressure(STANDARD_CONDITIONS)
  return {
    flow: measured.flow,
    corrected:
      driving < LEAST_DRIVING_PRESSURE
        ? null
        : flowOf(Math.min((measured.flow * standard) / driving / factor, MOST_FLOW)),
    drivingPressure: driving,
    temperatureFactor: factor,
    conditions,
    taken: FLOW_INPUTS.filter((input) => measured[input] === null),
  }
}

/** What is usual at a unit: the middle of what its readings measured, and the standard where none did. */
export function usualConditions(
  readings: readonly MeasuredFlow[],
  standard: FlowConditions = STANDARD_CONDITIONS,
): FlowConditions {
  const usual = <F extends FlowInput>(input: F, make: (value: number) => FlowConditions[F]): FlowConditions[F] => {
    const middle = medianOf(readings.flatMap((reading) => reading[input] ?? []))
    return middle === null ? standard[input] : make(middle)
  }
  return {
    feedPressure: usual('feedPressure', kilopascals),
    // A flow is measured to an open tap unless somebody wrote down otherwise.
    backPressure: standard.backPressure,
    temperature: usual('temperature', celsius),
    tdsIn: usual('tdsIn', tds),
    tdsOut: usual('tdsOut', tds),
    recoveryPercent: usual('recoveryPercent', (percent) => percent),
  }
}
