import { addDays, addMonths, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import type { WeekAhead } from './proposal-shapes.ts'
import type { StockLot } from './reorder-shapes.ts'

/** Pieces that come in on a day from today; `expires` is their last day, null when they keep. */
export interface Arrival {
  readonly day: number
  readonly quantity: number
  readonly expires: number | null
}

export interface StockStory {
  readonly today: CalendarDate
  readonly lots: readonly StockLot[]
  readonly arrivals: readonly Arrival[]
  /** Pieces to be expected to be needed, by day. */
  readonly need: Float64Array
}

export interface StockDays {
  /** At the end of each day; below zero what is missing by then and waited for. */
  readonly left: Float64Array
  /** Pieces whose last day was the day before. */
  readonly expired: Float64Array
}

/** Day by day what is there: what has expired goes, what comes in is put away, what is needed is taken of what expires first. */
export function stockByDay({ today, lots, arrivals, need }: StockStory): StockDays {
  const shelves = lots
    .filter((lot) => !lot.recalled && (lot.expiresOn === null || lot.expiresOn >= today))
    .map((lot) => ({
      last: lot.expiresOn === null ? Number.POSITIVE_INFINITY : daysBetween(today, lot.expiresOn),
      pieces: lot.quantity,
    }))
  const left = new Float64Array(need.length)
  const expired = new Float64Array(need.length)
  let missing = 0
  for (let day = 0; day < need.length; day++) {
    for (const shelf of shelves)
      if (shelf.last < day && shelf.pieces > 0) {
        expired[day] = (expired[day] ?? 0) + shelf.pieces
        shelf.pieces = 0
      }
    for (const { quantity, expires } of arrivals.filter((arrival) => arrival.day === day))
      shelves.push({ last: expires ?? Number.POSITIVE_INFINITY, pieces: quantity })
    shelves.sort((a, b) => a.last - b.last)
    missing += need[day] ?? 0
    let there = 0
    for (const shelf of shelves) {
      const taken = Math.min(shelf.pieces, missing)
      shelf.pieces -= taken
      missing -= taken
      there += shelf.pieces
    }
    left[day] = missing > 1e-9 ? -missing : there
  }
  return { left, expired }
}

/** The first day on which less than half a piece may be expected to be left; null when there always is. */
export function runsOutOn(left: Float64Array, today: CalendarDate): CalendarDate | null {
  const day = left.findIndex((pieces) => pieces < 0.5)
  return day < 0 ? null : addDays(today, day)
}

/** The first day from one on, on which, with so many more, half a piece or more may be expected to be missing; null when none is. */
export function missingOn(left: Float64Array, from: number, more: number): number | null {
  for (let day = from; day < left.length; day++) if ((left[day] ?? 0) + more <= -0.5) return day
  return null
}

/** The last day of pieces that come in on a day from today and keep for so many months; null when they keep. */
export function lastDayOf(today: CalendarDate, arrivesIn: number, shelfMonths: number | null): number | null {
  return shelfMonths === null ? null : daysBetween(today, addMonths(addDays(today, arrivesIn), shelfMonths))
}

/** The same by weeks, with this order beside it; as many as there are whole weeks. */
export function weeksAhead(story: StockStory, order: Arrival | null): WeekAhead[] {
  const without = stockByDay(story)
  const withOrder = order === null ? without : stockByDay({ ...story, arrivals: [...story.arrivals, order] })
  const weeks = Math.floor(story.need.length / 7)
  return Array.from({ length: weeks }, (_, week) => {
    const [first, last] = [week * 7, week * 7 + 6]
    const within = (days: Float64Array): number => days.subarray(first, last + 1).reduce((sum, each) => sum + each, 0)
    const arrives = [...story.arrivals, ...(order ? [order] : [])]
      .filter(({ day }) => day >= first && day <= last)
      .reduce((sum, { quantity }) => sum + quantity, 0)
    return {
      from: addDays(story.today, first),
      until: addDays(story.today, last),
      use: within(story.need),
      arrives,
      expires: within(withOrder.expired),
      left: without.left[last] ?? 0,
      leftWithOrder: withOrder.left[last] ?? 0,
    }
  })
}
