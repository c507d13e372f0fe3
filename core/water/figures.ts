import {
  type Celsius,
  celsiusSchema,
  flowSchema,
  flowText,
  type Kilopascals,
  kilopascalsSchema,
  type MeasureSystem,
  type Millilitres,
  type MillilitresPerMinute,
  millilitresSchema,
  pressureText,
  type Tds,
  tdsSchema,
  tdsText,
  temperatureText,
  volumeText,
} from '../units/measures.ts'

/** What was measured at one unit; null where nothing was. mg/L, mL/min, kPa above atmosphere, degrees Celsius, mL. */
export interface MeasuredFigures {
  readonly tdsIn: Tds | null
  readonly tdsOut: Tds | null
  /** Of the product, to an open tap. */
  readonly flow: MillilitresPerMinute | null
  readonly feedPressure: Kilopascals | null
  /** The air in the tank while it is empty. */
  readonly tankPressure: Kilopascals | null
  readonly temperature: Celsius | null
  /** What a water meter on the product line has counted in all. */
  readonly meter: Millilitres | null
}

export type Figure = keyof MeasuredFigures

export const FIGURE_NAMES: Readonly<Record<Figure, string>> = {
  tdsIn: 'TDS in',
  tdsOut: 'TDS out',
  flow: 'Flow',
  feedPressure: 'Feed pressure',
  tankPressure: 'Tank, empty',
  temperature: 'Temperature',
  meter: 'Meter',
}

export const NOTHING_MEASURED: MeasuredFigures = {
  tdsIn: null,
  tdsOut: null,
  flow: null,
  feedPressure: null,
  tankPressure: null,
  temperature: null,
  meter: null,
}

export const isNothingMeasured = (figures: MeasuredFigures): boolean =>
  Object.values(figures).every((figure) => figure === null)

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
    case 'meter':
      return volumeText(millilitresSchema.parse(value), system)
  }
}
