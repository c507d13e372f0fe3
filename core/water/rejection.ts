import type { Tds } from '../units/measures.ts'

/** Share of the dissolved solids that a membrane holds back, in percent: 100 x (1 - out / in). Null when the feed shows none. */
export function rejectionPercent(tdsIn: Tds, tdsOut: Tds): number | null {
  if (tdsIn <= 0) return null
  return 100 * (1 - tdsOut / tdsIn)
}
