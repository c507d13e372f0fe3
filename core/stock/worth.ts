import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import type { LotId, PartId, PlaceId } from '../units/ids.ts'
import { type Cents, cents, NO_MONEY, splitCents } from '../units/money.ts'
import { daysOfCover } from './days-of-cover.ts'
import { type LotOutlook, outlookOfLots } from './expiring-lots.ts'
import { fillRate, type PullRecord } from './fill-rate.ts'
import { daysAtRest } from './slow-movers.ts'
import { type Delivery, type Heap, type ValuedHeap, valueHeaps } from './stock-value.ts'
import type { ExpiringLot, PartWorth, PlaceWorth, Worth } from './worth-shapes.ts'

export interface WorthLot {
  readonly lotId: LotId
  readonly partId: PartId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly receivedOn: CalendarDate
  readonly recalledOn: CalendarDate | null
  /** What a piece has cost where no delivery says otherwise. */
  readonly cost: Cents
}

export interface WorthInput {
  readonly on: CalendarDate
  readonly today: CalendarDate
  readonly restAfterDays: number
  /** Lots that expire within so many days are looked at. */
  readonly expiryDays: number
  readonly fillSince: CalendarDate
  readonly parts: readonly {
    readonly partId: PartId
    readonly number: string
    readonly name: string
    readonly closed: boolean
  }[]
  readonly lots: readonly WorthLot[]
  readonly places: readonly { readonly placeId: PlaceId; readonly name: string; readonly kind: PlaceWorth['kind'] }[]
  readonly heaps: readonly Heap[]
  readonly deliveries: readonly Delivery[]
  readonly usedOn: ReadonlyMap<PartId, CalendarDate>
  /** Pieces to be expected by day from today on; null on a day that is past, when nobody knows any more. */
  readonly use: ((partId: PartId) => Float64Array) | null
  readonly pulls: readonly PullRecord[]
}

type Figures = Omit<Worth, 'sentences'>

interface LyingHeap extends ValuedHeap {
  readonly lot: WorthLot
  readonly kind: PlaceWorth['kind']
}

/** What the stock is worth and how it stands, by part, place and lot; without the sentences. Parts by name, places in the order given. */
export function worth(input: WorthInput): Figures {
  const { on, today, restAfterDays, fillSince } = input
  const heaps = lyingHeaps(input)
  const outlooks = outlooksByLot(input, heaps)
  const parts = partsWorth(input, heaps)
  const expiring = expiringLots(input, heaps, outlooks)
  return {
    on,
    isToday: on === today,
    restAfterDays,
    value: sumOf(parts, (part) => part.value),
    inBins: sumOf(parts, (part) => part.inBins),
    onVans: sumOf(parts, (part) => part.onVans),
    elsewhere: sumOf(parts, (part) => part.elsewhere),
    lost: sumOf(parts, (part) => part.lost),
    resting: restingOf(parts),
    // What is past its date is lost already, and told as that
    atRisk: sumOf(
      expiring.filter((lot) => lot.expiresOn >= today),
      (lot) => lot.atRisk,
    ),
    fill: { since: fillSince, ...fillRate(input.pulls) },
    parts,
    places: placesWorth(input, heaps),
    expiring,
  }
}

/** The same stock, with another number of days after which a part counts as resting. */
export function restingAfter(figures: Figures, restAfterDays: number): Figures {
  const parts = figures.parts.map((part) => ({ ...part, rests: isAtRest(part.restDays, restAfterDays) }))
  return { ...figures, restAfterDays, parts, resting: restingOf(parts) }
}

const isAtRest = (restDays: number | null, after: number): boolean => restDays !== null && restDays >= after
const restingOf = (parts: readonly PartWorth[]): Cents =>
  sumOf(
    parts.filter((part) => part.rests),
    (part) => part.value,
  )

function lyingHeaps({ heaps, deliveries, lots, places }: WorthInput): LyingHeap[] {
  const lotOf = new Map(lots.map((lot) => [lot.lotId, lot]))
  const kindOf = new Map(places.map((place) => [place.placeId, place.kind]))
  const costs = new Map(lots.map((lot) => [lot.lotId, lot.cost]))
  return valueHeaps(heaps, deliveries, costs).flatMap((heap) => {
    const lot = lotOf.get(heap.lotId)
    const kind = kindOf.get(heap.placeId)
    return lot && kind ? [{ ...heap, lot, kind }] : []
  })
}

const isAtHand = (heap: LyingHeap): boolean => heap.kind === 'bin' || heap.kind === 'van'
const isRecalled = (heap: LyingHeap, on: CalendarDate): boolean =>
  heap.lot.recalledOn !== null && heap.lot.recalledOn <= on
const isPast = (heap: LyingHeap, on: CalendarDate): boolean => heap.lot.expiresOn !== null && heap.lot.expiresOn < on
const isLost = (heap: LyingHeap, on: CalendarDate): boolean => isRecalled(heap, on) || isPast(heap, on)

function partsWorth(input: WorthInput, heaps: readonly LyingHeap[]): PartWorth[] {
  const heapsOf = grouped(heaps, (heap) => heap.lot.partId)
  const pullsOf = grouped(input.pulls, (pull) => pull.partId)
  return input.parts
    .map((part) => partWorth(input, part, heapsOf.get(part.partId) ?? [], pullsOf.get(part.partId) ?? []))
    .filter((row, at) => row.pieces > 0 || row.asked > 0 || !input.parts[at]?.closed)
    .sort((a, b) => (a.name < b.name ? -1 : a.name > b.name ? 1 : 0) || a.partId - b.partId)
}

