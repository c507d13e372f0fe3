import { ok, type Result, refused } from '../result.ts'
import { type Cents, cents } from '../units/money.ts'
import type { Movement } from './ledger.ts'

/** A counted heap: what was found, what the books said at that moment, and what they say and have promised now. */
export interface CountedHeap extends Pick<Movement, 'lotId'> {
  readonly placeId: NonNullable<Movement['toPlaceId']>
  readonly counted: number
  readonly booksSaid: number
  readonly booksNow: number
  readonly promised: number
  /** A piece of the lot. */
  readonly cost: Cents
}

export interface CountDifference {
  /** Counted less what the books said when it was counted. */
  readonly difference: number
  readonly value: Cents
  /** What came or went by the books after the count. */
  readonly movedSince: number
  /** What the books will say: the count, and what moved since. Below zero when that cannot be. */
  readonly willBe: number
  /** Promised pieces that will not be there. */
  readonly lacking: number
}

/** The difference stands against the books of the moment of counting; whatever moved since is kept. */
export function countDifference(heap: CountedHeap): CountDifference {
  const difference = heap.counted - heap.booksSaid
  const willBe = heap.booksNow + difference
  return {
    difference,
    value: cents(difference * heap.cost),
    movedSince: heap.booksNow - heap.booksSaid,
    willBe,
    lacking: Math.max(0, heap.promised - Math.max(0, willBe)),
  }
}

/** The movement that brings the difference into the books; null when there is none. Refused when more left since than was there by the count. */
export function movementOfDifference(
  heap: CountedHeap,
  words: { readonly place: string; readonly lot: string },
): Result<Movement | null> {
  const { difference, willBe, movedSince } = countDifference(heap)
  if (willBe < 0) return refused('COUNT_OVERTAKEN', { ...words, counted: heap.counted, left: -movedSince })
  if (difference === 0) return ok(null)
  const { lotId, placeId } = heap
  return ok(
    difference > 0
      ? { lotId, fromPlaceId: null, toPlaceId: placeId, quantity: difference }
      : { lotId, fromPlaceId: placeId, toPlaceId: null, quantity: -difference },
  )
}
