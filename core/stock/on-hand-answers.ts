import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import type { Balance } from './ledger.ts'
import { wayToDate } from './on-hand-on.ts'
import {
  balancesBackTo,
  balancesNow,
  balancesSummed,
  everyLot,
  type LotOnHand,
  movedDays,
  type PartName,
  partNames,
} from './on-hand-store.ts'
import { listPlaces, type PlaceRow } from './places-store.ts'
import type { OnHand } from './stock-contract.ts'

/** What lay where at the end of a day, by the shorter way to it. */
export async function balancesOn(
  { read, officeId, today }: Pick<Desk, 'read' | 'officeId' | 'today'>,
  on: CalendarDate,
): Promise<Balance[]> {
  if (on >= today) return balancesNow(read, officeId)
  switch (wayToDate(on, await movedDays(read, officeId))) {
    case 'nothing-yet':
      return []
    case 'as-now':
      return balancesNow(read, officeId)
    case 'forward':
      return balancesSummed(read, officeId, on)
    case 'backward':
      return balancesBackTo(read, officeId, on)
  }
}

export async function onHand(desk: Desk, input: { on: CalendarDate | null }): Promise<Result<OnHand>> {
  const { read, officeId, today } = desk
  const on = input.on ?? today
  if (on > today) {
    const { locale } = await readSettings(read, officeId)
    return refused('STOCK_DATE_TO_COME', { date: shortDate(on, locale) })
  }
  const heaps = await balancesOn(desk, on)
  const lots = await everyLot(read, officeId)
  return ok({ on, ...listed(heaps, lots, await partNames(read, officeId), await listPlaces(read, officeId)) })
}

/** Names once, in the order of part, first expiry, lot and walk; the heaps point into them. Only what lies somewhere is named. */
function listed(
  heaps: readonly Balance[],
  lots: readonly LotOnHand[],
  parts: readonly PartName[],
  places: readonly PlaceRow[],
): Omit<OnHand, 'on'> {
  const rankOfPart = new Map(parts.map((part, rank) => [part.partId, rank]))
  const there = new Set(heaps.map((heap) => heap.lotId))
  const named = lots
    .filter((lot) => there.has(lot.lotId))
    .map(({ partId, ...lot }) => ({ ...lot, part: rankOfPart.get(partId) ?? 0 }))
    .sort((a, b) => a.part - b.part || byExpiry(a, b) || a.lotId - b.lotId)
  const rankOfLot = new Map(named.map((lot, rank) => [lot.lotId, rank]))
  const rankOfPlace = new Map(places.map((place, rank) => [place.placeId, rank]))
  const ranked = heaps.map(({ lotId, placeId, quantity }) => ({
    lot: rankOfLot.get(lotId) ?? 0,
    place: rankOfPlace.get(placeId) ?? 0,
    quantity,
  }))
  ranked.sort((a, b) => a.lot - b.lot || a.place - b.place)
  return {
    parts: [...parts],
    lots: named,
    places: places.map(({ placeId, name, kind }) => ({ placeId, name, kind })),
    heaps: ranked.flatMap(({ lot, place, quantity }) => [lot, place, quantity]),
  }
}

const byExpiry = (a: LotOnHand | { expiresOn: CalendarDate | null }, b: { expiresOn: CalendarDate | null }): number => {
  const [first, second] = [a.expiresOn ?? '9999-12-31', b.expiresOn ?? '9999-12-31']
  return first < second ? -1 : first > second ? 1 : 0
}
