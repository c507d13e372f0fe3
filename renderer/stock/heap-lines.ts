import { readHeaps, readLots } from '../../core/stock/on-hand-on.ts'
import type { OnHand } from '../../core/stock/stock-contract.ts'
import type { CalendarDate } from '../../core/units/calendar-date.ts'
import { type Cents, cents } from '../../core/units/money.ts'

/** Pieces of a lot at a place, with their names. */
export interface HeapLine {
  readonly key: string
  readonly part: string
  readonly number: string
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly place: string
  readonly kind: OnHand['places'][number]['kind']
  readonly quantity: number
  readonly value: Cents
}

/** The heaps of an answer by part, first expiry, lot and walk. */
export function heapLines(onHand: OnHand): HeapLine[] {
  const parts = new Map(onHand.parts.map((part, rank) => [part.partId, { ...part, rank }]))
  const places = new Map(onHand.places.map((place, rank) => [place.placeId, { ...place, rank }]))
  const lots = new Map(readLots(onHand.lots).map((lot) => [lot.lotId, lot]))
  const rows = readHeaps(onHand.heaps).flatMap(({ lotId, placeId, quantity }) => {
    const [lot, place] = [lots.get(lotId), places.get(placeId)]
    const part = lot && parts.get(lot.partId)
    return lot && place && part ? [{ lot, place, part, quantity }] : []
  })
  rows.sort(
    (a, b) =>
      a.part.rank - b.part.rank ||
      byText(a.lot.expiresOn ?? '9999', b.lot.expiresOn ?? '9999') ||
      a.lot.lotId - b.lot.lotId ||
      a.place.rank - b.place.rank,
  )
  return rows.map(({ lot, place, part, quantity }) => ({
    key: `${lot.lotId}/${place.placeId}`,
    part: part.name,
    number: part.number,
    lot: lot.recalled ? `${lot.lot} (recalled)` : lot.lot,
    expiresOn: lot.expiresOn,
    place: place.name,
    kind: place.kind,
    quantity,
    value: cents(quantity * lot.cost),
  }))
}

const byText = (a: string, b: string): number => (a < b ? -1 : a > b ? 1 : 0)
