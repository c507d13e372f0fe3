import type { CalendarDate } from '../units/calendar-date.ts'
import type { PartId, SupplierId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { PriceChoice, Wanted, WeekAhead } from './proposal-shapes.ts'
import type { DailyPace } from './reorder-point.ts'

/** On what terms a supplier sells a part. */
export interface PartTerm {
  readonly supplierId: SupplierId
  readonly leadTimeDays: number
  /** How often one orders there; null for the office's own review period. */
  readonly reviewDays: number | null
  readonly packSize: number
  /** The least number of pieces sold at once; 0 when any number goes. */
  readonly minimumQuantity: number
  /** A piece, below every break. */
  readonly price: Cents
  /** All-units: from so many pieces on every piece has this price. */
  readonly breaks: readonly { readonly from: number; readonly price: Cents }[]
  readonly preferred: boolean
}

export interface ReorderPart {
  readonly partId: PartId
  readonly name: string
  readonly perVisitQuantity: number
  /** Pieces the office never wants to plan below; null when it left that to the arithmetic. */
  readonly leastToKeep: number | null
  readonly serviceLevelPercent: number
  readonly terms: readonly PartTerm[]
  /** Pieces used a day in the recent past. */
  readonly usedADay: DailyPace
  /** How long a piece keeps from its delivery; null when for ever. */
  readonly shelfMonths: number | null
  /** Pieces a day that due dates of the coming year ask for, as far as letters lead to visits. */
  readonly comingADay: number
}

/** Pieces that a booked visit is planned to use; without what an open pull promised it. */
export interface BookedUse {
  readonly partId: PartId
  readonly on: CalendarDate
  readonly quantity: number
}

/**
 * Households that are alike in this: each uses so many pieces of the part at once, or none. The stages of a household are changed on
 * one visit, so that they are one toss and not several.
 */
export interface LikelyUse {
  readonly partId: PartId
  readonly pieces: number
  readonly households: number
  /** The chance of a visit by each day from today on. */
  readonly visitedBy: Float64Array
  /** Whole days from today; a visit before that leaves the stage, which is not due for long enough. */
  readonly from: number
}

/** Visits as such, for what every visit uses. */
export interface ComingVisits {
  readonly booked: readonly { readonly on: CalendarDate; readonly visits: number }[]
  readonly likely: readonly Pick<LikelyUse, 'households' | 'visitedBy'>[]
}

export interface StockLot {
  readonly partId: PartId
  readonly expiresOn: CalendarDate | null
  readonly recalled: boolean
  readonly quantity: number
}

export interface PartQuantity {
  readonly partId: PartId
  readonly quantity: number
}

/** Pieces of a sent order that have not come yet; null where no day was named. */
export interface Incoming extends PartQuantity {
  readonly expectedOn: CalendarDate | null
}

export interface ReorderSupplier {
  readonly supplierId: SupplierId
  readonly name: string
  /** What an order comes to at least; 0 for no such thing. */
  readonly minimumOrder: Cents
}

export interface ReorderInput {
  readonly today: CalendarDate
  readonly locale: string
  readonly currency: string
  readonly parts: readonly ReorderPart[]
  readonly booked: readonly BookedUse[]
  readonly likely: readonly LikelyUse[]
  readonly visits: ComingVisits
  readonly stock: readonly StockLot[]
  readonly promised: readonly PartQuantity[]
  readonly incoming: readonly Incoming[]
  readonly drafted: readonly PartQuantity[]
  readonly suppliers: readonly ReorderSupplier[]
  readonly leadTimeDays: number
  readonly reviewPeriodDays: number
  /** What placing an order costs, and what keeping a piece costs in a year as a share of its price. */
  readonly orderCost: Cents
  readonly holdingPercent: number
}

export type ArithmeticKind =
  | 'booked'
  | 'likely'
  | 'past-use'
  | 'reserve'
  | 'least-to-keep'
  | 'promised'
  | 'on-hand'
  | 'on-order'
  | 'drafted'
  | 'batch'
  | 'packs'
  | 'cheaper'
  | 'shelf'
  | 'ahead'

/** One line of a sum that ends in what to order. */
export interface ArithmeticLine {
  readonly kind: ArithmeticKind
  readonly words: string
  /** Pieces; below zero for what is there already. */
  readonly pieces: number
}

export interface ReorderProposal {
  readonly partId: PartId
  readonly term: PartTerm | null
  /** The last day this order has to cover: today plus lead time plus review period. */
  readonly covers: CalendarDate
  /** Pieces that will be enough until then at the part's service level; without what is promised. */
  readonly level: number
  readonly usable: number
  /** Pieces missing; 0 when there is enough. */
  readonly short: number
  readonly order: number
  /** A piece, in an order of so many. */
  readonly price: Cents
  readonly cost: Cents
  readonly runsOutOn: CalendarDate | null
  /** The sum behind `order`: the lines add up to it; when nothing is to be ordered, to zero or less. */
  readonly lines: readonly ArithmeticLine[]
  readonly sentence: string
  readonly why: string
  readonly wanted: Wanted | null
  readonly weeks: readonly WeekAhead[]
  readonly prices: readonly PriceChoice[]
  readonly changes: readonly string[]
}

/** What a supplier's proposals come to together. */
export interface SupplierOrder {
  readonly supplierId: SupplierId | null
  readonly cost: Cents
  /** What it lacks to the supplier's least value; 0 when it reaches it. */
  readonly lacks: Cents
  readonly about: string
}

export interface ReorderPlan {
  /** One a part, in the order given. */
  readonly proposals: readonly ReorderProposal[]
  /** By supplier in order of id; nobody's parts last. Without those of whom nothing is ordered. */
  readonly orders: readonly SupplierOrder[]
}
