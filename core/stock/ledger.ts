import { ok, type Result, refused } from '../result.ts'
import type { LotId, PlaceId } from '../units/ids.ts'

/** One change of stock: so many pieces of a lot from one place to another. No place means outside the house. */
export interface Movement {
  readonly lotId: LotId
  readonly fromPlaceId: PlaceId | null
  readonly toPlaceId: PlaceId | null
  /** Whole and above zero. */
  readonly quantity: number
}

/** Pieces of one lot at one place. */
export interface Balance {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
}

/** Stock on hand is the sum of the movements; places that hold nothing are left out. Order: lot, then place. */
export function onHand(movements: readonly Movement[]): Balance[] {
  const sums = new Map<string, Balance>()
  const add = (lotId: LotId, placeId: PlaceId | null, quantity: number) => {
    if (placeId === null) return
    const key = `${lotId}/${placeId}`
    sums.set(key, { lotId, placeId, quantity: (sums.get(key)?.quantity ?? 0) + quantity })
  }
  for (const { lotId, fromPlaceId, toPlaceId, quantity } of movements) {
    add(lotId, fromPlaceId, -quantity)
    add(lotId, toPlaceId, quantity)
  }
  return [...sums.values()]
    .filter((balance) => balance.quantity !== 0)
    .sort((a, b) => a.lotId - b.lotId || a.placeId - b.placeId)
}

/** What undoes a movement: the same pieces back the way they came. */
export function counterMovement(movement: Movement): Movement {
  return { ...movement, fromPlaceId: movement.toPlaceId, toPlaceId: movement.fromPlaceId }
}

/** What was counted at a place, beside what the books say. */
export interface Count extends Balance {
  readonly counted: number
}

/**
 * The movement that makes the books say what was counted: pieces found come in from outside, pieces missing go out.
 * Null when the count agrees. Refused for a count below zero or of broken pieces.
 */
export function movementOfCount(count: Count): Result<Movement | null> {
  const { lotId, placeId, quantity, counted } = count
  if (!Number.isSafeInteger(counted) || counted < 0) return refused('STOCK_COUNT_NOT_WHOLE', { counted })
  const difference = counted - quantity
  if (difference === 0) return ok(null)
  return ok(
    difference > 0
      ? { lotId, fromPlaceId: null, toPlaceId: placeId, quantity: difference }
      : { lotId, fromPlaceId: placeId, toPlaceId: null, quantity: -difference },
  )
}
