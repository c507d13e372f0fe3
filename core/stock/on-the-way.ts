import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, PlaceId } from '../units/ids.ts'

/** A sending into the way, or an arrival out of it, with where the pieces were bound for. */
export interface Step {
  readonly lotId: LotId
  readonly fromPlaceId: PlaceId | null
  readonly toPlaceId: PlaceId | null
  readonly boundForPlaceId: PlaceId
  readonly quantity: number
  readonly movedOn: CalendarDate
  readonly by: string
}

export interface HeapOnTheWay {
  readonly lotId: LotId
  readonly transitPlaceId: PlaceId
  readonly quantity: number
}

export interface Underway extends HeapOnTheWay {
  /** Null for what lies there though nobody sent it anywhere. */
  readonly boundForPlaceId: PlaceId | null
  readonly sentOn: CalendarDate | null
  readonly by: string
}

/**
 * What of a heap on the way is bound where: sent less arrived, for each place. Never more than lies there; what nobody sent, or is
 * left over after a count, is bound for nowhere. The rows of a heap add up to it.
 */
export function boundFor(heap: HeapOnTheWay, steps: readonly Step[]): Underway[] {
  const waiting = new Map<PlaceId, { quantity: number; sentOn: CalendarDate; by: string }>()
  for (const step of steps) {
    if (step.lotId !== heap.lotId) continue
    const open = waiting.get(step.boundForPlaceId)
    if (step.toPlaceId === heap.transitPlaceId)
      waiting.set(step.boundForPlaceId, {
        quantity: (open?.quantity ?? 0) + step.quantity,
        sentOn: step.movedOn,
        by: step.by,
      })
    else if (step.fromPlaceId === heap.transitPlaceId && open) open.quantity -= step.quantity
  }
  let left = heap.quantity
  const rows: Underway[] = []
  for (const [boundForPlaceId, { quantity, sentOn, by }] of waiting) {
    const pieces = Math.min(left, Math.max(0, quantity))
    if (pieces === 0) continue
    left -= pieces
    rows.push({ ...heap, boundForPlaceId, quantity: pieces, sentOn, by })
  }
  return left === 0 ? rows : [...rows, { ...heap, boundForPlaceId: null, quantity: left, sentOn: null, by: '' }]
}
