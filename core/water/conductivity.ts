import { type Conductivity, type MeterFactor, type Tds, tds } from '../units/measures.ts'

/**
 * Dissolved solids from conductivity by the factor of the meter, as the meter itself reckons: 0.5 (sodium chloride), 0.64 or 0.7. Natural
 * waters lie at 0.55 to 0.75 and higher with much sulfate (Hem, USGS Water-Supply Paper 2254), so feed and product are to be read with one
 * factor: the rejection is then the same whichever it is.
 */
export function tdsOfConductivity(conductivity: Conductivity, factor: MeterFactor): Tds {
  return tds(conductivity * factor)
}
