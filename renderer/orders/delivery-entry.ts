import type { DeliveredLine, OrderInFull, OrderLineRow } from '../../core/orders/order-shapes.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { type PlaceId, type PurchaseOrderLineId, placeIdSchema } from '../../core/units/ids.ts'
import type { Cents } from '../../core/units/money.ts'

/** A lot of a delivery while it is typed. */
export interface DeliveryEntry {
  /** Tells the entries of a delivery apart. */
  readonly key: number
  readonly lineId: PurchaseOrderLineId
  /** What had come of the line when the entry was begun. */
  readonly seen: number
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly accepted: number | null
  readonly damaged: number | null
  readonly replaced: boolean
  /** Null while nobody chose: the best of what is suggested. */
  readonly place: string | null
  readonly price: Cents | null
  readonly keepPrice: boolean
  readonly furtherDelivery: boolean
}

/** A new entry of a line: all that is still awaited of it, but for what other entries have. */
export function entryOf(line: OrderLineRow, entries: readonly DeliveryEntry[]): DeliveryEntry {
  const own = entries.filter((entry) => entry.lineId === line.lineId)
  const written = own.reduce((sum, entry) => sum + (entry.accepted ?? 0), 0)
  return {
    key: entries.reduce((most, entry) => Math.max(most, entry.key), 0) + 1,
    lineId: line.lineId,
    seen: line.received,
    lot: '',
    expiresOn: null,
    accepted: Math.max(0, line.open - written),
    damaged: null,
    replaced: true,
    place: null,
    price: line.price,
    keepPrice: false,
    furtherDelivery: false,
  }
}

/** The entry as it is received; null while the bin or a figure is missing. `best` is where it goes when nobody chose. */
export function deliveredOf(entry: DeliveryEntry, best: PlaceId | undefined): DeliveredLine | null {
  const { key: _, place, accepted, damaged, price, ...rest } = entry
  const placeId = placeIdSchema.safeParse(Number(place ?? best ?? Number.NaN))
  if (!placeId.success || price === null) return null
  return { ...rest, accepted: accepted ?? 0, damaged: damaged ?? 0, price, placeId: placeId.data }
}

/** Only what was ordered: what is over is taken off the last entries of its line. */
export function withinOrder(entries: readonly DeliveryEntry[], order: OrderInFull): DeliveryEntry[] {
  const left = new Map(order.lines.map((line) => [line.lineId, line.open]))
  return entries.map((entry) => {
    const open = left.get(entry.lineId) ?? 0
    const accepted = Math.min(entry.accepted ?? 0, open)
    left.set(entry.lineId, open - accepted)
    return { ...entry, accepted }
  })
}

export function piecesOf(entries: readonly DeliveryEntry[]): { readonly accepted: number; readonly damaged: number } {
  return {
    accepted: entries.reduce((sum, entry) => sum + (entry.accepted ?? 0), 0),
    damaged: entries.reduce((sum, entry) => sum + (entry.damaged ?? 0), 0),
  }
}
