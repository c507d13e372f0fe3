import type { PartId } from '../units/ids.ts'
import { byFirstExpiry } from './heaps-in-reach.ts'
import { isFittable, type PickListInput, type StockAtPlace } from './pull-shapes.ts'

/**
 * The stock that a day can touch: everything on vans, everything that may not be fitted (it is told), and of the warehouse of each part the lots
 * that expire first, as many as all who could ever draw on them want together. A plan from it is the plan from all stock.
 */
export function enoughStock({ fittedOn, visits, parts, stock, vans }: PickListInput): StockAtPlace[] {
  const wanted = new Map<PartId, number>()
  const want = (partId: PartId, quantity: number) => wanted.set(partId, (wanted.get(partId) ?? 0) + quantity)
  const substitutes = new Map(parts.map((part) => [part.partId, part.substitutes]))
  for (const need of visits.flatMap((visit) => visit.needs))
    for (const partId of [need.partId, ...(substitutes.get(need.partId) ?? [])]) want(partId, need.quantity)
  for (const par of vans.flatMap((van) => van.pars)) want(par.partId, par.quantity)
  const kept: StockAtPlace[] = []
  const inBins = new Map<PartId, StockAtPlace[]>()
  for (const each of stock) {
    const lots = inBins.get(each.partId)
    if (each.vanId !== null || !isFittable(each, fittedOn)) kept.push(each)
    else if (lots) lots.push(each)
    else inBins.set(each.partId, [each])
  }
  for (const [partId, lots] of inBins) {
    let open = wanted.get(partId) ?? 0
    for (const lot of lots.sort(byFirstExpiry)) {
      if (open <= 0) break
      kept.push(lot)
      open -= Math.max(0, lot.onHand - lot.promised)
    }
  }
  return kept
}
