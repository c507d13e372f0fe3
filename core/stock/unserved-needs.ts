import type { PartId } from '../units/ids.ts'
import { needsOfVisit, type VisitNeed } from './pull-shapes.ts'

/** Pieces set aside for a visit, under the part that the visit asked for. */
export interface ServedNeed {
  readonly partId: PartId
  readonly quantity: number
  /** Another part that stands in for it. */
  readonly standsIn?: boolean
}

/**
 * What a visit still lacks when so much is set aside for it. A part that stands in serves only where that is allowed; the part itself serves
 * the stages that take no other first.
 */
export function unservedNeeds(needs: readonly VisitNeed[], served: readonly ServedNeed[]): VisitNeed[] {
  const own = new Map<PartId, number>()
  const others = new Map<PartId, number>()
  for (const { partId, quantity, standsIn } of served) {
    const pieces = standsIn ? others : own
    pieces.set(partId, (pieces.get(partId) ?? 0) + quantity)
  }
  const use = (pieces: Map<PartId, number>, partId: PartId, most: number): number => {
    const used = Math.min(most, pieces.get(partId) ?? 0)
    pieces.set(partId, (pieces.get(partId) ?? 0) - used)
    return used
  }
  // Stages that take their own part only come first in this list.
  return needsOfVisit({ needs }, []).flatMap((need) => {
    const standing = need.ownPartOnly ? 0 : use(others, need.partId, need.quantity)
    const left = need.quantity - standing - use(own, need.partId, need.quantity - standing)
    return left > 0 ? [{ ...need, quantity: left }] : []
  })
}
