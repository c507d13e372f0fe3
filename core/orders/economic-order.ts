/** Costs in one currency unit, whichever; a year's figures. */
export interface EconomicOrderInput {
  /** What an order costs, however much is ordered. */
  readonly orderCost: number
  /** What a piece costs to keep for a year. */
  readonly holdingCost: number
  /** Pieces used in a year. */
  readonly yearlyUse: number
  /** What a piece that is missing costs for a year of waiting; null where nothing may be missing. */
  readonly waitingCost?: number | null
}

export interface EconomicOrder {
  /** Pieces at a time; not rounded. */
  readonly quantity: number
  /** Ordering, keeping and waiting in a year, without the price of the pieces. */
  readonly yearlyCost: number
  /** Share of the time, or of the pieces, that waits; 0 where nothing may be missing. */
  readonly waitingShare: number
}

/**
 * The economic order quantity √(2KD/h); with planned waiting √(2KD/h)·√((h+p)/p). Nothing used gives nothing to order.
 * RangeError where a cost is not above zero. Source: Snyder and Shen, Fundamentals of Supply Chain Theory, ch. 3.
 */
export function economicOrder(input: EconomicOrderInput): EconomicOrder {
  const { orderCost, holdingCost, yearlyUse, waitingCost = null } = input
  if (!(orderCost >= 0 && holdingCost > 0 && yearlyUse >= 0 && (waitingCost === null || waitingCost > 0)))
    throw new RangeError('Costs of an order are above zero')
  const plain = Math.sqrt((2 * orderCost * yearlyUse) / holdingCost)
  const stretch = waitingCost === null ? 1 : Math.sqrt((holdingCost + waitingCost) / waitingCost)
  const waitingShare = waitingCost === null ? 0 : holdingCost / (holdingCost + waitingCost)
  return { quantity: plain * stretch, yearlyCost: (plain * holdingCost) / stretch, waitingShare }
}

/** What ordering so many at a time costs in a year, without their price: K·D/Q + h·Q/2. */
export function yearlyOrderingCost(input: EconomicOrderInput, quantity: number): number {
  return (input.orderCost * input.yearlyUse) / quantity + (input.holdingCost * quantity) / 2
}
