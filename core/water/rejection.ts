import type { Tds } from '../units/measures.ts'

/** Share of the dissolved solids that a membrane holds back, in percent: 100 x (1 - out / in). Null when the feed shows none. */
export function rejectionPercent(tdsIn: Tds, tdsOut: Tds): number | null {
  if (tdsIn <= 0) return null
  return 100 * (1 - tdsOut / tdsIn)
}

/** Rejection in percent, null when either end was not measured or the figures cannot be. */
export function rejectionOf(figures: { readonly tdsIn: Tds | null; readonly tdsOut: Tds | null }): number | null {
  if (figures.tdsIn === null || figures.tdsOut === null || figures.tdsOut > figures.tdsIn) return null
  return rejectionPercent(figures.tdsIn, figures.tdsOut)
}

/** Whole parts of a hundred, rounded down, so that a membrane just under a mark is never said to be on it. */
export const heldParts = (percent: number): number => Math.floor(percent + 1e-9)

/** From where a membrane is healthy, due and overdue, in percent held back. */
export interface RejectionLimits {
  readonly healthyRejectionPercent: number
  readonly replaceRejectionPercent: number
  readonly overdueRejectionPercent: number
}

/** "holds back 88 of 100 parts and lets 12 through: getting weaker, replace at 75": rejection and passage, which are the whole together. */
export function rejectionInWords(percent: number, limits: RejectionLimits): string {
  const parts = heldParts(percent)
  const verdict =
    percent >= limits.healthyRejectionPercent
      ? 'healthy'
      : percent > limits.replaceRejectionPercent
        ? `getting weaker, replace at ${limits.replaceRejectionPercent}`
        : percent > limits.overdueRejectionPercent
          ? 'time to replace it'
          : 'overdue'
  return `holds back ${parts} of 100 parts and lets ${100 - parts} through: ${verdict}`
}
