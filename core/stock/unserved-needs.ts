import type { PartId } from '../units/ids.ts'
import type { VisitNeed } from './pull-shapes.ts'

/** Pieces set aside for a visit, under the part that the visit asked for. */
export interface ServedNeed {
  readonly partId: PartId
  readonly quantity: number
}

/** What a visit still lacks when so much is set aside for it; one entry a part, none where nothing lacks. */
export function unservedNeeds(needs: readonly VisitNeed[], served: readonly ServedNeed[]): VisitNeed[] {
  const left = new Map<PartId, number>()
  for (const need of needs) left.set(need.partId, (left.get(need.partId) ?? 0) + need.quantity)
  for (const each of served) left.set(each.partId, (left.get(each.partId) ?? 0) - each.quantity)
  return [...left].filter(([, quantity]) => quantity > 0).map(([partId, quantity]) => ({ partId, quantity }))
}
