export { type PullLine, piecesOf } from './pull-shapes.ts'

import type { PartId } from '../units/ids.ts'
import {
  isFittable,
  needsOfVisit,
  type PickList,
  type PickListInput,
  type PullLine,
  type PullVisit,
  type StockAtPlace,
  type VanPull,
} from './pull-shapes.ts'

/** First expired first out; lots that never expire last; then the nearer bin. */
export function byFirstExpiry(a: StockAtPlace, b: StockAtPlace): number {
  return (
    compare(a.expiresOn ?? '9999-12-31', b.expiresOn ?? '9999-12-31') ||
    a.walkOrder - b.walkOrder ||
    compare(a.binCode, b.binCode) ||
    a.lotId - b.lotId ||
    a.placeId - b.placeId
  )
}

/** The latest first, then those who have our word, then by time of day. */
export function byPriority(a: PullVisit, b: PullVisit): number {
  return (
    b.daysLate - a.daysLate ||
    Number(b.promised) - Number(a.promised) ||
    a.startsAt - b.startsAt ||
    a.visitId - b.visitId
  )
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}

interface Shelf {
  readonly stock: StockAtPlace
  left: number
}

interface OpenNeed {
  readonly visit: PullVisit
  readonly partId: PartId
  left: number
}

interface Taken {
  readonly stock: StockAtPlace
  readonly visit: PullVisit
  readonly quantity: number
  readonly insteadOf: PartId | null
}

/**
 * What to pull for a day. Visits are served in order of priority; a visit is served from its van first, then from the warehouse
 * by first expiry. Substitutes come in a second round, when every visit has had its own part, so that no visit loses its
 * own part to somebody else's makeshift. Which visits to serve whole when a part is short is not weighed here.
 */
export function planPickList(input: PickListInput): PickList {
  const shelves = shelvesByPart(input)
  const substitutesOf = new Map(input.parts.map((part) => [part.partId, part.substitutes]))
  const open: OpenNeed[] = [...input.visits]
    .sort(byPriority)
    .flatMap((visit) =>
      needsOfVisit(visit, input.parts).map((need) => ({ visit, partId: need.partId, left: need.quantity })),
    )
  const taken: Taken[] = []
  for (const need of open) take(need, shelves.get(need.partId) ?? [], null, taken)
  for (const need of open)
    for (const substitute of substitutesOf.get(need.partId) ?? [])
      take(need, shelves.get(substitute) ?? [], need.partId, taken)
  return { fittedOn: input.fittedOn, vans: vansOf(input, taken, open), losers: [], proved: true }
}

function shelvesByPart(input: PickListInput): Map<PartId, Shelf[]> {
  const shelves = new Map<PartId, Shelf[]>()
  for (const stock of [...input.stock].sort(byFirstExpiry)) {
    const left = stock.onHand - stock.promised
    if (left <= 0 || !isFittable(stock, input.fittedOn)) continue
    const ofPart = shelves.get(stock.partId)
    if (ofPart) ofPart.push({ stock, left })
    else shelves.set(stock.partId, [{ stock, left }])
  }
  return shelves
}

/** Takes what the need still lacks: from the visit's own van, then from the warehouse; never from another van. */
function take(need: OpenNeed, shelves: readonly Shelf[], insteadOf: PartId | null, taken: Taken[]): void {
  const inReach = [
    ...shelves.filter((shelf) => shelf.stock.vanId === need.visit.vanId),
    ...shelves.filter((shelf) => shelf.stock.vanId === null),
  ]
  for (const shelf of inReach) {
    const quantity = Math.min(need.left, shelf.left)
    if (quantity <= 0) continue
    shelf.left -= quantity
    need.left -= quantity
    taken.push({ stock: shelf.stock, visit: need.visit, quantity, insteadOf })
  }
}

function vansOf(input: PickListInput, taken: readonly Taken[], open: readonly OpenNeed[]): VanPull[] {
  const vanIds = [...new Set(input.visits.map((visit) => visit.vanId))].sort((a, b) => a - b)
  const numberOf = new Map(input.parts.map((part) => [part.partId, part.partNumber]))
  const order = walkOrderOf(numberOf)
  return vanIds.map((vanId) => {
    const lines = linesOf(taken.filter((each) => each.visit.vanId === vanId)).sort(order)
    const aboardPlaces = new Set(input.stock.filter((each) => each.vanId === vanId).map((each) => each.placeId))
    return {
      vanId,
      stops: input.visits.filter((visit) => visit.vanId === vanId).length,
      lines: lines.filter((line) => !aboardPlaces.has(line.placeId)),
      aboard: lines.filter((line) => aboardPlaces.has(line.placeId)),
      shortages: open
        .filter((need) => need.left > 0 && need.visit.vanId === vanId)
        .map((need) => ({
          visitId: need.visit.visitId,
          stop: need.visit.stop,
          partId: need.partId,
          quantity: need.left,
          missing: need.left,
        }))
        .sort((a, b) => compare(numberOf.get(a.partId) ?? '', numberOf.get(b.partId) ?? '') || a.stop - b.stop),
      room: null,
      parLeftOut: [],
    }
  })
}

/** One line a place, lot and part asked for, its totes in stop order. */
function linesOf(taken: readonly Taken[]): PullLine[] {
  const groups = new Map<string, Taken[]>()
  for (const each of taken) {
    const key = `${each.stock.placeId}/${each.stock.lotId}/${each.insteadOf}`
    const group = groups.get(key)
    if (group) group.push(each)
    else groups.set(key, [each])
  }
  return [...groups.values()].flatMap((group) => {
    const first = group[0]
    if (!first) return []
    const { stock, insteadOf } = first
    const totes = group
      .map(({ visit, quantity: pieces }) => ({ visitId: visit.visitId, stop: visit.stop, quantity: pieces }))
      .sort((a, b) => a.stop - b.stop || a.visitId - b.visitId)
    const { placeId, binCode, walkOrder, lotId, lotNumber, partId, expiresOn } = stock
    const quantity = group.reduce((sum, each) => sum + each.quantity, 0)
    return [
      { placeId, binCode, walkOrder, lotId, lotNumber, partId, insteadOf, expiresOn, quantity, forPar: false, totes },
    ]
  })
}

/** The order of the walk; within a bin by part number, then the lot that expires first. */
export function walkOrderOf(partNumbers: ReadonlyMap<PartId, string>): (a: PullLine, b: PullLine) => number {
  return (a, b) =>
    a.walkOrder - b.walkOrder ||
    compare(a.binCode, b.binCode) ||
    compare(partNumbers.get(a.partId) ?? '', partNumbers.get(b.partId) ?? '') ||
    compare(a.expiresOn ?? '9999-12-31', b.expiresOn ?? '9999-12-31') ||
    a.lotId - b.lotId ||
    (a.insteadOf ?? 0) - (b.insteadOf ?? 0)
}
