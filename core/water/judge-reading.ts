import { type Problem, problem } from '../problems.ts'
import { celsius, flow, kilopascals, type MeasureSystem, type Millilitres, tds } from '../units/measures.ts'
import { STANDARD_CONDITIONS } from './corrected-flow.ts'
import { drivingPressure } from './driving-pressure.ts'
import { FIGURE_NAMES, type Figure, figureText, type MeasuredFigures } from './figures.ts'
import { heldParts, rejectionOf } from './rejection.ts'

export interface JudgedReading {
  /** What cannot be. Nothing is kept while one stands. */
  readonly impossible: readonly Problem[]
  /** What is unusual, as a question. Kept and marked when it is confirmed. */
  readonly questions: readonly string[]
}

/** What the unit showed before. */
export interface EarlierFigures {
  /** The last reading's rejection on the same membrane, percent; null when there is none, or the membrane is new. */
  readonly rejection: number | null
  /** Where the meter stood the last time. */
  readonly meter: Millilitres | null
}

export const NOTHING_EARLIER: EarlierFigures = { rejection: null, meter: null }

/**
 * What cannot be, each from its least to its most. Sea water holds some 35 000 mg/L; no house tap gives 30 L a minute; a house pipe bursts long
 * before 20 bar; water freezes at 0 and is too hot to feed a membrane long before 60. Common practice, no source.
 */
const LIMITS = {
  tdsIn: [tds(1), tds(50_000)],
  tdsOut: [tds(0), tds(50_000)],
  flow: [flow(0), flow(30_000)],
  feedPressure: [kilopascals(0), kilopascals(2000)],
  tankPressure: [kilopascals(0), kilopascals(2000)],
  temperature: [celsius(0), celsius(60)],
} as const satisfies Partial<Record<Figure, readonly [number, number]>>

/** What house installations usually show, each from its least to its most: common practice, no source. */
const USUAL = {
  tdsIn: [10, 2000],
  flow: [5, 3000],
  feedPressure: [170, 700],
  tankPressure: [20, 140],
  temperature: [2, 38],
} as const satisfies Partial<Record<Figure, readonly [number, number]>>

/** A membrane in use that holds back less than this is asked about, percent: common practice, no source. */
const LOW_REJECTION_PERCENT = 50
/** A step from one reading to the next beyond this is asked about, points of a hundred: common practice, no source. */
const STEP_POINTS = 15

/**
 * Whether a reading can be, and whether it is likely. Impossible: a feed of nothing, product above feed, a meter that runs backwards, water
 * that is not water any more. Unlikely: outside what house installations usually show, or figures that do not go together.
 */
export function judgeReading(figures: MeasuredFigures, earlier: EarlierFigures, system: MeasureSystem): JudgedReading {
  return { impossible: impossibleOf(figures, earlier, system), questions: questionsOf(figures, earlier, system) }
}

function impossibleOf(figures: MeasuredFigures, earlier: EarlierFigures, system: MeasureSystem): Problem[] {
  const { tdsIn, tdsOut, meter } = figures
  const found: Problem[] = []
  if (tdsIn === 0) found.push(problem('READING_ZERO_FEED'))
  else if (tdsIn !== null && tdsOut !== null && tdsOut > tdsIn)
    found.push(
      problem('READING_PRODUCT_ABOVE_FEED', {
        in: figureText('tdsIn', tdsIn, system),
        out: figureText('tdsOut', tdsOut, system),
      }),
    )
  for (const [figure, [least, most]] of entriesOf(LIMITS)) {
    const value = figures[figure]
    if (value === null || (value >= least && value <= most) || (figure === 'tdsIn' && value === 0)) continue
    found.push(outOfRange(figure, value, least, most, system))
  }
  // A new meter begins at nothing.
  if (meter !== null && meter > 0 && earlier.meter !== null && meter < earlier.meter)
    found.push(
      problem('READING_METER_BELOW', {
        earlier: figureText('meter', earlier.meter, system),
        now: figureText('meter', meter, system),
      }),
    )
  return found
}

function outOfRange(figure: Figure, value: number, least: number, most: number, system: MeasureSystem): Problem {
  return problem('READING_OUT_OF_RANGE', {
    what: FIGURE_NAMES[figure],
    value: figureText(figure, value, system),
    least: figureText(figure, least, system),
    most: figureText(figure, most, system),
  })
}

type Ranges<F extends Figure> = Readonly<Record<F, readonly [number, number]>>

function entriesOf<F extends Figure>(ranges: Ranges<F>): [F, readonly [number, number]][] {
  return Object.entries(ranges) as [F, readonly [number, number]][]
}

function questionsOf(figures: MeasuredFigures, earlier: EarlierFigures, system: MeasureSystem): string[] {
  const found: string[] = []
  for (const [figure, [least, most]] of entriesOf(USUAL)) {
    const value = figures[figure]
    if (value === null || (value >= least && value <= most)) continue
    found.push(
      `${FIGURE_NAMES[figure]} of ${figureText(figure, value, system)} is unusually ${value < least ? 'low' : 'high'}.`,
    )
  }
  return [...found, ...rejectionQuestions(figures, earlier), ...pressureQuestions(figures, system)]
}

function rejectionQuestions(figures: MeasuredFigures, earlier: EarlierFigures): string[] {
  const rejection = rejectionOf(figures)
  if (rejection === null) return []
  const found: string[] = []
  if (rejection < LOW_REJECTION_PERCENT)
    found.push(`A membrane that holds back only ${heldParts(rejection)} % is unusual.`)
  if (earlier.rejection !== null && Math.abs(rejection - earlier.rejection) > STEP_POINTS)
    found.push(
      `It held back ${heldParts(earlier.rejection)} % the last time and ${heldParts(rejection)} % now: a big step for one interval.`,
    )
  return found
}

/** Pressures that do not go with the rest: a tank that could never fill, water that nothing drives. */
function pressureQuestions(figures: MeasuredFigures, system: MeasureSystem): string[] {
  const { feedPressure, tankPressure, tdsIn, tdsOut } = figures
  if (feedPressure === null) return []
  const feed = figureText('feedPressure', feedPressure, system)
  const found: string[] = []
  if (tankPressure !== null && tankPressure >= feedPressure)
    found.push(
      `A tank with ${figureText('tankPressure', tankPressure, system)} of air in it cannot fill from a feed of ${feed}.`,
    )
  const driving =
    tdsIn === null ? null : drivingPressure({ ...STANDARD_CONDITIONS, feedPressure, tdsIn, tdsOut: tdsOut ?? tds(0) })
  if (figures.flow !== null && figures.flow > 0 && driving !== null && driving <= 0)
    found.push(`A feed of ${feed} with so much salt in it does not push any water through a membrane.`)
  return found
}
