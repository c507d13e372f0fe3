/** Coefficients of the rational approximation of the normal quantile by P. J. Acklam (from memory; relative error below 1.2e-9). */
const CENTRE_TOP = [
  -39.69683028665376, 220.9460984245205, -275.9285104469687, 138.357751867269, -30.66479806614716, 2.506628277459239,
]
const CENTRE_BOTTOM = [
  -54.47609879822406, 161.5858368580409, -155.6989798598866, 66.80131188771972, -13.28068155288572, 1,
]
const TAIL_TOP = [
  -0.007784894002430293, -0.3223964580411365, -2.400758277161838, -2.549732539343734, 4.374664141464968,
  2.938163982698783,
]
const TAIL_BOTTOM = [0.007784695709041462, 0.3224671290700398, 2.445134137142996, 3.754408661907416, 1]

const polynomial = (coefficients: readonly number[], x: number): number =>
  coefficients.reduce((sum, coefficient) => sum * x + coefficient, 0)

/**
 * The standard normal quantile: `normalQuantile(0.95)` is 1.6449. Throws RangeError outside the open interval (0, 1).
 */
export function normalQuantile(share: number): number {
  if (!(share > 0 && share < 1)) throw new RangeError(`Not a share between 0 and 1: ${share}`)
  if (share < 0.02425) return tail(share)
  if (share > 1 - 0.02425) return -tail(1 - share)
  const q = share - 0.5
  const r = q * q
  return (polynomial(CENTRE_TOP, r) * q) / polynomial(CENTRE_BOTTOM, r)
}

function tail(share: number): number {
  const q = Math.sqrt(-2 * Math.log(share))
  return polynomial(TAIL_TOP, q) / polynomial(TAIL_BOTTOM, q)
}

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