function partWorth(
  { on, restAfterDays, usedOn, use }: WorthInput,
  { partId, number, name }: WorthInput['parts'][number],
  heaps: readonly LyingHeap[],
  pulls: readonly PullRecord[],
): PartWorth {
  const pieces = piecesOf(heaps)
  const usable = piecesOf(heaps.filter((heap) => isAtHand(heap) && !isLost(heap, on)))
  const used = usedOn.get(partId) ?? null
  const [cameOn = on] = heaps.map((heap) => heap.lot.receivedOn).sort()
  const restDays = daysAtRest({ pieces, usedOn: used, cameOn }, on)
  const coming = use === null ? null : use(partId)
  const value = (which: (heap: LyingHeap) => boolean) => sumOf(heaps.filter(which), (heap) => heap.value)
  const fill = fillRate(pulls)
  return {
    partId,
    number,
    name,
    pieces,
    value: value(() => true),
    inBins: value((heap) => heap.kind === 'bin'),
    onVans: value((heap) => heap.kind === 'van'),
    elsewhere: value((heap) => !isAtHand(heap)),
    usable,
    lost: value((heap) => isLost(heap, on)),
    usedOn: used,
    restDays,
    rests: isAtRest(restDays, restAfterDays),
    aDay: coming === null || coming.length === 0 ? null : coming.reduce((sum, day) => sum + day, 0) / coming.length,
    coverDays: coming === null ? null : daysOfCover(usable, coming),
    asked: fill.piecesAsked,
    served: fill.piecesServed,
  }
}

function placesWorth({ places }: WorthInput, heaps: readonly LyingHeap[]): PlaceWorth[] {
  const heapsAt = grouped(heaps, (heap) => heap.placeId)
  return places.flatMap(({ placeId, name, kind }) => {
    const own = heapsAt.get(placeId)
    if (!own) return []
    const parts = new Set(own.map((heap) => heap.lot.partId)).size
    return [{ placeId, name, kind, parts, pieces: piecesOf(own), value: sumOf(own, (heap) => heap.value) }]
  })
}

/** What will become of each lot that has a date and may still be fitted. */
function outlooksByLot({ use, today }: WorthInput, heaps: readonly LyingHeap[]): Map<LotId, LotOutlook> {
  const outlooks = new Map<LotId, LotOutlook>()
  if (use === null) return outlooks
  const usable = heaps.filter((heap) => isAtHand(heap) && !isLost(heap, today))
  for (const [partId, own] of grouped(usable, (heap) => heap.lot.partId)) {
    const lots = [...grouped(own, (heap) => heap.lotId)].map(([lotId, lying]) => ({
      lotId,
      expiresOn: lying[0]?.lot.expiresOn ?? null,
      pieces: piecesOf(lying),
    }))
    if (lots.every((lot) => lot.expiresOn === null)) continue
    for (const outlook of outlookOfLots(lots, use(partId), today)) outlooks.set(outlook.lotId, outlook)
  }
  return outlooks
}

/** Lots in bins and on vans that are past their date or will soon be, the first to expire first. A recalled one is not waited for. */
function expiringLots(
  { parts, use, today, expiryDays }: WorthInput,
  heaps: readonly LyingHeap[],
  outlooks: ReadonlyMap<LotId, LotOutlook>,
): ExpiringLot[] {
  if (use === null) return []
  const nameOf = new Map(parts.map((part) => [part.partId, part]))
  const until = addDays(today, expiryDays)
  const soon = heaps.filter(
    (heap) => isAtHand(heap) && !isRecalled(heap, today) && heap.lot.expiresOn !== null && heap.lot.expiresOn <= until,
  )
  const rows = [...grouped(soon, (heap) => heap.lotId).values()].flatMap((own): ExpiringLot[] => {
    const { lotId, lot, partId, expiresOn } = (own[0] as LyingHeap).lot
    const part = nameOf.get(partId)
    if (expiresOn === null || !part) return []
    const pieces = piecesOf(own)
    const value = sumOf(own, (heap) => heap.value)
    const willBeUsed = Math.floor((outlooks.get(lotId)?.willBeUsed ?? 0) + 1e-9)
    const [atRisk = NO_MONEY] = splitCents(value, [pieces - willBeUsed, willBeUsed])
    return [{ lotId, lot, partId, number: part.number, name: part.name, expiresOn, pieces, value, willBeUsed, atRisk }]
  })
  return rows.sort((a, b) => (a.expiresOn < b.expiresOn ? -1 : a.expiresOn > b.expiresOn ? 1 : 0) || a.lotId - b.lotId)
}

const piecesOf = (heaps: readonly { readonly quantity: number }[]): number =>
  heaps.reduce((sum, heap) => sum + heap.quantity, 0)

function sumOf<Row>(rows: readonly Row[], amount: (row: Row) => Cents): Cents {
  return rows.length === 0 ? NO_MONEY : cents(rows.reduce((sum, row) => sum + amount(row), 0))
}

function grouped<Row, Key>(rows: readonly Row[], keyOf: (row: Row) => Key): Map<Key, Row[]> {
  const groups = new Map<Key, Row[]>()
  for (const row of rows) {
    const key = keyOf(row)
    const group = groups.get(key)
    if (group) group.push(row)
    else groups.set(key, [row])
  }
  return groups
}
