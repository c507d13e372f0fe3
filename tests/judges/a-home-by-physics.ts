import { addDays, type CalendarDate } from '../../core/units/calendar-date.ts'
import { celsius, flow, kilopascals, psiToKilopascals, tds } from '../../core/units/measures.ts'
import type { FlowReading } from '../../core/water/flow-finding.ts'

/** What can be wrong at a home, as physics has it, and nothing of how the office reckons back from what it sees. */
export interface HomeByPhysics {
  readonly feedTds: number
  /** At the gauge, ahead of the filters. */
  readonly psi: number
  readonly degrees: number
  /** Pressure that the filters ahead of the membrane swallow, as a share. */
  readonly clogged: number
  /** Water and salt that the membrane lets through, against new. */
  readonly waterOpen: number
  readonly saltOpen: number
  /** Share of the feed water that slips past the seal into the product. */
  readonly leak: number
  readonly prechargePsi: number
  /** Share of the flow that a tank without air takes from the tap. */
  readonly weakTap: number
}

export const SOUND_HOME: HomeByPhysics = {
  feedTds: 420,
  psi: 60,
  degrees: 15,
  clogged: 0,
  waterOpen: 1,
  saltOpen: 1,
  leak: 0,
  prechargePsi: 7,
  weakTap: 0,
}

/** Warmth by the trade's rule of thumb, on purpose another convention than the program's: WQA Education Kit, Vol. X, Article 4. */
const waterWarmth = (degrees: number): number => 1.03 ** (degrees - 25)
const saltWarmth = (degrees: number): number => 1.06 ** (degrees - 25)

/** mL/min for each psi of drive, and salt for each mg/L of feed, of a new membrane at 25 degrees: a made-up one that holds back some 94 of 100. */
const WATER_A_PSI = 4.4
const SALT_A_MG = 9.6

/** What somebody with good meters reads at such a home: forwards, by the solution-diffusion model, 10 psi for each 1000 mg/L. */
export function readAt(home: HomeByPhysics, takenOn: CalendarDate): FlowReading {
  const feedSide = home.feedTds * 1.15
  const drive = Math.max(0, home.psi * (1 - home.clogged) - feedSide / 100)
  const water = WATER_A_PSI * home.waterOpen * waterWarmth(home.degrees) * drive
  const salt = SALT_A_MG * home.saltOpen * saltWarmth(home.degrees) * feedSide
  const slipped = home.leak * water
  const product = water + slipped
  const out = product === 0 ? 0 : Math.min(home.feedTds, (salt + slipped * home.feedTds) / product)
  return {
    takenOn,
    flow: flow(product * (1 - home.weakTap)),
    feedPressure: psiToKilopascals(home.psi),
    backPressure: kilopascals(0),
    temperature: celsius(home.degrees),
    tdsIn: tds(home.feedTds),
    tdsOut: tds(out),
    recoveryPercent: 25,
    rejectionPercent: 100 * (1 - out / home.feedTds),
    tankPrecharge: psiToKilopascals(home.prechargePsi),
    unlikely: false,
  }
}

/** A home over time: sound on the first day, then as given, so many days after it. */
export function lifeOf(
  fittedOn: CalendarDate,
  later: readonly { readonly after: number; readonly home: Partial<HomeByPhysics> }[],
  sound: HomeByPhysics = SOUND_HOME,
): FlowReading[] {
  return [
    readAt(sound, fittedOn),
    ...later.map(({ after, home }) => readAt({ ...sound, ...home }, addDays(fittedOn, after))),
  ]
}
