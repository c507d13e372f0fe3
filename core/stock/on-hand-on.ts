import { addDays, type CalendarDate, calendarDate, daysBetween, earlierOf } from '../units/calendar-date.ts'
import type { LotId, PartId, PlaceId } from '../units/ids.ts'
import { type Cents, cents } from '../units/money.ts'
import type { Movement, Tally } from './ledger.ts'

/** The first and the last day on which anything moved; null while nothing ever did. */
export interface MovedDays {
  readonly first: CalendarDate
  readonly last: CalendarDate
}

/** Which movements lead to a past day in the fewest steps. */
export type WayToDate = 'nothing-yet' | 'as-now' | 'forward' | 'backward'

/**
 * On hand at the end of a day is the sum of the movements up to and including it, and just as well what is there now less what moved since.
 * The shorter of the two is walked: by the days there are on either side.
 */
export function wayToDate(on: CalendarDate, days: MovedDays | null): WayToDate {
  if (days === null || on < days.first) return 'nothing-yet'
  if (on >= days.last) return 'as-now'
  return daysBetween(days.first, on) < daysBetween(on, days.last) ? 'forward' : 'backward'
}

/** Days that are read at a time, so that others are answered in between. */
const DAYS_AT_ONCE = 14

/** The days after one and up to another, in stretches: what is read of each is added before the next is asked for. */
export function stretchesOf(after: CalendarDate, until: CalendarDate): { after: CalendarDate; until: CalendarDate }[] {
  const stretches: { after: CalendarDate; until: CalendarDate }[] = []
  for (let from = after; from < until; from = addDays(from, DAYS_AT_ONCE))
    stretches.push({ after: from, until: earlierOf(addDays(from, DAYS_AT_ONCE), until) })
  return stretches
}

/** Pieces of a lot at a place, as they travel. */
export interface Heap {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
}

/** Heaps from one text: key of the lot, key of the place and pieces of each, all by commas. */
export function readHeaps(text: string): Heap[] {
  const heaps: Heap[] = []
  const figures = readFigures(text)
  for (let at = 0; at < figures.length; at += 3)
    heaps.push({ lotId: lotOf(figures[at]), placeId: placeOf(figures[at + 1]), quantity: figures[at + 2] ?? 0 })
  return heaps
}

/** A tally as the same text; what holds nothing is left out. */
export function writeHeaps(tally: Tally): string {
  const heaps: string[] = []
  for (const [lotId, places] of tally)
    for (const [placeId, quantity] of places) if (quantity !== 0) heaps.push(`${lotId},${placeId},${quantity}`)
  return heaps.join(',')
}

/** A lot of which something lies somewhere. */
export interface LotOnHand {
  readonly lotId: LotId
  readonly partId: PartId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly cost: Cents
  readonly recalled: boolean
}

/** Lots as they travel: key, key of the part, cents, date as a whole number (20280731, 0 for none) and 1 when recalled; their numbers apart. */
export interface TravellingLots {
  readonly figures: string
  readonly numbers: readonly string[]
}

export function readLots({ figures: text, numbers }: TravellingLots): LotOnHand[] {
  const figures = readFigures(text)
  return numbers.map((lot, at) => {
    const [lotId, partId, cost = 0, date = 0, recalled] = figures.slice(5 * at, 5 * at + 5)
    const day = String(date).padStart(8, '0')
    const expiresOn = date === 0 ? null : calendarDate(`${day.slice(0, 4)}-${day.slice(4, 6)}-${day.slice(6)}`)
    return { lotId: lotOf(lotId), partId: partOf(partId), lot, expiresOn, cost: cents(cost), recalled: recalled === 1 }
  })
}

/** Movements from one text: key of the lot, of the place they left and of the one they came to (0 for outside), and pieces. */
export function readMovements(text: string): Movement[] {
  const movements: Movement[] = []
  const figures = readFigures(text)
  for (let at = 0; at < figures.length; at += 4)
    movements.push({
      lotId: lotOf(figures[at]),
      fromPlaceId: figures[at + 1] === 0 ? null : placeOf(figures[at + 1]),
      toPlaceId: figures[at + 2] === 0 ? null : placeOf(figures[at + 2]),
      quantity: figures[at + 3] ?? 0,
    })
  return movements
}

/** Whole numbers by commas; none from an empty text. */
export function readFigures(text: string): number[] {
  return text === '' ? [] : (JSON.parse(`[${text}]`) as number[])
}
/** What the books wrote are keys. */
const lotOf = (figure: number | undefined) => (figure ?? 0) as LotId
const partOf = (figure: number | undefined) => (figure ?? 0) as PartId
const placeOf = (figure: number | undefined) => (figure ?? 0) as PlaceId
