import type { Celsius, Tds } from '../units/measures.ts'

/** Litre-atmospheres a mole and kelvin, as Geankoplis, Transport Processes and Separation Process Principles, has it. */
const GAS_CONSTANT = 0.082057
const KPA_AN_ATMOSPHERE = 101.325
/** Some 10 psi, 70 kPa, for each 1000 mg/L of mixed salts: AWWA/ASCE, Water Treatment Plant Design, ch. 13. */
const KPA_A_GRAM_A_LITRE = 70

/** In kPa. Van 't Hoff, pi = c R T, from moles of ions a litre. A single known salt in a laboratory; not for house water. */
export function osmoticPressureOfIons(molesALitre: number, temperature: Celsius): number {
  return molesALitre * GAS_CONSTANT * (temperature + 273.15) * KPA_AN_ATMOSPHERE
}

/** In kPa. The rule of thumb for the mixed salts of natural waters. This is the one that every reckoning with house water uses. */
export function osmoticPressure(solids: Tds): number {
  return (solids / 1000) * KPA_A_GRAM_A_LITRE
}
