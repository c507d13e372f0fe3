import type { DayNumber } from '../units/calendar-date.ts'
import { lastWorkdayBefore } from './demo-calendar.ts'
import { heapsOn, sparePieces } from './demo-heaps.ts'
import type { DemoMovement, StockYears } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

/** So long the lubricant that is in use still keeps: it was old when it came. */
const SHORT_DATED_DAYS = 60

/** Sachets with a broken seal stand in quarantine, and O-rings are on the way to the van that is out longest. */
export function setAside(years: StockYears, today: DayNumber): void {
  const broken = { part: 'P-9010', quantity: 4, on: lastWorkdayBefore(today - 9) }
  take(broken, { to: 'quarantine', note: 'the seal of the carton was broken' }, years)
  const boundFor = SCENARIO.technicians.length - 1
  const parcel = { part: 'P-9001', quantity: 6, on: lastWorkdayBefore(today) }
  take(parcel, { to: 'way', boundFor, note: 'with the morning parcel' }, years)
  dateShort('P-9020', today + SHORT_DATED_DAYS, years)
}

/** The lot of a part that is used first expires on a day, unless it does so before. */
function dateShort(number: string, expiresOn: DayNumber, years: StockYears): void {
  const dayOf = (lot: number) => years.lots[lot]?.expiresOn ?? Number.MAX_SAFE_INTEGER
  const [next] = [...heapsOn(years.movements, 'bin').keys()]
    .filter((lot) => SCENARIO.parts[years.lots[lot]?.part ?? -1]?.number === number)
    .toSorted((a, b) => dayOf(a) - dayOf(b) || a - b)
  const lot = next === undefined ? undefined : years.lots[next]
  if (next !== undefined && lot && dayOf(next) > expiresOn) years.lots[next] = { ...lot, expiresOn }
}

/** Takes pieces of the lot of which most can be spared; none where there are too few. */
function take(
  what: { readonly part: string; readonly quantity: number; readonly on: DayNumber },
  where: Pick<DemoMovement, 'to' | 'boundFor' | 'note'>,
  years: StockYears,
): void {
  const part = SCENARIO.parts.findIndex(({ number }) => number === what.part)
  const [best] = [...sparePieces(years.movements, what.on)]
    .filter(([lot]) => years.lots[lot]?.part === part)
    .toSorted(([a, most], [b, fewer]) => fewer - most || a - b)
  if (!best || best[1] < what.quantity * 2) return
  const { on, quantity } = what
  years.movements.push({ on, lot: best[0], quantity, from: 'bin', reason: 'move', visit: null, order: null, ...where })
  years.movements.sort((a, b) => a.on - b.on)
}
