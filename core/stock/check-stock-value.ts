import type { LotId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import { formatCents } from '../units/money.ts'
import type { Delivery, Heap, ValuedHeap } from './stock-value.ts'

/**
 * The judge of a stock value, piece by piece: a queue of every piece a lot ever had, the oldest taken out until as many are left as lie
 * there. Complaints in words; none when all is well.
 */
export function checkStockValue(
  heaps: readonly Heap[],
  deliveries: readonly Delivery[],
  ownCost: ReadonlyMap<LotId, Cents>,
  valued: readonly ValuedHeap[],
): string[] {
  const complaints: string[] = []
  if (valued.length !== heaps.length) complaints.push(`${heaps.length} heaps, but ${valued.length} have a value.`)
  for (const [at, heap] of heaps.entries()) {
    const found = valued[at]
    if (found?.lotId !== heap.lotId || found.placeId !== heap.placeId || found.quantity !== heap.quantity)
      complaints.push(`Heap ${at} is another than before.`)
  }
  for (const lotId of new Set(heaps.map((heap) => heap.lotId))) {
    const own = valued.filter((heap) => heap.lotId === lotId)
    const pieces = own.reduce((sum, heap) => sum + heap.quantity, 0)
    const worth = queueOf(lotId, pieces, deliveries, ownCost).reduce((sum, price) => sum + price, 0)
    const said = own.reduce((sum, heap) => sum + heap.value, 0)
    if (said !== worth) complaints.push(`Lot ${lotId} is worth ${worth}, not ${said}.`)
    for (const heap of own)
      if (Math.abs(heap.value - (worth * heap.quantity) / pieces) >= 1)
        complaints.push(
          `Lot ${lotId} at place ${heap.placeId} is off its share: ${formatCents(heap.value, 'USD', 'en-US')}.`,
        )
  }
  return complaints
}

function queueOf(
  lotId: LotId,
  pieces: number,
  deliveries: readonly Delivery[],
  ownCost: ReadonlyMap<LotId, Cents>,
): number[] {
  const queue: number[] = []
  for (const delivery of deliveries)
    if (delivery.lotId === lotId) for (let n = 0; n < delivery.pieces; n++) queue.push(delivery.price)
  while (queue.length > pieces) queue.shift()
  while (queue.length < pieces) queue.unshift(ownCost.get(lotId) ?? 0)
  return queue
}
