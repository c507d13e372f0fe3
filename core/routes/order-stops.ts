import type { TimeOfDay } from '../units/time-of-day.ts'

/** One stop as the order sees it: when someone may arrive, and how long the work takes. */
export interface StopToOrder {
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly onSiteMinutes: number
}

export interface StopsToOrder {
  readonly stops: readonly StopToOrder[]
  /** Minutes from point i to point j. Point 0 is the depot, point k the k-th stop counted from one. */
  readonly drive: readonly (readonly number[])[]
  readonly leavesAt: TimeOfDay
}

/** When the work at a stop begins and ends; minutes since midnight, and may run past it on a hopeless day. */
export interface StopTimes {
  /** Index into `stops`. */
  readonly stop: number
  readonly driveMinutes: number
  readonly arrivesAt: number
  readonly waitsMinutes: number
  readonly lateMinutes: number
  readonly leavesAt: number
}

export interface OrderedStops {
  readonly times: readonly StopTimes[]
  readonly driveMinutes: number
  readonly lateMinutes: number
  readonly backAt: number
}

/** A minute late at a door weighs as much as this many minutes at the wheel. */
export const LATE_WEIGHS = 20

/** Follows an order through the day. Who arrives before the window waits for it. */
export function timesOf(day: StopsToOrder, order: readonly number[]): OrderedStops {
  const times: StopTimes[] = []
  let now: number = day.leavesAt
  let at = 0
  let driving = 0
  let late = 0
  for (const stop of order) {
    const facts = day.stops[stop]
    if (!facts) throw new RangeError(`No stop ${stop}`)
    const leg = legOf(day, at, stop + 1)
    const reached = now + leg
    const arrivesAt = Math.max(reached, facts.windowFrom)
    const lateMinutes = Math.max(0, arrivesAt - facts.windowUntil)
    now = arrivesAt + facts.onSiteMinutes
    times.push({
      stop,
      driveMinutes: leg,
      arrivesAt,
      waitsMinutes: arrivesAt - reached,
      lateMinutes,
      leavesAt: now,
    })
    driving += leg
    late += lateMinutes
    at = stop + 1
  }
  const home = order.length === 0 ? 0 : legOf(day, at, 0)
  return { times, driveMinutes: driving + home, lateMinutes: late, backAt: now + home }
}

/** What an order costs: driving, and lateness much more. The time of coming home breaks ties, so that nobody waits for nothing. */
export function costOf(day: StopsToOrder, order: readonly number[]): number {
  const { driveMinutes, lateMinutes, backAt } = timesOf(day, order)
  return driveMinutes + lateMinutes * LATE_WEIGHS + backAt / 10_000
}

/**
 * The stops in an order that somebody made by hand, which is kept; the rest (booked since) are put in one by one where each costs least.
 * `keepOrder(day, [2, 0])` of four stops keeps 2 before 0.
 */
export function keepOrder(day: StopsToOrder, byHand: readonly number[]): OrderedStops {
  let order = [...byHand]
  for (const stop of [...day.stops.keys()].filter((one) => !byHand.includes(one))) {
    const places = Array.from({ length: order.length + 1 }, (_, place) => order.toSpliced(place, 0, stop))
    order = places.reduce((best, each) => (costOf(day, each) < costOf(day, best) ? each : best))
  }
  return timesOf(day, order)
}

/**
 * A sensible driving order: begins with the nearest neighbour among those whose window opens first, then turns
 * stretches round (2-opt) and moves single stops until neither helps. Good, not proven best.
 */
export function orderStops(day: StopsToOrder): OrderedStops {
  return timesOf(day, improved(day, nearestFirst(day)))
}

function nearestFirst(day: StopsToOrder): number[] {
  const left = new Set(day.stops.keys())
  const order: number[] = []
  while (left.size > 0) {
    const times = timesOf(day, order)
    const at = (order.at(-1) ?? -1) + 1
    const now = times.times.at(-1)?.leavesAt ?? day.leavesAt
    let best = -1
    let bestKey = Number.POSITIVE_INFINITY
    for (const stop of left) {
      const opens = day.stops[stop]?.windowFrom ?? 0
      const reached = now + legOf(day, at, stop + 1)
      const key = Math.max(reached, opens)
      if (key < bestKey) {
        best = stop
        bestKey = key
      }
    }
    order.push(best)
    left.delete(best)
  }
  return order
}

function improved(day: StopsToOrder, start: readonly number[]): number[] {
  let order = [...start]
  let cost = costOf(day, order)
  for (;;) {
    const better = firstBetterNeighbour(day, order, cost)
    if (better === null) return order
    order = better.order
    cost = better.cost
  }
}

function firstBetterNeighbour(
  day: StopsToOrder,
  order: readonly number[],
  cost: number,
): { order: number[]; cost: number } | null {
  for (const candidate of neighboursOf(order)) {
    const candidateCost = costOf(day, candidate)
    if (candidateCost < cost - 1e-9) return { order: candidate, cost: candidateCost }
  }
  return null
}

/** Every order reached by turning one stretch round, or by moving one stop elsewhere. */
export function* neighboursOf(order: readonly number[]): Generator<number[]> {
  for (let first = 0; first < order.length - 1; first += 1)
    for (let last = first + 1; last < order.length; last += 1)
      yield [...order.slice(0, first), ...order.slice(first, last + 1).reverse(), ...order.slice(last + 1)]
  for (const [from, stop] of order.entries()) {
    const rest = order.toSpliced(from, 1)
    for (let to = 0; to <= rest.length; to += 1) if (to !== from) yield rest.toSpliced(to, 0, stop)
  }
}

function legOf(day: StopsToOrder, from: number, to: number): number {
  const leg = day.drive[from]?.[to]
  if (leg === undefined) throw new RangeError(`No driving time from ${from} to ${to}`)
  return leg
}
