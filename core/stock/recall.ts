import type { MovementId, PlaceId } from '../units/ids.ts'
import type { Movement } from './ledger.ts'

export type PlaceKind = 'bin' | 'van' | 'quarantine' | 'transit'
export type FlowReason = 'receive' | 'move' | 'pull' | 'fit' | 'return' | 'count' | 'scrap' | 'recall'

/** Pieces of one lot that went one way for one reason. What put a mistake right counts against the reason of the mistake, below zero. */
export interface Flow {
  readonly reason: FlowReason
  /** Null: outside the house. */
  readonly from: PlaceKind | null
  readonly to: PlaceKind | null
  readonly pieces: number
}

/** Where the pieces of a lot are: what came in (received, found) is the sum of all others. */
export interface RecallFigures {
  readonly received: number
  /** More than the books said, at counts. */
  readonly found: number
  readonly inBins: number
  readonly onVans: number
  readonly quarantined: number
  readonly inTransit: number
  /** Used at visits and not brought back: at homes, or changed since. */
  readonly fitted: number
  readonly scrapped: number
  readonly toSupplier: number
  /** Fewer than the books said, at counts. */
  readonly missing: number
}

/** The figures of a lot from all that ever moved of it. */
export function recallFigures(flows: readonly Flow[]): RecallFigures {
  const lies = (kind: PlaceKind): number =>
    sumOf(flows, (flow) => (flow.to === kind ? 1 : 0) - (flow.from === kind ? 1 : 0))
  const outside = (reason: FlowReason, way: 'in' | 'out'): number =>
    sumOf(flows, (flow) => (flow.reason === reason && wayOf(flow) === way ? 1 : 0))
  return {
    received: outside('receive', 'in') - outside('receive', 'out'),
    found: outside('count', 'in'),
    inBins: lies('bin'),
    onVans: lies('van'),
    quarantined: lies('quarantine'),
    inTransit: lies('transit'),
    fitted: outside('fit', 'out') - outside('fit', 'in') - outside('return', 'in'),
    scrapped: outside('scrap', 'out') - outside('scrap', 'in'),
    toSupplier: outside('return', 'out'),
    missing: outside('count', 'out'),
  }
}

const wayOf = ({ from, to }: Flow): 'in' | 'out' | 'within' => (from === null ? 'in' : to === null ? 'out' : 'within')

const sumOf = (flows: readonly Flow[], sign: (flow: Flow) => number): number =>
  flows.reduce((sum, flow) => sum + sign(flow) * flow.pieces, 0)

/** A movement into quarantine that nobody put right. */
export interface Quarantined extends Movement {
  readonly movementId: MovementId
  readonly fromPlaceId: PlaceId
  readonly toPlaceId: PlaceId
  readonly fromName: string
  /** Whether the place it came from is still in use. */
  readonly isOpen: boolean
}

export interface WayBack {
  /** Movements that are put right whole. */
  readonly counters: readonly Quarantined[]
  /** Of movements whose pieces are not all there any more: what is left goes back by a movement of its own. */
  readonly parts: readonly (Quarantined & { readonly left: number })[]
  /** What cannot go back, and why: the place is out of use, or the pieces left quarantine meanwhile. */
  readonly stays: readonly { readonly from: string; readonly pieces: number; readonly why: 'closed' | 'gone' }[]
}

/**
 * How pieces come back out of quarantine when a lot is fit for use again: movement by movement, the latest first, as far as
 * quarantine still holds them (`there`, by place) and the place they came from is in use.
 */
export function wayBack(quarantined: readonly Quarantined[], there: ReadonlyMap<PlaceId, number>): WayBack {
  const left = new Map(there)
  const counters: Quarantined[] = []
  const parts: (Quarantined & { left: number })[] = []
  const stays: { from: string; pieces: number; why: 'closed' | 'gone' }[] = []
  const latestFirst = quarantined.toSorted((a, b) => b.movementId - a.movementId)
  for (const moved of latestFirst) {
    const pieces = Math.min(moved.quantity, left.get(moved.toPlaceId) ?? 0)
    left.set(moved.toPlaceId, (left.get(moved.toPlaceId) ?? 0) - pieces)
    if (pieces < moved.quantity) stays.push({ from: moved.fromName, pieces: moved.quantity - pieces, why: 'gone' })
    if (pieces === 0) continue
    if (!moved.isOpen) stays.push({ from: moved.fromName, pieces, why: 'closed' })
    else if (pieces === moved.quantity) counters.push(moved)
    else parts.push({ ...moved, left: pieces })
  }
  return { counters, parts, stays }
}
