import { normalQuantile } from './normal.ts'

export interface ReorderPointInput {
  /** Mean pieces used a day. */
  readonly dailyUse: number
  /** Standard deviation of the pieces used a day. */
  readonly dailyDeviation: number
  /** Days until what is ordered now is there; with periodic review, lead time plus review period. */
  readonly leadDays: number
  /** Standard deviation of those days; 0 when the supplier is punctual. */
  readonly leadDeviation: number
  /** Share of periods without running short, in percent: 95. */
  readonly serviceLevelPercent: number
}

export interface ReorderPoint {
  readonly expectedUse: number
  readonly safetyStock: number
  readonly point: number
}

/**
 * Classical reorder point: use over the lead time plus a safety stock of z·√(L·σd² + d²·σL²). Not rounded.
 * Source: the textbook formula, as in Taylor, Introduction to Management Science, ch. 16.
 */
export function reorderPoint(input: ReorderPointInput): ReorderPoint {
  const { dailyUse, dailyDeviation, leadDays, leadDeviation, serviceLevelPercent } = input
  const share = Math.min(Math.max(serviceLevelPercent / 100, 0.5), 0.9999)
  const spread = Math.sqrt(leadDays * dailyDeviation ** 2 + dailyUse ** 2 * leadDeviation ** 2)
  const expectedUse = dailyUse * leadDays
  const safetyStock = spread === 0 ? 0 : normalQuantile(share) * spread
  return { expectedUse, safetyStock, point: expectedUse + safetyStock }
}

export interface DailyPace {
  readonly mean: number
  /** Sample standard deviation (n − 1); 0 for fewer than two days. */
  readonly deviation: number
}

/** How much of something happens a day, from counts of single days. */
export function dailyPace(counts: readonly number[]): DailyPace {
  const n = counts.length
  if (n === 0) return { mean: 0, deviation: 0 }
  const mean = counts.reduce((sum, count) => sum + count, 0) / n
  const squares = counts.reduce((sum, count) => sum + (count - mean) ** 2, 0)
  return { mean, deviation: n < 2 ? 0 : Math.sqrt(squares / (n - 1)) }
}
