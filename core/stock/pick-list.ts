import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, PartId, PlaceId, VanId, VisitId } from '../units/ids.ts'
import type { TimeOfDay } from '../units/time-of-day.ts'

/** Pieces of one part that a visit is planned to use. */
export interface VisitNeed {
  readonly partId: PartId
  readonly quantity: number
}

/** A booked visit of the day, as the warehouse sees it. */
export interface PullVisit {
  readonly visitId: VisitId
  readonly vanId: VanId
  /** Its number in the van's driving order, from 1: the number on the tote. */
  readonly stop: number
  /** Days that its latest stage is past due; 0 when nothing is late. */
  readonly daysLate: number
  /** Whether the household was given its word that it will be served that day. */
  readonly promised: boolean
  readonly startsAt: TimeOfDay
  readonly needs: readonly VisitNeed[]
}

export interface PullPart {
  readonly partId: PartId
  readonly partNumber: string
  /** Used at every visit whatever else is done there (O-rings, sanitiser); 0 for most parts. */
  readonly perVisitQuantity: number
  /** Parts that may be fitted in its place, the best first. */
  readonly substitutes: readonly PartId[]
}

/** One lot at one place: what is there, and how much of it is promised to somebody else already. */
export interface StockAtPlace {
  readonly placeId: PlaceId
  /** The van that carries it; null in the warehouse. */
  readonly vanId: VanId | null
  readonly binCode: string
  /** Where the bin lies on the walk through the warehouse. */
  readonly walkOrder: number
  readonly lotId: LotId
  readonly lotNumber: string
  readonly partId: PartId
  readonly expiresOn: CalendarDate | null
  readonly recalled: boolean
  readonly onHand: number
  readonly promised: number
}

export interface PickListInput {
  /** The day the parts are fitted. */
  readonly fittedOn: CalendarDate
  readonly visits: readonly PullVisit[]
  readonly parts: readonly PullPart[]
  readonly stock: readonly StockAtPlace[]
}

/** The pieces of a line that go to one stop. */
export interface Tote {
  readonly visitId: VisitId
  readonly stop: number
  readonly quantity: number
}

/** One reach into one bin (or one look into the van): so many pieces of one lot, shared out over the totes. */
export interface PullLine {
  readonly placeId: PlaceId
  readonly binCode: string
  readonly walkOrder: number
  readonly lotId: LotId
  readonly lotNumber: string
  /** What lies there. */
  readonly partId: PartId
  /** The part that the visits asked for, when this line stands in for it; otherwise null. */
  readonly insteadOf: PartId | null
  readonly expiresOn: CalendarDate | null
  readonly quantity: number
  readonly totes: readonly Tote[]
}

/** What a visit will lack. */
export interface Shortage {
  readonly visitId: VisitId
  readonly stop: number
  readonly partId: PartId
  readonly quantity: number
}

export interface VanPull {
  readonly vanId: VanId
  readonly stops: number
  /** To be pulled from the warehouse, in the order of the walk. */
  readonly lines: readonly PullLine[]
  /** On the van already. */
  readonly aboard: readonly PullLine[]
  readonly shortages: readonly Shortage[]
}

export interface PickList {
  readonly fittedOn: CalendarDate
  readonly vans: readonly VanPull[]
}

/** What a visit needs in all: its own parts and what every visit uses, one entry a part. */
export function needsOfVisit(visit: PullVisit, parts: readonly PullPart[]): VisitNeed[] {
  const wanted = new Map<PartId, number>()
  for (const need of visit.needs) wanted.set(need.partId, (wanted.get(need.partId) ?? 0) + need.quantity)
  for (const part of parts)
    if (part.perVisitQuantity > 0) wanted.set(part.partId, (wanted.get(part.partId) ?? 0) + part.perVisitQuantity)
  return [...wanted].filter(([, quantity]) => quantity > 0).map(([partId, quantity]) => ({ partId, quantity }))
}

/** Whether a lot may be fitted on that day at all: not recalled, not expired by then. */
export function isFittable(
  lot: { readonly expiresOn: CalendarDate | null; readonly recalled: boolean },
  fittedOn: CalendarDate,
): boolean {
  return !lot.recalled && (lot.expiresOn === null || lot.expiresOn >= fittedOn)
}

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
  return { fittedOn: input.fittedOn, vans: vansOf(input, taken, open) }
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
        }))
        .sort((a, b) => compare(numberOf.get(a.partId) ?? '', numberOf.get(b.partId) ?? '') || a.stop - b.stop),
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
    return [{ placeId, binCode, walkOrder, lotId, lotNumber, partId, insteadOf, expiresOn, quantity, totes }]
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

/** Pieces on a list of lines. */
export function piecesOf(lines: readonly { readonly quantity: number }[]): number {
  return lines.reduce((sum, line) => sum + line.quantity, 0)
}
