import type { CalendarDate } from '../units/calendar-date.ts'
import type { Batch, ChosenQuantity } from './choose-quantity.ts'
import type { Wanted } from './proposal-shapes.ts'
import type { ArithmeticLine, PartTerm, ReorderPart } from './reorder-shapes.ts'
import type { StockStory } from './stock-ahead.ts'
import type { UsableStock } from './usable-stock.ts'

/** Pieces of sent orders: those that come in time, those that come later, and how many of the former are late already. */
export interface AwaitedPieces {
  readonly pieces: number
  readonly later: number
  readonly late: number
  readonly daysLate: number
}

/** A part on the way to its proposal. */
export interface DraftProposal {
  readonly part: ReorderPart
  readonly term: PartTerm | null
  /** Until the order made now, and the next one, are there. */
  readonly days: number
  readonly arrivesIn: number
  readonly covers: CalendarDate
  readonly booked: number
  readonly level: number
  /** Null for a part that is planned by its use of late. */
  readonly wanted: Wanted | null
  readonly stock: UsableStock
  readonly awaited: AwaitedPieces
  readonly needed: readonly ArithmeticLine[]
  readonly there: readonly ArithmeticLine[]
  /** Level and promises less what is there and on its way; below zero when there is enough. */
  readonly missing: number
  readonly batch: Batch | null
  readonly most: number | null
  readonly chosen: ChosenQuantity
  readonly story: StockStory
  /** At the end of each day without this order. */
  readonly left: Float64Array
}
