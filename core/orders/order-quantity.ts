import { type Cents, cents } from '../units/money.ts'
import { type PriceBreak, priceAt } from './price-breaks.ts'

/** On what terms a supplier sells a part, as far as a line of an order needs them. */
export interface LineTerms {
  /** A piece, below every break. */
  readonly price: Cents
  readonly packSize: number
  /** The least number sold at once; 0 when any number goes. */
  readonly minimumQuantity: number
  /** All-units: from so many pieces on every piece has this price. In any order. */
  readonly breaks: readonly { readonly from: number; readonly price: Cents }[]
}

function steps({ price, breaks }: Pick<LineTerms, 'price' | 'breaks'>): PriceBreak[] {
  return [{ from: 0, price }, ...breaks]
}

/** What a piece costs in an order of so many. */
export function priceForQuantity(terms: Pick<LineTerms, 'price' | 'breaks'>, quantity: number): Cents {
  return cents(priceAt(steps(terms), quantity))
}

export interface NextBreak {
  readonly from: number
  readonly price: Cents
  /** Pieces that are missing to it. */
  readonly more: number
  /** What the line would cost there less what it costs now; below zero when more pieces cost less. */
  readonly costs: Cents
}

/** The next quantity at which a piece becomes cheaper than it is now; null when there is none. */
export function nextBreak(terms: Pick<LineTerms, 'price' | 'breaks'>, quantity: number): NextBreak | null {
  const now = priceForQuantity(terms, quantity)
  const next = terms.breaks
    .filter((step) => step.from > quantity && step.price < now)
    .reduce<LineTerms['breaks'][number] | null>((least, step) => (least && least.from < step.from ? least : step), null)
  if (next === null) return null
  const costs = cents(next.from * next.price - quantity * now)
  return { from: next.from, price: next.price, more: next.from - quantity, costs }
}

/** Why a quantity is not what the supplier sells, with the numbers that are; null when it is. */
export function packHint(
  { packSize, minimumQuantity }: Pick<LineTerms, 'packSize' | 'minimumQuantity'>,
  quantity: number,
): { readonly words: string; readonly instead: readonly number[] } | null {
  if (quantity <= 0) return null
  const least = packSize * Math.ceil(Math.max(1, minimumQuantity) / packSize)
  if (quantity < minimumQuantity)
    return { words: `At least ${minimumQuantity} pieces are sold at once.`, instead: [least] }
  if (quantity % packSize === 0) return null
  const up = packSize * Math.ceil(quantity / packSize)
  const down = up - packSize
  return { words: `Sold in packs of ${packSize}.`, instead: down >= least ? [down, up] : [up] }
}

/** "2 packs of 12", "24 pieces". */
export function packsInWords(quantity: number, packSize: number): string {
  if (packSize <= 1 || quantity % packSize !== 0) return quantity === 1 ? '1 piece' : `${quantity} pieces`
  const packs = quantity / packSize
  return `${packs} ${packs === 1 ? 'pack' : 'packs'} of ${packSize}`
}

/** How much an order lacks to the supplier's least value; 0 when it reaches it. */
export function lackToMinimum(cost: Cents, minimum: Cents): Cents {
  return cents(Math.max(0, minimum - cost))
}
