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

/** Pieces by lot and place; a figure may pass through zero and below while it is being added up. */
export type Tally = Map<LotId, Map<PlaceId, number>>

/** Adds movements to a tally, or (`times` -1) takes them back out of it. */
export function tallyUp(tally: Tally, movements: Iterable<Movement>, times: 1 | -1 = 1): Tally {
  for (const { lotId, fromPlaceId, toPlaceId, quantity } of movements) {
    let places = tally.get(lotId)
    if (!places) {
      places = new Map()
      tally.set(lotId, places)
    }
    if (fromPlaceId !== null) places.set(fromPlaceId, (places.get(fromPlaceId) ?? 0) - times * quantity)
    if (toPlaceId !== null) places.set(toPlaceId, (places.get(toPlaceId) ?? 0) + times * quantity)
  }
  return tally
}

/** A tally as balances; places that hold nothing are left out. Order: lot, then place. */
export function balancesOf(tally: Tally): Balance[] {
  const balances: Balance[] = []
  for (const lotId of [...tally.keys()].sort((a, b) => a - b)) {
    const places = [...(tally.get(lotId) ?? [])].filter(([, quantity]) => quantity !== 0).sort(([a], [b]) => a - b)
    for (const [placeId, quantity] of places) balances.push({ lotId, placeId, quantity })
  }
  return balances
}

/** Stock on hand is the sum of the movements. Order: lot, then place. */
export function onHand(movements: Iterable<Movement>): Balance[] {
  return balancesOf(tallyUp(new Map(), movements))
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
