import type { PartId } from '../units/ids.ts'
import type { HeapsInReach, NeedInReach } from './heaps-in-reach.ts'
import type { Taken } from './pull-lines.ts'
import type { PullVisit } from './pull-shapes.ts'
import { ReachFlow } from './reach-flow.ts'

/** A visit with what it needs and where that may come from. */
export interface Asking {
  readonly visit: PullVisit
  readonly needs: readonly NeedInReach[]
}

/**
 * Gives visits all they need, in this order; that it can be done is known. Where the part itself does for everybody it is taken from the van
 * and then from the warehouse. Where it does not, everything that hangs together by what may stand in for what is shared out at once, by a
 * flow of least cost: as few pieces as can be stand in, the dealer's first choice first, what lies on the vans before the warehouse.
 */
export function shareOut(reach: HeapsInReach, whole: readonly Asking[]): Taken[] {
  const isShort = partsThatHangTogether(reach, whole)
  const flow = new ReachFlow(reach.heaps.map((heap) => heap.left))
  const kindOf = ({ visit }: Asking, { need, heaps, costs }: NeedInReach): number =>
    flow.kind(`${visit.vanId}/${need.partId}/${need.ownPartOnly === true}`, heaps, costs)
  for (const asking of whole)
    for (const each of asking.needs) if (isShort.has(each.need.partId)) flow.give(kindOf(asking, each), each.quantity)
  const taken: Taken[] = []
  const allotted = new Map<number, number[]>()
  for (const asking of whole)
    for (const each of asking.needs) {
      let left = each.quantity
      const kind = isShort.has(each.need.partId) ? kindOf(asking, each) : null
      const share = kind === null ? null : (allotted.get(kind) ?? [...flow.has(kind)])
      if (kind !== null && share) allotted.set(kind, share)
      for (const [way, heap] of each.heaps.entries()) {
        const pieces = Math.min(left, share ? (share[way] ?? 0) : left)
        if (pieces === 0) continue
        const { visit } = asking
        const given = reach.take(heap, pieces, (stock, quantity) => {
          const insteadOf = stock.partId === each.need.partId ? null : each.need.partId
          taken.push({ stock, visit, quantity, insteadOf })
        })
        left -= given
        if (share) share[way] = (share[way] ?? 0) - given
      }
    }
  return taken
}

/** Parts that do not do for everybody, those that may stand in for them, those that may stand in for these, and so on. */
function partsThatHangTogether(reach: HeapsInReach, whole: readonly Asking[]): Set<PartId> {
  const wanted = new Map<string, number>()
  const fromWarehouse = new Map<PartId, number>()
  for (const { visit, needs } of whole)
    for (const { need } of needs) {
      const key = `${visit.vanId}/${need.partId}`
      const before = wanted.get(key) ?? 0
      const aboard = reach.left(need.partId, visit.vanId)
      const more = Math.max(0, before + need.quantity - aboard) - Math.max(0, before - aboard)
      wanted.set(key, before + need.quantity)
      fromWarehouse.set(need.partId, (fromWarehouse.get(need.partId) ?? 0) + more)
    }
  const short = [...fromWarehouse].flatMap(([partId, pieces]) => (pieces > reach.left(partId, null) ? [partId] : []))
  const found = new Set(short)
  for (let next = short.pop(); next !== undefined; next = short.pop())
    for (const other of reach.substitutesOf(next))
      if (!found.has(other)) {
        found.add(other)
        short.push(other)
      }
  return found
}
