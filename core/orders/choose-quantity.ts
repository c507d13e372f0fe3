import { type Cents, cents } from '../units/money.ts'
import {
  cheapestOrder,
  cheapestYearly,
  type OrderCandidate,
  orderCandidates,
  priceAt,
  yearlyCandidates,
} from './price-breaks.ts'
import type { PriceChoice } from './proposal-shapes.ts'
import type { PartTerm } from './reorder-shapes.ts'

/**
 * `max(minimum, pack · ceil(need / pack))`, the minimum itself rounded up to whole packs; 0 when nothing is needed.
 * `quantityInPacks(13, 12, 0)` is 24.
 */
export function quantityInPacks(need: number, packSize: number, minimumQuantity: number): number {
  if (need <= 0) return 0
  const inPacks = (pieces: number) => packSize * Math.ceil(pieces / packSize)
  return Math.max(inPacks(minimumQuantity), inPacks(need))
}

/** The preferred supplier; otherwise the cheapest, then the quickest. */
export function termToUse(terms: readonly PartTerm[]): PartTerm | null {
  const best = [...terms].sort(
    (a, b) =>
      Number(b.preferred) - Number(a.preferred) ||
      a.price - b.price ||
      a.leadTimeDays - b.leadTimeDays ||
      a.supplierId - b.supplierId,
  )
  return best[0] ?? null
}

/** A piece in an order of so many; nothing where nobody sells it. */
export function priceOf(term: PartTerm | null, quantity: number): Cents {
  return term === null ? cents(0) : cents(priceAt(stepsOf(term), quantity))
}

const stepsOf = (term: PartTerm) => [{ from: 0, price: term.price as number }, ...term.breaks]

export interface QuantityAsked {
  /** Pieces that are missing, and those of them that must be had: booked, promised, or always to be kept. */
  readonly need: number
  readonly mustHave: number
  readonly term: PartTerm | null
  /** Pieces of this order that will be used before they expire; null for any number. */
  readonly most: number | null
  readonly holdingShare: number
  readonly daysCovered: number
  readonly dailyUse: number
}

export interface ChosenQuantity {
  readonly quantity: number
  readonly price: Cents
  /** The need in whole packs and the least that is sold: what would be ordered without a second thought. */
  readonly plain: number
  /** The quantities that were weighed; one when there is nothing to weigh. */
  readonly choices: readonly PriceChoice[]
}

/**
 * Whole packs, at least what is sold at once; more where a lower price saves more than keeping the surplus costs; and fewer, down to
 * what must be had, where the rest would expire unused.
 */
export function chooseQuantity(asked: QuantityAsked): ChosenQuantity {
  const { need, term, most } = asked
  if (need <= 0) return { quantity: 0, price: priceOf(term, 0), plain: 0, choices: [] }
  const packSize = term?.packSize ?? 1
  const minimumQuantity = term?.minimumQuantity ?? 0
  const plain = quantityInPacks(need, packSize, minimumQuantity)
  if (most !== null && plain > most) {
    const quantity = atMost(asked, plain)
    return { quantity, price: priceOf(term, quantity), plain, choices: [] }
  }
  if (term === null) return { quantity: plain, price: cents(0), plain, choices: [] }
  const { holdingShare, daysCovered, dailyUse } = asked
  const breaks = stepsOf(term)
  const candidates = orderCandidates({
    need,
    packSize,
    minimumQuantity,
    most,
    breaks,
    holdingShare,
    daysCovered,
    dailyUse,
  })
  const cheapest = cheapestOrder(candidates)
  const quantity = cheapest?.quantity ?? plain
  const choices = candidates.map((candidate) => choiceOf(candidate, candidate === cheapest))
  return { quantity, price: priceOf(term, quantity), plain, choices }
}

/** As many whole packs as will be used, or none when even the least that is sold would not; but always what must be had. */
function atMost({ mustHave, term, most }: QuantityAsked, plain: number): number {
  const packSize = term?.packSize ?? 1
  const minimumQuantity = term?.minimumQuantity ?? 0
  const usedUp = packSize * Math.floor(Math.max(0, most ?? plain) / packSize)
  const least = quantityInPacks(mustHave, packSize, minimumQuantity)
  return Math.max(least, usedUp >= minimumQuantity ? Math.min(usedUp, plain) : 0)
}

function choiceOf(candidate: OrderCandidate, chosen: boolean): PriceChoice {
  const [paid, kept, spared] = [candidate.paid, candidate.kept, candidate.spared].map((each) => cents(Math.round(each)))
  if (paid === undefined || kept === undefined || spared === undefined) throw new RangeError('A choice has its costs')
  const { quantity, price } = candidate
  return { quantity, price: cents(price), paid, kept, spared, cost: cents(paid + kept - spared), chosen }
}

export interface Batch {
  /** Whole pieces, or more where only that is missing. */
  readonly quantity: number
  /** Ordering, keeping and buying in a year. */
  readonly yearlyCost: Cents
}

/**
 * How many of a part without due dates are best ordered at a time: the economic order quantity over the supplier's prices. Null when
 * it is not used, not sold, or keeping and ordering cost nothing.
 */
export function economicBatch(
  term: PartTerm | null,
  yearlyUse: number,
  { orderCost, holdingShare }: { readonly orderCost: Cents; readonly holdingShare: number },
): Batch | null {
  if (term === null || yearlyUse <= 0 || holdingShare <= 0 || orderCost <= 0 || term.price <= 0) return null
  const breaks = stepsOf(term).filter((step) => step.price > 0)
  const best = cheapestYearly(yearlyCandidates({ orderCost, holdingShare, yearlyUse, breaks }))
  return best && { quantity: Math.max(1, Math.round(best.quantity)), yearlyCost: cents(Math.round(best.yearlyCost)) }
}
