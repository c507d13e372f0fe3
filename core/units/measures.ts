import { z } from 'zod'

/** Total dissolved solids, mg/L. */
export const tdsSchema = z.number().min(0).max(100_000).brand<'Tds'>()
export type Tds = z.infer<typeof tdsSchema>
/** Conductivity at 25 degrees C, microsiemens a centimetre. */
export const conductivitySchema = z.number().min(0).max(200_000).brand<'Conductivity'>()
export type Conductivity = z.infer<typeof conductivitySchema>
/** What a meter multiplies conductivity by to show solids: mg/L for each uS/cm. */
export const meterFactorSchema = z.number().min(0.4).max(1).brand<'MeterFactor'>()
export type MeterFactor = z.infer<typeof meterFactorSchema>
/** Hardness, mg/L as CaCO3. */
export const hardnessSchema = z.number().min(0).max(5_000).brand<'Hardness'>()
export type Hardness = z.infer<typeof hardnessSchema>
/** Volume, whole millilitres. */
export const millilitresSchema = z.int().min(0).brand<'Millilitres'>()
export type Millilitres = z.infer<typeof millilitresSchema>
/** Pressure above atmosphere, kPa. */
export const kilopascalsSchema = z.number().min(0).max(5_000).brand<'Kilopascals'>()
export type Kilopascals = z.infer<typeof kilopascalsSchema>
/** Temperature, degrees Celsius. */
export const celsiusSchema = z.number().min(-50).max(150).brand<'Celsius'>()
export type Celsius = z.infer<typeof celsiusSchema>
/** Flow, millilitres a minute. */
export const flowSchema = z.number().min(0).max(1_000_000).brand<'MillilitresPerMinute'>()
export type MillilitresPerMinute = z.infer<typeof flowSchema>

/** What a vessel holds, millilitres with their fractions: what a flow is timed with. */
export const vesselSchema = z.number().positive().max(1_000_000).brand<'Vessel'>()
export type Vessel = z.infer<typeof vesselSchema>
/** A span of time, seconds with their fractions. */
export const secondsSchema = z.number().positive().max(604_800).brand<'Seconds'>()
export type Seconds = z.infer<typeof secondsSchema>

export const tds = (milligramsPerLitre: number): Tds => tdsSchema.parse(milligramsPerLitre)
export const conductivity = (microsiemens: number): Conductivity => conductivitySchema.parse(microsiemens)
export const meterFactor = (factor: number): MeterFactor => meterFactorSchema.parse(factor)
export const hardness = (milligramsPerLitre: number): Hardness => hardnessSchema.parse(milligramsPerLitre)
export const millilitres = (count: number): Millilitres => millilitresSchema.parse(count)
export const kilopascals = (kpa: number): Kilopascals => kilopascalsSchema.parse(kpa)
export const celsius = (degrees: number): Celsius => celsiusSchema.parse(degrees)
export const flow = (millilitresPerMinute: number): MillilitresPerMinute => flowSchema.parse(millilitresPerMinute)
export const vessel = (millilitresHeld: number): Vessel => vesselSchema.parse(millilitresHeld)
export const seconds = (count: number): Seconds => secondsSchema.parse(count)

/** Exact by definition: 1 US gallon is 231 cubic inches of 2.54 cm. */
export const LITRES_PER_US_GALLON = 3.785411784
/** A US fluid ounce is the 128th part of a US gallon: 29.5735295625 mL. */
export const ML_PER_US_FLUID_OUNCE = (LITRES_PER_US_GALLON * 1000) / 128
/** A foot is 0.3048 m, so a cubic foot is 28.316846592 L. */
export const LITRES_PER_CUBIC_FOOT = 28.316846592
/** Exact by definition: 1 grain is 64.79891 mg. */
export const MILLIGRAMS_PER_GRAIN = 64.79891
/** 17.11806 mg/L is one grain per US gallon. */
export const MG_PER_LITRE_PER_GPG = MILLIGRAMS_PER_GRAIN / LITRES_PER_US_GALLON
/** 1 psi is 6.894757293168 kPa (pound-force 4.4482216152605 N over 0.00064516 m2, exact inputs). */
export const KPA_PER_PSI = 4.4482216152605 / 0.64516

export const gallonsToMillilitres = (gallons: number): Millilitres =>
  millilitres(Math.round(gallons * LITRES_PER_US_GALLON * 1000))
export const millilitresToGallons = (volume: Millilitres): number => volume / 1000 / LITRES_PER_US_GALLON
export const grainsToHardness = (grainsPerGallon: number): Hardness => hardness(grainsPerGallon * MG_PER_LITRE_PER_GPG)
export const hardnessToGrains = (value: Hardness): number => value / MG_PER_LITRE_PER_GPG
export const psiToKilopascals = (psi: number): Kilopascals => kilopascals(psi * KPA_PER_PSI)
export const kilopascalsToPsi = (value: Kilopascals): number => value / KPA_PER_PSI
export const fahrenheitToCelsius = (degrees: number): Celsius => celsius(((degrees - 32) * 5) / 9)
export const celsiusToFahrenheit = (value: Celsius): number => (value * 9) / 5 + 32

/** The two ways an office measures: US (gallons, grains, psi, Fahrenheit) or metric (litres, mg/L, bar, Celsius). */
export type MeasureSystem = 'us' | 'metric'

const round = (value: number, digits: number): string =>
  value.toLocaleString('en-US', { maximumFractionDigits: digits, minimumFractionDigits: 0 })

/** "9 gpg" or "154 mg/L". */
export function hardnessText(value: Hardness, system: MeasureSystem): string {
  return system === 'us' ? `${round(hardnessToGrains(value), 1)} gpg` : `${round(value, 0)} mg/L`
}
/** "1,500 gal" or "5,678 L". */
export function volumeText(value: Millilitres, system: MeasureSystem): string {
  return system === 'us' ? `${round(millilitresToGallons(value), 1)} gal` : `${round(value / 1000, 1)} L`
}
/** "58 psi" or "4.0 bar". */
export function pressureText(value: Kilopascals, system: MeasureSystem): string {
  return system === 'us' ? `${round(kilopascalsToPsi(value), 0)} psi` : `${(value / 100).toFixed(1)} bar`
}
/** "54 °F" or "12 °C". */
export function temperatureText(value: Celsius, system: MeasureSystem): string {
  return system === 'us' ? `${round(celsiusToFahrenheit(value), 0)} °F` : `${round(value, 0)} °C`
}
export function tdsText(value: Tds): string {
  return `${round(value, 0)} mg/L`
}
/** "650 µS/cm". */
export function conductivityText(value: Conductivity): string {
  return `${round(value, 0)} µS/cm`
}
/** "62 gal/day" or "163 mL/min". */
export function flowText(value: MillilitresPerMinute, system: MeasureSystem): string {
  return system === 'us'
    ? `${round((value * 1440) / 1000 / LITRES_PER_US_GALLON, 1)} gal/day`
    : `${round(value, 0)} mL/min`
}
