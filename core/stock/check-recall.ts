import type { MovementId } from '../units/ids.ts'
import type { FlowReason, PlaceKind, RecallFigures } from './recall.ts'

/** A movement of the lot as the books have it. */
export interface MovementOfLot {
  readonly movementId: MovementId
  readonly reason: FlowReason | 'correct'
  readonly from: PlaceKind | null
  readonly to: PlaceKind | null
  readonly quantity: number
  readonly correctsId: MovementId | null
}

/**
 * Holds the figures of a recall against the movements, piece by piece, and returns what is wrong in words; nothing when they are
 * right. A mistake and what put it right are both left out; every other piece has to lie, or have gone, exactly once.
 */
export function checkRecallFigures(movements: readonly MovementOfLot[], figures: RecallFigures): string[] {
  const undone = new Set(
    movements.flatMap(({ movementId, correctsId }) => (correctsId === null ? [] : [movementId, correctsId])),
  )
  const standing = movements.filter(({ movementId }) => !undone.has(movementId))
  const heaps: Record<string, number> = {}
  for (const { reason, from, to, quantity } of standing)
    for (let piece = 0; piece < quantity; piece += 1) {
      add(heaps, from ?? `before ${reason}`, -1)
      add(heaps, to ?? `after ${reason}`, 1)
    }
  const came = figures.received + figures.found
  const { inBins, onVans, quarantined, inTransit, fitted, scrapped, toSupplier, missing } = figures
  const accounted = inBins + onVans + quarantined + inTransit + fitted + scrapped + toSupplier + missing
  const complaints = came === accounted ? [] : [`${came} pieces came in, ${accounted} are accounted for.`]
  const expected: Record<string, number> = {
    received: -at(heaps, 'before receive'),
    found: -at(heaps, 'before count'),
    inBins: at(heaps, 'bin'),
    onVans: at(heaps, 'van'),
    quarantined: at(heaps, 'quarantine'),
    inTransit: at(heaps, 'transit'),
    fitted: at(heaps, 'after fit') + at(heaps, 'before return'),
    scrapped: at(heaps, 'after scrap'),
    toSupplier: at(heaps, 'after return'),
    missing: at(heaps, 'after count'),
  }
  for (const [name, said] of Object.entries(figures))
    if (said !== expected[name]) complaints.push(`${name} is said to be ${said}, the movements give ${expected[name]}.`)
  return complaints
}

const at = (heaps: Readonly<Record<string, number>>, heap: string): number => heaps[heap] ?? 0

function add(heaps: Record<string, number>, heap: string, piece: 1 | -1): void {
  heaps[heap] = at(heaps, heap) + piece
}
