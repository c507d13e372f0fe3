import type { Cents } from '../units/money.ts'

/** A part of a supplier, as far as filling up its order goes. */
export interface PartToFill {
  readonly quantity: number
  readonly packSize: number
  readonly minimumQuantity: number
  readonly priceOf: (quantity: number) => Cents
  /** Pieces that will be used before they expire; null for any number. */
  readonly most: number | null
  /** The first day on which an order of so many may be expected to be used up; null beyond the weeks ahead. */
  readonly usedUpOn: (quantity: number) => number | null
}

/**
 * The quantities at which an order reaches the supplier's least value: a pack after the other of what will be used up soonest. Null
 * when nothing that is needed in the weeks ahead makes it reach; then nothing is added.
 */
export function fillUp(parts: readonly PartToFill[], least: Cents): number[] | null {
  const quantities = parts.map((part) => part.quantity)
  const costOf = (at: number): number => {
    const quantity = quantities[at] ?? 0
    return quantity === 0 ? 0 : quantity * (parts[at]?.priceOf(quantity) ?? 0)
  }
  let cost = parts.reduce((sum, _, at) => sum + costOf(at), 0)
  const usedUp = parts.map((part, at) => part.usedUpOn(quantities[at] ?? 0))
  while (cost < least) {
    const next = soonest(parts, quantities, usedUp)
    const part = next === null ? undefined : parts[next]
    if (next === null || part === undefined) return null
    cost -= costOf(next)
    quantities[next] = withOneMore(part, quantities[next] ?? 0)
    usedUp[next] = part.usedUpOn(quantities[next] ?? 0)
    cost += costOf(next)
  }
  return quantities
}

/** A pack more, or the least that is sold. */
function withOneMore({ packSize, minimumQuantity }: PartToFill, quantity: number): number {
  return quantity === 0 ? packSize * Math.max(1, Math.ceil(minimumQuantity / packSize)) : quantity + packSize
}

function soonest(
  parts: readonly PartToFill[],
  quantities: readonly number[],
  usedUp: readonly (number | null)[],
): number | null {
  let best: number | null = null
  parts.forEach((part, at) => {
    const day = usedUp[at] ?? null
    if (day === null) return
    const more = withOneMore(part, quantities[at] ?? 0)
    if (part.most !== null && more > part.most) return
    if (part.priceOf(more) <= 0) return
    if (best === null || day < (usedUp[best] ?? 0)) best = at
  })
  return best
}
