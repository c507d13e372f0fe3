import { setImmediate as breath } from 'node:timers/promises'
import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { type Balance, type Tally, tallyUp } from './ledger.ts'
import { readHeaps, readMovements, stretchesOf, wayToDate, writeHeaps } from './on-hand-on.ts'
import { heapsAndToday, heapsNow, lotsAsFigures, movedDays, movementsOfDays, partNames } from './on-hand-store.ts'
import { listPlaces } from './places-store.ts'
import type { OnHand } from './stock-contract.ts'

type Asked = Pick<Desk, 'read' | 'officeId' | 'today'>

/** What lay where at the end of a day, by the shorter way; read in stretches, so that others are answered meanwhile. */
export async function tallyOn({ read, officeId, today }: Asked, on: CalendarDate): Promise<Tally> {
  if (on >= today) {
    const heaps = await heapsNow(read, officeId)
    await breath()
    return tallyHeaps(new Map(), readHeaps(heaps))
  }
  const days = await movedDays(read, officeId)
  const way = wayToDate(on, days)
  const tally: Tally = new Map()
  if (days === null || way === 'nothing-yet') return tally
  if (way === 'forward') {
    for (const stretch of stretchesOf(addDays(days.first, -1), on)) {
      tallyUp(tally, readMovements(await movementsOfDays(read, officeId, stretch)))
      await breath()
    }
    return tally
  }
  const now = await heapsAndToday(read, officeId, today)
  await breath()
  await tallyHeaps(tally, readHeaps(now.heaps))
  tallyUp(tally, readMovements(now.today), -1)
  await breath()
  for (const stretch of stretchesOf(on, addDays(today, -1))) {
    tallyUp(tally, readMovements(await movementsOfDays(read, officeId, stretch)), -1)
    await breath()
  }
  return tally
}

/** Heaps and lots that are gone through at a time. */
const [HEAPS_AT_ONCE, LOTS_AT_ONCE] = [20_000, 5_000]

async function tallyHeaps(tally: Tally, heaps: readonly Balance[]): Promise<Tally> {
  for (let from = 0; from < heaps.length; from += HEAPS_AT_ONCE) {
    await breath()
    tallyUp(tally, heaps.slice(from, from + HEAPS_AT_ONCE).map(asMovement))
  }
  return tally
}

async function writeAll(tally: Tally): Promise<string> {
  const lots = [...tally]
  const texts: string[] = []
  for (let from = 0; from < lots.length; from += LOTS_AT_ONCE) {
    texts.push(writeHeaps(new Map(lots.slice(from, from + LOTS_AT_ONCE))))
    await breath()
  }
  return texts.filter((text) => text !== '').join(',')
}

const asMovement = ({ lotId, placeId, quantity }: Balance) => ({
  lotId,
  fromPlaceId: null,
  toPlaceId: placeId,
  quantity,
})

export async function onHand(desk: Desk, input: { on: CalendarDate | null }): Promise<Result<OnHand>> {
  const { read, officeId, today } = desk
  const on = input.on ?? today
  if (on > today) {
    const { locale } = await readSettings(read, officeId)
    return refused('STOCK_DATE_TO_COME', { date: shortDate(on, locale) })
  }
  const parts = await partNames(read, officeId)
  const places = (await listPlaces(read, officeId)).map(({ placeId, name, kind }) => ({ placeId, name, kind }))
  const lots = await lotsAsFigures(read, officeId, on === today ? 'there' : 'every')
  await breath()
  const heaps = on === today ? await heapsNow(read, officeId) : await writeAll(await tallyOn(desk, on))
  await breath()
  return ok({ on, parts, places, lots, heaps })
}
