import type { PartId, VanId, VisitId } from '../units/ids.ts'
import { chooseVisits, chooseVisitsStepwise } from './choose-visits.ts'
import { HeapsInReach, type NeedInReach } from './heaps-in-reach.ts'
import { linesOf, type Taken, walkOrderOf } from './pull-lines.ts'
import type {
  Lack,
  LosingVisit,
  ParLeftOut,
  PickList,
  PickListInput,
  PullVisit,
  Shortage,
  VanPull,
} from './pull-shapes.ts'
import { ReachFlow } from './reach-flow.ts'
import { type Asking, shareOut } from './share-out.ts'
import { inOneGo, type Stepwise } from './stepwise.ts'
import { planTopUp } from './van-par.ts'

/** What a visit that is not served whole has, and lacks, of one need. */
interface Without {
  readonly each: NeedInReach
  /** Pieces that are not pulled for it. */
  readonly quantity: number
  /** Those of them that are not there. */
  readonly missing: number
}

interface Loser {
  readonly visit: PullVisit
  readonly without: readonly Without[]
  readonly pulledAllTheSame: number
}

/**
 * What to pull for a day. Where everybody can be served that is done at once; where something is short, the set of visits that is worth most is
 * served whole (`choose-visits.ts`) and nothing is pulled for the others, unless that was asked for. Within a list every visit is served
 * from its van first, then from the warehouse by first expiry; a part stands in for another only where its own is used up. What is left
 * tops the vans up.
 */
export function planPickList(input: PickListInput): PickList {
  return inOneGo(planPickListStepwise(input))
}

/** The same, stopping for breath while it weighs who is served. */
export function* planPickListStepwise(input: PickListInput): Stepwise<PickList> {
  const reach = new HeapsInReach(input)
  const asking = [...input.visits].sort(byWindow).map((visit) => ({ visit, needs: reach.needsOf(visit) }))
  const choice = yield* chooseVisitsStepwise({
    pieces: reach.heaps.map((heap) => heap.left),
    visits: asking.map(({ visit, needs }) => ({ worth: visit.worth, wants: needs })),
  })
  const inOrder = (a: Asking, b: Asking) => b.visit.worth - a.visit.worth || byWindow(a.visit, b.visit)
  const whole = asking.filter((_, index) => choice.served[index]).sort(inOrder)
  const taken: Taken[] = shareOut(reach, whole)
  const losers = asking.filter((_, index) => !choice.served[index])
  const allTheSame = input.evenIfShort.flatMap((id) => losers.filter(({ visit }) => visit.visitId === id))
  const pulled = new Map<VisitId, Loser>()
  for (const each of new Set(allTheSame)) pulled.set(each.visit.visitId, pullAllTheSame(reach, each, taken))
  const without = losers.map((each) => pulled.get(each.visit.visitId) ?? goesWithout(reach, each))
  const topUp = topUpVans(input, reach, without, taken)
  return {
    fittedOn: input.fittedOn,
    vans: vansOf(input, taken, without, topUp),
    losers: without.map((loser) => losingVisit(loser, reach, taken, input.visits)).sort(byVanAndStop),
    proved: choice.proved,
  }
}

/** Whether somebody cannot be served whole, whoever that will be: only then it matters what a visit is worth. */
export function isSomethingShort(input: PickListInput): boolean {
  const reach = new HeapsInReach(input)
  const visits = input.visits.map((visit) => ({ worth: 1, wants: reach.needsOf(visit) }))
  return chooseVisits({ pieces: reach.heaps.map((heap) => heap.left), visits }, 0).served.includes(false)
}

/** Earlier in the day first, then the one that was booked first: the order of which equals are preferred. */
function byWindow(a: PullVisit, b: PullVisit): number {
  return a.startsAt - b.startsAt || a.visitId - b.visitId
}

function byVanAndStop(a: LosingVisit, b: LosingVisit): number {
  return a.vanId - b.vanId || a.stop - b.stop || a.visitId - b.visitId
}

/** What is left for a visit when all others have theirs: its needs shared out among what lies there now. */
function whatIsLeftFor(
  reach: HeapsInReach,
  { needs }: Asking,
): { readonly flow: ReachFlow; readonly without: Without[] } {
  const flow = new ReachFlow(reach.heaps.map((heap) => heap.left))
  const without = needs.map((each, index) => {
    const given = flow.give(flow.kind(String(index), each.heaps, each.costs), each.quantity)
    return { each, quantity: each.quantity, missing: each.quantity - given }
  })
  return { flow, without }
}

function goesWithout(reach: HeapsInReach, asking: Asking): Loser {
  return { visit: asking.visit, without: whatIsLeftFor(reach, asking).without, pulledAllTheSame: 0 }
}

/** Gives a visit what there is. */
function pullAllTheSame(reach: HeapsInReach, asking: Asking, taken: Taken[]): Loser {
  const { visit } = asking
  const { flow, without } = whatIsLeftFor(reach, asking)
  let pulledAllTheSame = 0
  for (const [index, { each }] of without.entries())
    for (const [way, pieces] of flow.has(flow.kind(String(index), each.heaps)).entries())
      pulledAllTheSame += reach.take(each.heaps[way] ?? -1, pieces, (stock, quantity) => {
        const insteadOf = stock.partId === each.need.partId ? null : each.need.partId
        taken.push({ stock, visit, quantity, insteadOf })
      })
  const rest = without.flatMap((each) => (each.missing > 0 ? [{ ...each, quantity: each.missing }] : []))
  return { visit, without: rest, pulledAllTheSame }
}

