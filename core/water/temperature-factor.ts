import { type Celsius, celsiusToFahrenheit } from '../units/measures.ts'

/**
 * THE CONVENTION of this program: the temperature factor is the flow at a temperature over the flow at 25 degrees C. It is below 1 when the
 * water is cold, and a measured flow is DIVIDED by it. (Where the factor is above 1 when cold, it multiplies: the same with the sign turned.)
 */
export const STANDARD_CELSIUS = 25
const KELVIN = 273
/** From a membrane maker's manual; no standard fixes them (ASTM D4516 says to use the maker's). Seen in membrane design code. */
const K_WARM = 2640
const K_COLD = 3020

/** exp[K (1/298 - 1/(273 + T))], K 2640 from 25 degrees C on and 3020 below: 0.584 at 10, 1 at 25, 1.157 at 30. */
export function temperatureFactor(temperature: Celsius): number {
  const k = temperature >= STANDARD_CELSIUS ? K_WARM : K_COLD
  return Math.exp(k * (1 / (KELVIN + STANDARD_CELSIUS) - 1 / (KELVIN + temperature)))
}

/**
 * The same convention by a table: US Army TM 10-4610-309-14 / USMC TM 10802A-14/1, WP 0083 00, Table 3, every degree from 32 to 110 F,
 * 1 at 77 F. It is milder in the cold than the exponential form (0.66 against 0.584 at 50 F): the two are never mixed. It is the second opinion
 * that the tests hold the first against.
 */
const ARMY_TABLE_FROM_32_F: readonly number[] = [
  ...[0.5, 0.51, 0.52, 0.53, 0.53, 0.54, 0.55, 0.56, 0.57, 0.58, 0.58, 0.59, 0.6, 0.61, 0.62, 0.63],
  ...[0.64, 0.65, 0.66, 0.67, 0.68, 0.69, 0.7, 0.71, 0.72, 0.74, 0.75, 0.76, 0.77, 0.78, 0.79, 0.81],
  ...[0.82, 0.83, 0.84, 0.86, 0.87, 0.88, 0.9, 0.91, 0.93, 0.94, 0.96, 0.97, 0.98, 1.0, 1.02, 1.03],
  ...[1.05, 1.06, 1.08, 1.1, 1.11, 1.13, 1.15, 1.17, 1.18, 1.2, 1.22, 1.24, 1.26, 1.28, 1.3, 1.32],
  ...[1.34, 1.36, 1.38, 1.4, 1.42, 1.45, 1.47, 1.49, 1.51, 1.54, 1.56, 1.58, 1.61, 1.63, 1.66],
]

/** The factor by the army's table, a straight line between its degrees; null outside 32 to 110 F. */
export function temperatureFactorByArmyTable(temperature: Celsius): number | null {
  const place = celsiusToFahrenheit(temperature) - 32
  const [below, above] = [ARMY_TABLE_FROM_32_F[Math.floor(place)], ARMY_TABLE_FROM_32_F[Math.ceil(place)]]
  return below === undefined || above === undefined ? null : below + (above - below) * (place - Math.floor(place))
}
