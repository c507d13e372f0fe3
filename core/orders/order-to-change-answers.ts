import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { PurchaseOrderId } from '../units/ids.ts'
import { findOrder, type OrderHead, traceOfOrder } from './orders-store.ts'

export const STATE_WORDS: Readonly<Record<OrderHead['state'], string>> = {
  draft: 'not sent yet',
  sent: 'sent',
  received: 'received',
  cancelled: 'cancelled',
}

/** The order as it stands, or why it cannot be changed: gone, changed by someone else since, or past that. */
export async function orderToChange(
  books: OpenBooks,
  seen: { readonly orderId: PurchaseOrderId; readonly version: number },
  states: readonly OrderHead['state'][],
): Promise<Result<OrderHead>> {
  const found = await orderInState(books, seen.orderId, states)
  if (!found.ok || found.value.version === seen.version) return found
  const latest = (await traceOfOrder(books.read, books.officeId, seen.orderId))[0]
  const changes = latest ? `${latest.sentence.replace(/\.$/, '')} (${latest.by})` : 'it was saved in between'
  return refused('RECORD_CHANGED', { what: wordsOf(found.value), changes })
}

/** "Order PO-2026-0007", "The draft to Orrin Supply". */
export function wordsOf(order: Pick<OrderHead, 'number' | 'state' | 'supplier'>): string {
  return order.state === 'draft' ? `The draft to ${order.supplier}` : `Order ${order.number}`
}

export async function orderInState(
  books: OpenBooks,
  orderId: PurchaseOrderId,
  states: readonly OrderHead['state'][],
): Promise<Result<OrderHead>> {
  const order = await findOrder(books.read, books.officeId, orderId)
  if (!order) return refused('RECORD_GONE', { what: 'This order' })
  if (states.includes(order.state)) return ok(order)
  const facts = { number: order.number, state: STATE_WORDS[order.state] }
  return refused(states.includes('draft') ? 'ORDER_NOT_DRAFT' : 'ORDER_NOT_SENT', facts)
}
