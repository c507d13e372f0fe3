import type { Kilopascals, Tds } from '../units/measures.ts'
import { logMeanConcentration } from './concentration.ts'
import { osmoticPressure } from './osmotic-pressure.ts'

/** What pushes water through a membrane and what holds it back, kPa above atmosphere, mg/L, percent of the feed. */
export interface DrivingConditions {
  readonly feedPressure: Kilopascals
  /** Pressure on the product side while the flow was measured: that of the tank, 0 to an open tap. */
  readonly backPressure: Kilopascals
  readonly tdsIn: Tds
  readonly tdsOut: Tds
  readonly recoveryPercent: number
}

/**
 * Net driving pressure in kPa: the difference in pressure across the membrane less the difference in osmotic pressure (AWWA/ASCE, Water
 * Treatment Plant Design, ch. 13), the feed side at its mean concentration. The loss of pressure along the feed channel of a small element is
 * left out: common practice, no source. At or below 0 no water comes.
 */
export function drivingPressure(conditions: DrivingConditions): number {
  const feedSide = osmoticPressure(conditions.tdsIn) * logMeanConcentration(conditions.recoveryPercent)
  return conditions.feedPressure - conditions.backPressure - (feedSide - osmoticPressure(conditions.tdsOut))
}
