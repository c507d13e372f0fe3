import { ok, type Result, refused } from '../result.ts'
import {
  celsius,
  celsiusSchema,
  celsiusToFahrenheit,
  conductivitySchema,
  flow as flowOf,
  flowSchema,
  KPA_PER_PSI,
  kilopascals,
  kilopascalsSchema,
  kilopascalsToPsi,
  LITRES_PER_CUBIC_FOOT,
  LITRES_PER_US_GALLON,
  type MeasureSystem,
  type MeterFactor,
  millilitres,
  millilitresSchema,
  millilitresToGallons,
  tdsSchema,
} from '../units/measures.ts'
import { tdsOfConductivity } from './conductivity.ts'
import { FIGURE_NAMES, type Figure, type MeasuredFigures } from './figures.ts'
import { readTimedFlow } from './timed-flow.ts'

type Quantity = 'solids' | 'flow' | 'pressure' | 'temperature' | 'volume'

const QUANTITY: Readonly<Record<Figure, Quantity>> = {
  tdsIn: 'solids',
  tdsOut: 'solids',
  flow: 'flow',
  feedPressure: 'pressure',
  tankPressure: 'pressure',
  temperature: 'temperature',
  meter: 'volume',
}

/** The unit that a bare figure is taken in. */
export const USUAL_UNIT: Readonly<Record<MeasureSystem, Readonly<Record<Quantity, string>>>> = {
  us: { solids: 'mg/L', flow: 'gal/day', pressure: 'psi', temperature: '°F', volume: 'gal' },
  metric: { solids: 'mg/L', flow: 'mL/min', pressure: 'bar', temperature: '°C', volume: 'L' },
}

export const unitOf = (figure: Figure, system: MeasureSystem): string => USUAL_UNIT[system][QUANTITY[figure]]

/** How the office types: its units, and what its meters multiply conductivity by. */
export interface TypingManner {
  readonly measures: MeasureSystem
  readonly meterFactor: MeterFactor
}

type Convert = (value: number, factor: MeterFactor) => number
const inMicrosiemens: Convert = (value, factor) => {
  const read = conductivitySchema.safeParse(value)
  return read.success ? tdsOfConductivity(read.data, factor) : Number.POSITIVE_INFINITY
}
const inMillisiemens: Convert = (value, factor) => inMicrosiemens(value * 1000, factor)

/** To the unit of the books, from the unit that was typed; exact by definition of the units, conductivity by the factor of the meter. */
const TO_BOOKS: Readonly<Record<Quantity, Readonly<Record<string, Convert>>>> = {
  solids: {
    'mg/l': (value) => value,
    ppm: (value) => value,
    // The micro sign, the Greek letter, and what a keyboard without either gives.
    'µs/cm': inMicrosiemens,
    'μs/cm': inMicrosiemens,
    'us/cm': inMicrosiemens,
    us: inMicrosiemens,
    µs: inMicrosiemens,
    'ms/cm': inMillisiemens,
  },
  flow: {
    'ml/min': (value) => value,
    'l/min': (value) => value * 1000,
    'l/h': (value) => (value * 1000) / 60,
    'gal/day': (value) => (value * LITRES_PER_US_GALLON * 1000) / 1440,
    gpd: (value) => (value * LITRES_PER_US_GALLON * 1000) / 1440,
    'gal/min': (value) => value * LITRES_PER_US_GALLON * 1000,
  },
  pressure: { psi: (value) => value * KPA_PER_PSI, bar: (value) => value * 100, kpa: (value) => value },
  temperature: {
    '°f': (value) => ((value - 32) * 5) / 9,
    f: (value) => ((value - 32) * 5) / 9,
    '°c': (value) => value,
    c: (value) => value,
  },
  // A meter is kept in whole millilitres.
  volume: {
    l: (value) => Math.round(value * 1000),
    'm³': (value) => Math.round(value * 1_000_000),
    m3: (value) => Math.round(value * 1_000_000),
    gal: (value) => Math.round(value * LITRES_PER_US_GALLON * 1000),
    'ft³': (value) => Math.round(value * LITRES_PER_CUBIC_FOOT * 1000),
    ft3: (value) => Math.round(value * LITRES_PER_CUBIC_FOOT * 1000),
  },
}

