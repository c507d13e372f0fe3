import { economicOrder, yearlyOrderingCost } from './economic-order.ts'

/** From this many pieces on, every piece of the order has this price. */
export interface PriceBreak {
  readonly from: number
  /** A piece, in any one unit of money. */
  readonly price: number
}

export interface YearlyPurchase {
  readonly orderCost: number
  /** What keeping costs in a year, as a share of the price: 0.25. */
  readonly holdingShare: number
  readonly yearlyUse: number
  /** The lowest `from` is the least that is sold. */
  readonly breaks: readonly PriceBreak[]
}

export interface YearlyCandidate {
  readonly quantity: number
  readonly price: number
  /** Pieces, orders and keeping, in a year. */
  readonly yearlyCost: number
}

/**
 * All-units discounts: for each price the best quantity that has it, in order of quantity; of two prices at one quantity the
 * one that holds there. Not rounded. Source: Snyder and Shen, Fundamentals of Supply Chain Theory, ch. 3.
 */
export function yearlyCandidates(purchase: YearlyPurchase): YearlyCandidate[] {
  const steps = inOrder(purchase.breaks)
  return steps.flatMap((step, at) => {
    const figures = {
      orderCost: purchase.orderCost,
      holdingCost: purchase.holdingShare * step.price,
      yearlyUse: purchase.yearlyUse,
    }
    const next = steps[at + 1]
    const best = Math.max(step.from, economicOrder(figures).quantity)
    // Beyond the next break this price is not to be had; just below it only where that break makes a piece dearer
    const isBeyond = next !== undefined && best >= next.from
    const quantity = isBeyond ? next.from - 1 : best
    if (quantity <= 0 || (isBeyond && next.price < step.price)) return []
    const yearlyCost = step.price * purchase.yearlyUse + yearlyOrderingCost(figures, quantity)
    return [{ quantity, price: step.price, yearlyCost }]
  })
}

/** The cheapest of them, the smaller of two as cheap; null when there is none. */
export function cheapestYearly(candidates: readonly YearlyCandidate[]): YearlyCandidate | null {
  return candidates.reduce<YearlyCandidate | null>(
    (best, each) => (best === null || each.yearlyCost < best.yearlyCost ? each : best),
    null,
  )
}

export interface OneOrder {
  /** Pieces that are missing now. */
  readonly need: number
  readonly packSize: number
  /** The least number sold at once; 0 when any number goes. */
  readonly minimumQuantity: number
  /** Pieces that will be used before they expire; nothing is bought beyond them for a lower price. Null without such a bound. */
  readonly most: number | null
  /** The plain price stands first, from 0 or 1. */
  readonly breaks: readonly PriceBreak[]
  readonly holdingShare: number
  /** Days until the first piece beyond the need would be used: the days that the order covers. */
  readonly daysCovered: number
  /** Pieces used a day after that; 0 when nobody knows of any. */
  readonly dailyUse: number
}

export interface OrderCandidate {
  readonly quantity: number
  readonly price: number
  /** Quantity times price. */
  readonly paid: number
  /** What keeping the pieces beyond the need costs until they are used. */
  readonly kept: number
  /** What those pieces would cost later, bought at the price of the need alone. */
  readonly spared: number
  /** Paid plus kept minus spared: what the need costs this way. */
  readonly cost: number
}

/**
 * Ways to buy what is missing: just that in whole packs, and each quantity at which a lower price begins; the first is the
 * plain one. A piece beyond the need is worth what it spares, but only where it will be used; it is kept until then.
 * Nothing comes out when nothing is needed. What packs and minimums force beyond the bound is bought all the same and spares nothing.
 */
export function orderCandidates(order: OneOrder): OrderCandidate[] {
  if (order.need <= 0) return []
  const steps = inOrder(order.breaks)
  const inPacks = (pieces: number) => order.packSize * Math.ceil(pieces / order.packSize)
  const plain = Math.max(inPacks(order.need), inPacks(order.minimumQuantity))
  const quantities = [plain, ...steps.map((step) => inPacks(step.from)).filter((quantity) => quantity > plain)]
  const allowed = quantities.filter((quantity, at) => at === 0 || order.most === null || quantity <= order.most)
  const plainPrice = priceAt(steps, plain)
  return [...new Set(allowed)].map((quantity) => candidateOf(order, quantity, priceAt(steps, quantity), plainPrice))
}

/** The cheapest way, the smaller of two as cheap; null when nothing is needed. */
export function cheapestOrder(candidates: readonly OrderCandidate[]): OrderCandidate | null {
  return candidates.reduce<OrderCandidate | null>(
    (best, each) => (best === null || each.cost < best.cost ? each : best),
    null,
  )
}

/** What a piece costs in an order of so many; the lowest step's price below all of them. RangeError without any price. */
export function priceAt(breaks: readonly PriceBreak[], quantity: number): number {
  const steps = inOrder(breaks)
  const holding = steps.filter((step) => step.from <= quantity).at(-1) ?? steps[0]
  if (!holding) throw new RangeError('A part that is sold has a price')
  return holding.price
}

function candidateOf(order: OneOrder, quantity: number, price: number, plainPrice: number): OrderCandidate {
  const beyond = Math.max(0, quantity - order.need)
  const isUsed = order.dailyUse > 0
  const daysKept = isUsed ? order.daysCovered + beyond / order.dailyUse / 2 : order.daysCovered
  const paid = quantity * price
  const kept = (beyond * price * order.holdingShare * daysKept) / 365
  const usedBeyond = order.most === null ? beyond : Math.min(beyond, Math.max(0, order.most - order.need))
  const spared = isUsed ? usedBeyond * plainPrice : 0
  return { quantity, price, paid, kept, spared, cost: paid + kept - spared }
}

function inOrder(breaks: readonly PriceBreak[]): PriceBreak[] {
  return [...breaks].sort((a, b) => a.from - b.from)
}
