import type { PlaceId } from '../units/ids.ts'

/** A bin as the walk sees it. */
export interface WalkBin {
  readonly placeId: PlaceId
  readonly name: string
  readonly aisle: string
}

/** An aisle with its bins in the order they are passed. Bins without an aisle are one of their own, with an empty name. */
export interface WalkAisle {
  readonly aisle: string
  readonly bins: readonly WalkBin[]
}

/** The walk by aisles, from bins in the order of the walk: an aisle stands where its first bin is passed, and is walked in one go. */
export function aislesOf(bins: readonly WalkBin[]): WalkAisle[] {
  const aisles = new Map<string, WalkBin[]>()
  for (const bin of bins) aisles.set(bin.aisle, [...(aisles.get(bin.aisle) ?? []), bin])
  return [...aisles].map(([aisle, inIt]) => ({ aisle, bins: inIt }))
}

/** Steps between two bins, so that a new one finds room. */
const STEP = 10

/** Where each bin comes in the walk: 10, 20, 30 and so on. */
export function walkOrders(aisles: readonly WalkAisle[]): Map<PlaceId, number> {
  return new Map(aisles.flatMap((aisle) => aisle.bins).map((bin, place) => [bin.placeId, (place + 1) * STEP]))
}

/** The same with one moved to another place; as it was where there is no such place. */
export function moved<One>(list: readonly One[], from: number, to: number): One[] {
  const [one] = list.slice(from, from + 1)
  if (one === undefined || from < 0 || to < 0 || to >= list.length || from === to) return [...list]
  const rest = list.filter((_, place) => place !== from)
  return [...rest.slice(0, to), one, ...rest.slice(to)]
}

/** An aisle walked from its other end. */
export const turned = (aisle: WalkAisle): WalkAisle => ({ ...aisle, bins: aisle.bins.toReversed() })

/** Up the first aisle, down the second and so on: every aisle by the names of its bins, every second one from its other end. */
export function upAndDown(aisles: readonly WalkAisle[]): WalkAisle[] {
  const byName = new Intl.Collator('en', { numeric: true })
  return aisles.map((aisle, place) => {
    const up = { ...aisle, bins: aisle.bins.toSorted((a, b) => byName.compare(a.name, b.name)) }
    return place % 2 === 0 ? up : turned(up)
  })
}

/** Where a new bin comes: behind the last of its aisle, at the end of the walk when it is the aisle's first. */
export function placeOfNewBin(
  bins: readonly { readonly aisle: string; readonly walkOrder: number }[],
  aisle: string,
): number {
  const inIt = bins.filter((bin) => bin.aisle === aisle)
  const last = (some: readonly { readonly walkOrder: number }[]): number =>
    Math.max(0, ...some.map((bin) => bin.walkOrder))
  return inIt.length > 0 ? last(inIt) + 1 : last(bins) + STEP
}
