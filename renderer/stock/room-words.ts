import type { MeasureSystem } from '../../core/units/measures.ts'

/** Exact by definition: a foot is 0.3048 m. */
const MILLILITRES_A_CUBIC_FOOT = 28_316.846592

/** Cubic feet to hundredths, or litres to tenths. */
export function roomToShow(millilitres: number, measures: MeasureSystem): number {
  return measures === 'us'
    ? Math.round((millilitres / MILLILITRES_A_CUBIC_FOOT) * 100) / 100
    : Math.round(millilitres / 100) / 10
}

/** Whole millilitres, at least one. */
export function roomTyped(room: number, measures: MeasureSystem): number {
  return Math.max(1, Math.round(room * (measures === 'us' ? MILLILITRES_A_CUBIC_FOOT : 1000)))
}

/** "12.5 ft³", "354 L". */
export function roomText(millilitres: number, measures: MeasureSystem): string {
  return `${roomToShow(millilitres, measures)} ${measures === 'us' ? 'ft³' : 'L'}`
}
