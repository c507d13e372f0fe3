import type { PartId, VisitId } from '../units/ids.ts'

/** Pieces of a part that pulls laid into the tote of a visit, or that it went without. */
export interface PullRecord {
  readonly visitId: VisitId
  readonly partId: PartId
  readonly served: number
  readonly missing: number
}

export interface FillRate {
  readonly piecesAsked: number
  readonly piecesServed: number
  readonly visits: number
  /** Visits that got every piece. */
  readonly visitsWhole: number
}

/** How much of what visits asked of the warehouse they got: in pieces, and in visits that got everything. */
export function fillRate(records: readonly PullRecord[]): FillRate {
  const visits = new Map<VisitId, boolean>()
  let piecesServed = 0
  let missed = 0
  for (const { visitId, served, missing } of records) {
    if (served + missing === 0) continue
    piecesServed += served
    missed += missing
    visits.set(visitId, (visits.get(visitId) ?? true) && missing === 0)
  }
  const visitsWhole = [...visits.values()].filter((isWhole) => isWhole).length
  return { piecesAsked: piecesServed + missed, piecesServed, visits: visits.size, visitsWhole }
}

/** A share in whole percent that says 100 only of all and 0 only of none: 199 of 200 are 99 %. Null of nothing. */
export function percentOf(part: number, whole: number): number | null {
  if (whole === 0) return null
  const percent = Math.round((part / whole) * 100)
  if (part < whole) return Math.min(99, part > 0 ? Math.max(1, percent) : 0)
  return percent
}
