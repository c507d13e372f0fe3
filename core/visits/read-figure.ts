import { ok, type Result, refused } from '../result.ts'
import {
  celsius,
  celsiusToFahrenheit,
  flow as flowOf,
  KPA_PER_PSI,
  kilopascals,
  kilopascalsToPsi,
  LITRES_PER_US_GALLON,
  type MeasureSystem,
} from '../units/measures.ts'
import { FIGURE_NAMES, type Figure, type MeasuredFigures } from './judge-reading.ts'

type Quantity = 'solids' | 'flow' | 'pressure' | 'temperature'

const QUANTITY: Readonly<Record<Figure, Quantity>> = {
  tdsIn: 'solids',
  tdsOut: 'solids',
  flow: 'flow',
  feedPressure: 'pressure',
  tankPressure: 'pressure',
  temperature: 'temperature',
}

/** The unit that a bare figure is taken in. */
export const USUAL_UNIT: Readonly<Record<MeasureSystem, Readonly<Record<Quantity, string>>>> = {
  us: { solids: 'mg/L', flow: 'gal/day', pressure: 'psi', temperature: '°F' },
  metric: { solids: 'mg/L', flow: 'mL/min', pressure: 'bar', temperature: '°C' },
}

export const unitOf = (figure: Figure, system: MeasureSystem): string => USUAL_UNIT[system][QUANTITY[figure]]

/** To the unit of the books, from the unit that was typed; exact by definition of the units. */
const TO_BOOKS: Readonly<Record<Quantity, Readonly<Record<string, (value: number) => number>>>> = {
  solids: { 'mg/l': (value) => value, ppm: (value) => value },
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
}

/**
 * Reads a figure as it is typed: "58", "4,1 bar", "412 mg/L", "54 °F", "62 gal/day". A bare figure is in the office's unit.
 * Null for an empty field. Refused when it is no figure, has an unknown unit, or lies below zero.
 */
export function readFigure<F extends Figure>(
  typed: string,
  figure: F,
  system: MeasureSystem,
): Result<MeasuredFigures[F] | null> {
  const text = typed.trim()
  if (text === '') return ok(null)
  const match = /^([+\-−]?)\s*(\d{1,6}(?:[.,]\d{1,4})?)\s*([^\d\s].*)?$/.exec(text)
  const unit = (match?.[3] ?? unitOf(figure, system)).toLowerCase().replaceAll(' ', '')
  const convert = TO_BOOKS[QUANTITY[figure]][unit]
  if (!match || !convert) return refused('READING_NOT_A_NUMBER', { what: FIGURE_NAMES[figure], typed: text })
  const isNegative = match[1] === '-' || match[1] === '−'
  const size = Number((match[2] ?? '').replace(',', '.'))
  if (isNegative && QUANTITY[figure] !== 'temperature' && size > 0)
    return refused('READING_BELOW_ZERO', { what: FIGURE_NAMES[figure] })
  return ok(convert(isNegative ? -size : size) as MeasuredFigures[F])
}

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
  }
}

const trimmed = (value: number, digits: number): string => String(Number(value.toFixed(digits)))
