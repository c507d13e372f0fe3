import type { DayNumber } from '../units/calendar-date.ts'
import { lastWorkdayBefore } from './demo-calendar.ts'
import { heapsOn, sparePieces } from './demo-heaps.ts'
import { warehouseHand } from './demo-pulls.ts'
import type { DemoCount, StockYears } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

/** The rounds of the last weeks: which aisle, how long ago, and how many pieces of its largest heap that can spare them were not there. */
const ROUNDS = [
  { aisle: 'C', daysAgo: 61, missing: 2 },
  { aisle: 'B', daysAgo: 40, missing: 0 },
  { aisle: 'A', daysAgo: 19, missing: 0 },
] as const
/** Where no heap can spare a piece because all of it was fitted since, one more was found than the books said. */
const FOUND = 1

/** Rounds that are over; a difference that was approved is a movement of that day. Movements come in the order of their days. */
export function countAisles(years: StockYears, today: DayNumber): void {
  for (const { aisle, daysAgo, missing } of ROUNDS) {
    const on = lastWorkdayBefore(today - daysAgo)
    const spare = sparePieces(years.movements, on)
    const heaps = heapsOfAisle(aisle, years, on)
    const spared = heaps.find(([lot]) => (spare.get(lot) ?? 0) >= missing)?.[0]
    const off = missing === 0 ? undefined : (spared ?? heaps[0]?.[0])
    const difference = spared === undefined ? FOUND : -missing
    const lines = heaps.map(([lot, booksSaid]) => ({
      lot,
      booksSaid,
      counted: booksSaid + (lot === off ? difference : 0),
      note: lot === off ? 'counted twice' : '',
    }))
    if (lines.length === 0) continue
    years.counts.push({ name: `aisle ${aisle}`, on, state: 'approved', by: warehouseHand(on), lines })
    if (off !== undefined) bookCounted(years, { on, lot: off, difference })
  }
}

/** The difference of the latest round. */
function bookCounted(
  years: StockYears,
  { on, lot, difference }: { readonly on: DayNumber; readonly lot: number; readonly difference: number },
): void {
  const ways = difference > 0 ? ({ from: 'outside', to: 'bin' } as const) : ({ from: 'bin', to: 'outside' } as const)
  const moved = { on, lot, quantity: Math.abs(difference), ...ways, reason: 'count' } as const
  years.movements.push({ ...moved, visit: null, order: null, count: years.counts.length - 1, note: 'counted twice' })
  years.movements.sort((a, b) => a.on - b.on)
}

/** The round of the last working day, all counted: two heaps differ, and nobody has approved that yet. */
export function countOpenRound(years: StockYears, today: DayNumber): void {
  const on = lastWorkdayBefore(today)
  const by = warehouseHand(on)
  const lines: DemoCount['lines'][number][] = heapsOfAisle('C', years, on).map(([lot, booksSaid], place) => {
    const difference = place === 0 ? -Math.min(3, booksSaid) : place === 1 ? 1 : 0
    const note = place === 0 ? 'looked on the floor as well' : ''
    return { lot, booksSaid, counted: booksSaid + difference, note }
  })
  if (lines.length > 0) years.counts.push({ name: 'aisle C', on, state: 'open', by, lines })
}

/** Lots in the bins of an aisle at the end of a day, the largest heap first. */
function heapsOfAisle(aisle: string, years: StockYears, on: DayNumber): [lot: number, pieces: number][] {
  const aisleOf = (lot: number) => SCENARIO.bins[SCENARIO.parts[years.lots[lot]?.part ?? 0]?.bin ?? 0]?.slice(0, 1)
  return [...heapsOn(years.movements, 'bin', on)]
    .filter(([lot]) => aisleOf(lot) === aisle)
    .toSorted(([a, most], [b, fewer]) => fewer - most || a - b)
}