const FORM = /^([+\-−]?)\s*(\d{1,9}(?:[.,]\d{1,4})?)\s*([^\d\s].*)?$/
/** "1,240" or "12.345.678": a meter that counts litres or gallons is read in whole groups of three. */
const GROUPED = /^(\d{1,3}(?:[.,]\d{3})+)(?=\s*(?:l|gal)?$)/i

/** What the books can keep of each figure. */
const KEPT = {
  solids: tdsSchema,
  flow: flowSchema,
  pressure: kilopascalsSchema,
  temperature: celsiusSchema,
  volume: millilitresSchema,
} as const satisfies Readonly<Record<Quantity, unknown>>

/**
 * Reads a figure as it is typed: "58", "4,1 bar", "412 mg/L", "830 µS/cm", "54 °F", "62 gal/day", "500 mL in 3:20", "1,240 gal". A bare figure
 * is in the office's unit. Null for an empty field. Refused when it is no figure, has an unknown unit, or lies below zero.
 */
export function readFigure<F extends Figure>(
  typed: string,
  figure: F,
  manner: TypingManner,
): Result<MeasuredFigures[F] | null> {
  const text = typed.trim()
  if (text === '') return ok(null)
  const timed = figure === 'flow' ? readTimedFlow(text) : null
  if (timed !== null) return ok(timed as MeasuredFigures[F])
  const quantity = QUANTITY[figure]
  const match = FORM.exec(quantity === 'volume' ? withoutGroups(text) : text)
  const unit = (match?.[3] ?? unitOf(figure, manner.measures)).toLowerCase().replaceAll(' ', '')
  const convert = Object.hasOwn(TO_BOOKS[quantity], unit) ? TO_BOOKS[quantity][unit] : undefined
  if (!match || !convert) return refused('READING_NOT_A_NUMBER', { what: FIGURE_NAMES[figure], typed: text })
  const isNegative = match[1] === '-' || match[1] === '−'
  const size = Number((match[2] ?? '').replace(',', '.'))
  if (isNegative && quantity !== 'temperature' && size > 0)
    return refused('READING_BELOW_ZERO', { what: FIGURE_NAMES[figure] })
  const value = convert(isNegative ? -size : size, manner.meterFactor)
  if (!KEPT[quantity].safeParse(value).success)
    return refused('READING_BEYOND_METERS', { what: FIGURE_NAMES[figure], typed: text })
  return ok(value as MeasuredFigures[F])
}

const withoutGroups = (text: string): string => text.replace(GROUPED, (digits) => digits.replaceAll(/[.,]/g, ''))

/** A figure of the books as it stands in its field, without its unit; one digit after the point at most (two for bar). */
export function fieldText(figure: Figure, value: number | null, system: MeasureSystem): string {
  if (value === null) return ''
  switch (QUANTITY[figure]) {
    case 'solids':
      return trimmed(value, 1)
    case 'flow':
      return system === 'us' ? trimmed((flowOf(value) * 1440) / 1000 / LITRES_PER_US_GALLON, 1) : trimmed(value, 1)
    case 'pressure':
      return system === 'us' ? trimmed(kilopascalsToPsi(kilopascals(value)), 1) : trimmed(value / 100, 2)
    case 'temperature':
      return trimmed(system === 'us' ? celsiusToFahrenheit(celsius(value)) : value, 1)
    case 'volume':
      return trimmed(system === 'us' ? millilitresToGallons(millilitres(value)) : value / 1000, 1)
  }
}

const trimmed = (value: number, digits: number): string => String(Number(value.toFixed(digits)))
