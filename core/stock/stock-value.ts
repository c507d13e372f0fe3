import type { LotId, PlaceId } from '../units/ids.ts'
import { type Cents, cents, splitCents } from '../units/money.ts'

/** Pieces of a lot that came at one price. */
export interface Delivery {
  readonly lotId: LotId
  readonly pieces: number
  /** A piece. */
  readonly price: Cents
}

/** Pieces of a lot at a place. */
export interface Heap {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
}

export interface ValuedHeap extends Heap {
  readonly value: Cents
}

/**
 * What pieces of one lot have cost: first in, first out. The oldest deliveries are used up first, so that what lies there came with the
 * latest; what is more than all of them brought is the oldest and has the lot's own cost. `deliveries` in the order they came.
 */
export function valueOfLot(pieces: number, deliveries: readonly Delivery[], ownCost: Cents): Cents {
  let left = pieces
  let value = 0
  for (const { pieces: came, price } of [...deliveries].reverse()) {
    const still = Math.min(left, came)
    value += still * price
    left -= still
  }
  return cents(value + left * ownCost)
}

/**
 * What every heap has cost, in the order given. A lot's value is shared out over its places by pieces, to the cent: which of its
 * pieces lie where, nobody can tell. Heaps of a lot need not stand together.
 */
export function valueHeaps(
  heaps: readonly Heap[],
  deliveries: readonly Delivery[],
  ownCost: ReadonlyMap<LotId, Cents>,
): ValuedHeap[] {
  const came = grouped(deliveries)
  const heapsOf = grouped(heaps)
  const shares = new Map<LotId, Cents[]>()
  for (const [lotId, own] of heapsOf) {
    const pieces = own.map((heap) => heap.quantity)
    const value = valueOfLot(
      pieces.reduce((sum, count) => sum + count, 0),
      came.get(lotId) ?? [],
      ownCost.get(lotId) ?? cents(0),
    )
    shares.set(lotId, splitCents(value, pieces))
  }
  const next = new Map<LotId, number>()
  return heaps.map((heap) => {
    const at = next.get(heap.lotId) ?? 0
    next.set(heap.lotId, at + 1)
    return { ...heap, value: shares.get(heap.lotId)?.[at] ?? cents(0) }
  })
}

function grouped<Row extends { readonly lotId: LotId }>(rows: readonly Row[]): Map<LotId, Row[]> {
  const groups = new Map<LotId, Row[]>()
  for (const row of rows) {
    const group = groups.get(row.lotId)
    if (group) group.push(row)
    else groups.set(row.lotId, [row])
  }
  return groups
}
