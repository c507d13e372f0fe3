import type { PartId, VanId } from '../units/ids.ts'
import type { PullLine, PullVisit, StockAtPlace } from './pull-shapes.ts'

/** Pieces of a lot for a visit, or to top a van up. */
export type Taken = {
  readonly stock: StockAtPlace
  readonly quantity: number
  readonly insteadOf: PartId | null
} & ({ readonly visit: PullVisit; readonly vanId?: undefined } | { readonly visit: null; readonly vanId: VanId })

/** One line a place, lot and part asked for, its totes in stop order; what tops the van up has lines of its own, without totes. */
export function linesOf(taken: readonly Taken[]): PullLine[] {
  const groups = new Map<string, Taken[]>()
  for (const each of taken) {
    const key = `${each.stock.placeId}/${each.stock.lotId}/${each.insteadOf}/${each.visit === null}`
    const group = groups.get(key)
    if (group) group.push(each)
    else groups.set(key, [each])
  }
  return [...groups.values()].flatMap((group) => {
    const [first] = group
    if (!first) return []
    const { placeId, binCode, walkOrder, lotId, lotNumber, partId, expiresOn } = first.stock
    const quantity = group.reduce((sum, each) => sum + each.quantity, 0)
    const at = { placeId, binCode, walkOrder, lotId, lotNumber, partId, expiresOn }
    return [{ ...at, insteadOf: first.insteadOf, quantity, forPar: first.visit === null, totes: totesOf(group) }]
  })
}

function totesOf(taken: readonly Taken[]): PullLine['totes'] {
  const totes = new Map<number, PullLine['totes'][number]>()
  for (const { visit, quantity } of taken) {
    if (visit === null) continue
    const { visitId, stop } = visit
    totes.set(visitId, { visitId, stop, quantity: quantity + (totes.get(visitId)?.quantity ?? 0) })
  }
  return [...totes.values()].sort((a, b) => a.stop - b.stop || a.visitId - b.visitId)
}

/** The order of the walk; within a bin by part number, then the lot that expires first; what tops the van up after what visits need. */
export function walkOrderOf(partNumbers: ReadonlyMap<PartId, string>): (a: PullLine, b: PullLine) => number {
  return (a, b) =>
    a.walkOrder - b.walkOrder ||
    compare(a.binCode, b.binCode) ||
    compare(partNumbers.get(a.partId) ?? '', partNumbers.get(b.partId) ?? '') ||
    compare(a.expiresOn ?? '9999-12-31', b.expiresOn ?? '9999-12-31') ||
    a.lotId - b.lotId ||
    (a.insteadOf ?? 0) - (b.insteadOf ?? 0) ||
    Number(a.forPar) - Number(b.forPar)
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