function losingVisit(
  { visit, without, pulledAllTheSame }: Loser,
  reach: HeapsInReach,
  taken: readonly Taken[],
  visits: readonly PullVisit[],
): LosingVisit {
  const { visitId, vanId, stop, worth } = visit
  const worths = new Map(visits.map((each) => [each.visitId, each.worth]))
  const lacks = new Map<PartId, Lack>()
  for (const { each, missing } of without) {
    if (missing === 0) continue
    const { partId } = each.need
    const inReach = new Set(each.heaps.map((heap) => reach.heaps[heap]))
    const others = new Map<VisitId, number>()
    for (const { stock, visit: holder, quantity } of taken)
      if (holder && holder.visitId !== visitId && inReach.has(reach.heaps[reach.find(stock.partId, stock.vanId) ?? -1]))
        others.set(holder.visitId, (others.get(holder.visitId) ?? 0) + quantity)
    const servedInstead = [...others]
      .map(([id, quantity]) => ({ visitId: id, quantity }))
      .sort((a, b) => (worths.get(b.visitId) ?? 0) - (worths.get(a.visitId) ?? 0) || a.visitId - b.visitId)
    const before = lacks.get(partId)
    lacks.set(partId, {
      partId,
      missing: missing + (before?.missing ?? 0),
      servedInstead:
        (before?.servedInstead.length ?? 0) > servedInstead.length ? (before?.servedInstead ?? []) : servedInstead,
    })
  }
  const couldHave = without.reduce((sum, each) => sum + each.quantity - each.missing, 0)
  return { visitId, vanId, stop, worth, lacks: [...lacks.values()], pulledAllTheSame, couldHave }
}

interface ToppedUp {
  readonly taken: ReadonlyMap<VanId, number>
  readonly leftOut: readonly (ParLeftOut & { readonly vanId: VanId })[]
}

/** Tops the vans up from what no visit needs, not even one that goes without today. */
function topUpVans(input: PickListInput, reach: HeapsInReach, losers: readonly Loser[], taken: Taken[]): ToppedUp {
  const kept = new Map<PartId, number>()
  const keep = (partId: PartId, quantity: number) => kept.set(partId, (kept.get(partId) ?? 0) + quantity)
  for (const { each, quantity } of losers.flatMap((loser) => loser.without)) {
    keep(each.need.partId, quantity)
    if (!each.need.ownPartOnly) for (const other of reach.substitutesOf(each.need.partId)) keep(other, quantity)
  }
  const room = new Map(input.parts.map((part) => [part.partId, part.spaceMillilitres ?? 0]))
  const loaded = new Map<VanId, number>()
  for (const { stock, visit, quantity } of taken)
    if (stock.vanId === null && visit)
      loaded.set(visit.vanId, (loaded.get(visit.vanId) ?? 0) + quantity * (room.get(stock.partId) ?? 0))
  const {
    topUps,
    leftOut,
    taken: full,
  } = planTopUp({
    vans: input.vans.map((van) => ({ ...van, takenMillilitres: van.takenMillilitres + (loaded.get(van.vanId) ?? 0) })),
    staysOn: (vanId, partId) => reach.left(partId, vanId),
    spare: (partId) => Math.max(0, reach.left(partId, null) - (kept.get(partId) ?? 0)),
    roomOf: (partId) => room.get(partId) ?? 0,
  })
  for (const { vanId, partId, quantity } of topUps)
    reach.take(reach.find(partId, null) ?? -1, quantity, (stock, pieces) => {
      taken.push({ stock, visit: null, vanId, quantity: pieces, insteadOf: null })
    })
  return { taken: full, leftOut }
}

function vansOf(input: PickListInput, taken: readonly Taken[], losers: readonly Loser[], topUp: ToppedUp): VanPull[] {
  const vanIds = new Set([...input.visits.map((visit) => visit.vanId), ...input.vans.map((van) => van.vanId)])
  const numbers = new Map(input.parts.map((part) => [part.partId, part.partNumber]))
  const order = walkOrderOf(numbers)
  return [...vanIds]
    .sort((a, b) => a - b)
    .map((vanId) => {
      const own = taken.filter((each) => (each.visit?.vanId ?? each.vanId) === vanId)
      const van = input.vans.find((each) => each.vanId === vanId)
      return {
        vanId,
        stops: input.visits.filter((visit) => visit.vanId === vanId).length,
        lines: linesOf(own.filter((each) => each.stock.vanId === null)).sort(order),
        aboard: linesOf(own.filter((each) => each.stock.vanId !== null)).sort(order),
        shortages: losers
          .filter(({ visit }) => visit.vanId === vanId)
          .flatMap(shortagesOf)
          .sort((a, b) => compare(numbers.get(a.partId) ?? '', numbers.get(b.partId) ?? '') || a.stop - b.stop),
        room:
          van && van.roomMillilitres !== null ? { has: van.roomMillilitres, taken: topUp.taken.get(vanId) ?? 0 } : null,
        parLeftOut: topUp.leftOut
          .filter((each) => each.vanId === vanId)
          .map(({ partId, quantity, why }) => ({ partId, quantity, why })),
      }
    })
}

function shortagesOf({ visit, without }: Loser): Shortage[] {
  const shortages = new Map<PartId, Shortage>()
  for (const { each, quantity, missing } of without) {
    const { partId } = each.need
    const before = shortages.get(partId)
    shortages.set(partId, {
      visitId: visit.visitId,
      stop: visit.stop,
      partId,
      quantity: quantity + (before?.quantity ?? 0),
      missing: missing + (before?.missing ?? 0),
    })
  }
  return [...shortages.values()]
}

function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0
}
