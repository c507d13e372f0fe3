import { type Problem, problem } from '../problems.ts'
import {
  type Celsius,
  celsiusSchema,
  flowSchema,
  flowText,
  type Kilopascals,
  kilopascalsSchema,
  type MeasureSystem,
  type MillilitresPerMinute,
  pressureText,
  type Tds,
  tdsSchema,
  tdsText,
  temperatureText,
} from '../units/measures.ts'
import { rejectionPercent } from '../water/rejection.ts'

/** What was measured at one unit; null where nothing was. mg/L, mL/min, kPa above atmosphere, degrees Celsius. */
export interface MeasuredFigures {
  readonly tdsIn: Tds | null
  readonly tdsOut: Tds | null
  readonly flow: MillilitresPerMinute | null
  readonly feedPressure: Kilopascals | null
  readonly tankPressure: Kilopascals | null
  readonly temperature: Celsius | null
}

export type Figure = keyof MeasuredFigures

export const FIGURE_NAMES: Readonly<Record<Figure, string>> = {
  tdsIn: 'TDS in',
  tdsOut: 'TDS out',
  flow: 'Flow',
  feedPressure: 'Feed pressure',
  tankPressure: 'Tank, empty',
  temperature: 'Temperature',
}

export const NOTHING_MEASURED: MeasuredFigures = {
  tdsIn: null,
  tdsOut: null,
  flow: null,
  feedPressure: null,
  tankPressure: null,
  temperature: null,
}

export const isNothingMeasured = (figures: MeasuredFigures): boolean =>
  Object.values(figures).every((figure) => figure === null)

export interface JudgedReading {
  /** What cannot be. Nothing is kept while one stands. */
  readonly impossible: readonly Problem[]
  /** What is unusual, as a question. Kept and marked when it is confirmed. */
  readonly questions: readonly string[]
}

/** The previous reading's rejection on the same membrane, in percent; null when there is none. */
export type EarlierRejection = number | null

/**
 * Whether a reading can be, and whether it is likely. Impossible: a feed of nothing, product above feed, water that is
 * not water any more. Unlikely: outside what house installations usually show (common practice, no source).
 */
export function judgeReading(
  figures: MeasuredFigures,
  earlier: EarlierRejection,
  system: MeasureSystem,
): JudgedReading {
  return { impossible: impossibleOf(figures, system), questions: questionsOf(figures, earlier, system) }
}

function impossibleOf(figures: MeasuredFigures, system: MeasureSystem): Problem[] {
  const found: Problem[] = []
  if (figures.tdsIn === 0) found.push(problem('READING_ZERO_FEED'))
  else if (figures.tdsIn !== null && figures.tdsOut !== null && figures.tdsOut > figures.tdsIn)
    found.push(problem('READING_PRODUCT_ABOVE_FEED', { in: tdsText(figures.tdsIn), out: tdsText(figures.tdsOut) }))
  if (figures.tdsIn !== null && figures.tdsIn > LIMITS.tdsMost)
    found.push(outOfRange('TDS in', tdsText(figures.tdsIn), '1 mg/L', '50,000 mg/L'))
  for (const [figure, name] of [
    ['feedPressure', 'Feed pressure'],
    ['tankPressure', 'Tank, empty'],
  ] as const) {
    const value = figures[figure]
    if (value !== null && value > LIMITS.pressureMost)
      found.push(
        outOfRange(
          name,
          pressureText(value, system),
          pressureText(kilopascalsSchema.parse(0), system),
          pressureText(LIMITS.pressureMost, system),
        ),
      )
  }
  const { temperature } = figures
  if (temperature !== null && (temperature < LIMITS.coldest || temperature > LIMITS.hottest))
    found.push(
      outOfRange(
        'Temperature',
        temperatureText(temperature, system),
        temperatureText(LIMITS.coldest, system),
        temperatureText(LIMITS.hottest, system),
      ),
    )
  return found
}

const outOfRange = (what: string, value: string, least: string, most: string): Problem =>
  problem('READING_OUT_OF_RANGE', { what, value, least, most })

/** Sea water holds some 35 000 mg/L; a house pipe bursts long before 20 bar; water freezes at 0 and is too hot to feed a membrane long before 60. */
const LIMITS = {
  tdsMost: tdsSchema.parse(50_000),
  pressureMost: kilopascalsSchema.parse(2000),
  coldest: celsiusSchema.parse(0),
  hottest: celsiusSchema.parse(60),
}

/** What house installations usually show: common practice, no source. */
const USUAL = {
  tdsIn: [10, 2000],
  feedPressure: [170, 700],
  tankPressure: [20, 140],
  temperature: [2, 38],
  flow: [5, 3000],
} as const satisfies Partial<Record<Figure, readonly [number, number]>>
const LOW_REJECTION = 50
const REJECTION_JUMP = 15

function questionsOf(figures: MeasuredFigures, earlier: EarlierRejection, system: MeasureSystem): string[] {
  const found: string[] = []
  for (const [figure, [least, most]] of Object.entries(USUAL) as [keyof typeof USUAL, readonly [number, number]][]) {
    const value = figures[figure]
    if (value === null || (value >= least && value <= most)) continue
    found.push(
      `${FIGURE_NAMES[figure]} of ${figureText(figure, value, system)} is unusually ${value < least ? 'low' : 'high'}.`,
    )
  }
  const rejection = rejectionOf(figures)
  if (rejection === null) return found
  if (rejection < LOW_REJECTION) found.push(`A membrane that holds back only ${Math.round(rejection)} % is unusual.`)
  if (earlier !== null && Math.abs(rejection - earlier) > REJECTION_JUMP)
    found.push(
      `It held back ${Math.round(earlier)} % the last time and ${Math.round(rejection)} % now: a big step for one interval.`,
    )
  return found
}

/** Rejection in percent, null when either end was not measured or the figures cannot be. */
export function rejectionOf(figures: Pick<MeasuredFigures, 'tdsIn' | 'tdsOut'>): number | null {
  if (figures.tdsIn === null || figures.tdsOut === null || figures.tdsOut > figures.tdsIn) return null
  return rejectionPercent(figures.tdsIn, figures.tdsOut)
}

/** From where a membrane is healthy, due and overdue, in percent held back. */
export interface RejectionLimits {
  readonly healthyRejectionPercent: number
  readonly replaceRejectionPercent: number
  readonly overdueRejectionPercent: number
}

/** "holds back 88 of 100 parts: getting weaker, replace at 75". */
export function rejectionInWords(percent: number, limits: RejectionLimits): string {
  const parts = Math.round(percent)
  const verdict =
    percent >= limits.healthyRejectionPercent
      ? 'healthy'
      : percent > limits.replaceRejectionPercent
        ? `getting weaker, replace at ${limits.replaceRejectionPercent}`
        : percent > limits.overdueRejectionPercent
          ? 'time to replace it'
          : 'overdue'
  return `holds back ${parts} of 100 parts: ${verdict}`
}

/** A figure with its unit, as the office measures. */
export function figureText(figure: Figure, value: number, system: MeasureSystem): string {
  switch (figure) {
    case 'tdsIn':
    case 'tdsOut':
      return tdsText(tdsSchema.parse(value))
    case 'flow':
      return flowText(flowSchema.parse(value), system)
    case 'feedPressure':
    case 'tankPressure':
      return pressureText(kilopascalsSchema.parse(value), system)
    case 'temperature':
      return temperatureText(celsiusSchema.parse(value), system)
  }
}
