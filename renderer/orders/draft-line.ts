import { priceForQuantity } from '../../core/orders/order-quantity.ts'
import type { OrderInFull, SoldPart } from '../../core/orders/order-shapes.ts'
import type { PartId } from '../../core/units/ids.ts'
import type { Cents } from '../../core/units/money.ts'

/** A line of a draft while it is typed. */
export interface DraftLine {
  readonly partId: PartId
  readonly quantity: number | null
  /** Null: what the supplier's terms say for the quantity. */
  readonly price: Cents | null
}

/** The lines as they were saved; a price that is the terms' own is left to the terms. */
export function linesOfOrder(order: OrderInFull): DraftLine[] {
  return order.lines.map(({ part, quantity, price, terms }) => ({
    partId: part.partId,
    quantity,
    price: terms && priceForQuantity(terms, quantity) === price ? null : price,
  }))
}

/** A part added to a draft begins with the least that is sold of it. */
export function lineOfPart({ part, packSize, minimumQuantity }: SoldPart): DraftLine {
  const quantity = packSize * Math.max(1, Math.ceil(minimumQuantity / packSize))
  return { partId: part.partId, quantity, price: null }
}
