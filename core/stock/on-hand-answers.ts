import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import type { PlaceId } from '../units/ids.ts'
import { type Balance, balancesOf, type Tally, tallyUp } from './ledger.ts'
import { stretchesOf, wayToDate } from './on-hand-on.ts'
import {
  balancesAndToday,
  everyLot,
  heapsNow,
  type LotOnHand,
  movedDays,
  movementsOfDays,
  type PartName,
  partNames,
} from './on-hand-store.ts'
import { listPlaces, type PlaceRow } from './places-store.ts'
import type { OnHand } from './stock-contract.ts'

/** What lay where at the end of a day, by the shorter way; read in stretches, so that others are answered meanwhile. */
export async function tallyOn(
  { read, officeId, today }: Pick<Desk, 'read' | 'officeId' | 'today'>,
  on: CalendarDate,
): Promise<Tally> {
  if (on >= today) return tallyUp(new Map(), await heapsNow(read, officeId))
  const days = await movedDays(read, officeId)
  const way = wayToDate(on, days)
  if (days === null || way === 'nothing-yet') return new Map()
  if (way === 'forward') {
    const tally: Tally = new Map()
    for (const stretch of stretchesOf(addDays(days.first, -1), on))
      tallyUp(tally, await movementsOfDays(read, officeId, stretch))
    return tally
  }
  const now = await balancesAndToday(read, officeId, today)
  const tally = tallyUp(tallyUp(new Map(), now.heaps), now.today, -1)
  for (const stretch of stretchesOf(on, addDays(today, -1)))
    tallyUp(tally, await movementsOfDays(read, officeId, stretch), -1)
  return tally
}

/** The same as balances, by lot and place: for whoever reckons with them. */
export async function balancesOn(
  asked: Pick<Desk, 'read' | 'officeId' | 'today'>,
  on: CalendarDate,
): Promise<Balance[]> {
  return balancesOf(await tallyOn(asked, on))
}

export async function onHand(desk: Desk, input: { on: CalendarDate | null }): Promise<Result<OnHand>> {
  const { read, officeId, today } = desk
  const on = input.on ?? today
  if (on > today) {
    const { locale } = await readSettings(read, officeId)
    return refused('STOCK_DATE_TO_COME', { date: shortDate(on, locale) })
  }
  const tally = await tallyOn(desk, on)
  const lots = await everyLot(read, officeId)
  return ok({ on, ...listed(tally, lots, await partNames(read, officeId), await listPlaces(read, officeId)) })
}

/** Names once, in the order of part, first expiry, lot and walk; the heaps point into them. Only what lies somewhere is named. */
function listed(
  tally: Tally,
  lots: readonly LotOnHand[],
  parts: readonly PartName[],
  places: readonly PlaceRow[],
): Omit<OnHand, 'on'> {
  const rankOfPart = new Map(parts.map((part, rank) => [part.partId, rank]))
  const rankOfPlace = new Map(places.map((place, rank) => [place.placeId, rank]))
  const byRank = ([a]: readonly [PlaceId, number], [b]: readonly [PlaceId, number]): number =>
    (rankOfPlace.get(a) ?? 0) - (rankOfPlace.get(b) ?? 0)
  const named: OnHand['lots'] = []
  const heaps: number[] = []
  const sorted = lots
    .filter((lot) => tally.has(lot.lotId))
    .map((lot) => ({ ...lot, rank: rankOfPart.get(lot.partId) ?? 0, until: lot.expiresOn ?? '9999-12-31' }))
    .sort((a, b) => a.rank - b.rank || (a.until < b.until ? -1 : a.until > b.until ? 1 : a.lotId - b.lotId))
  for (const { partId: _, rank: part, until: __, ...lot } of sorted) {
    const there = [...(tally.get(lot.lotId) ?? [])].filter(([, quantity]) => quantity !== 0)
    if (there.length === 0) continue
    for (const [placeId, quantity] of there.sort(byRank))
      heaps.push(named.length, rankOfPlace.get(placeId) ?? 0, quantity)
    named.push({ ...lot, part })
  }
  return {
    parts: [...parts],
    lots: named,
    places: places.map(({ placeId, name, kind }) => ({ placeId, name, kind })),
    heaps,
  }
}
