import type { LotId, PlaceId } from '../units/ids.ts'

/** One lot at one place: what is there, and what is promised of it. */
export interface PromisedHeap {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly onHand: number
  readonly promised: number
}

/** The judge of promises: complaints about every heap of which more is promised than lies there; none when nothing is promised twice. */
export function checkPromises(heaps: readonly PromisedHeap[]): string[] {
  return heaps
    .filter((heap) => heap.promised > heap.onHand)
    .map(({ lotId, placeId, promised, onHand }) => `lot ${lotId} at ${placeId}: ${promised} promised of ${onHand}`)
}
