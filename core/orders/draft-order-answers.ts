import type { Desk, OpenBooks } from '../answering.ts'
import { reserveIds } from '../database/reserve-ids.ts'
import { ok, type Result, refused } from '../result.ts'
import { findPart } from '../stock/parts-store.ts'
import { counted } from '../units/date-words.ts'
import { type PartId, type PurchaseOrderId, purchaseOrderIdSchema } from '../units/ids.ts'
import { priceForQuantity } from './order-quantity.ts'
import type { DraftLines, SaveDraft } from './order-shapes.ts'
import { orderToChange } from './order-to-change-answers.ts'
import {
  changeOrder,
  insertOrder,
  linesOfOrders,
  type NewOrderLine,
  type OrderHead,
  replaceOrderLines,
} from './orders-store.ts'
import { keptProposals } from './propose-answers.ts'
import { findSupplier, listTerms } from './suppliers-store.ts'

export interface OrderDone {
  readonly orderId: PurchaseOrderId
  readonly number: string
  readonly sentence: string
}

/** Writes into the log what was done to an order, and tells it. */
export async function toldOf(
  books: OpenBooks,
  order: Pick<OrderHead, 'orderId' | 'number'>,
  verb: string,
  sentence: string,
  details = '',
): Promise<Result<OrderDone>> {
  const { orderId, number } = order
  await books.record({ subjectKind: 'purchase order', subjectId: orderId, verb, sentence, details })
  return ok({ orderId, number, sentence })
}

/** Drafts an order, each line with what speaks for it on the day and at the price of its quantity. Without lines an empty one. */
export async function draftOrder(desk: Desk, input: DraftLines): Promise<Result<OrderDone>> {
  const reasons = await reasonsOfTheDay(desk, [input])
  return desk.write((books) => draftOne(books, input, reasons))
}

/** A draft a supplier, in one piece: all of them or none. */
export async function draftOrders(
  desk: Desk,
  input: { readonly drafts: readonly DraftLines[] },
): Promise<Result<{ orders: OrderDone[]; sentence: string }>> {
  const reasons = await reasonsOfTheDay(desk, input.drafts)
  return desk.write(async (books) => {
    const orders: OrderDone[] = []
    for (const draft of input.drafts) {
      const done = await draftOne(books, draft, reasons)
      if (!done.ok) return done
      orders.push(done.value)
    }
    const lines = input.drafts.reduce((sum, draft) => sum + draft.lines.filter((line) => line.quantity > 0).length, 0)
    return ok({ orders, sentence: `${counted(orders.length, 'order')} drafted: ${counted(lines, 'line')}.` })
  })
}

async function reasonsOfTheDay(desk: Desk, drafts: readonly DraftLines[]): Promise<ReadonlyMap<PartId, string>> {
  if (drafts.every((draft) => draft.lines.length === 0)) return new Map()
  const { groups } = await desk.kept.ask(keptProposals, desk)
  return new Map(groups.flatMap((group) => group.proposals).map((row) => [row.part.partId, row.why]))
}

async function draftOne(
  books: OpenBooks,
  input: DraftLines,
  reasons: ReadonlyMap<PartId, string>,
): Promise<Result<OrderDone>> {
  const { tx, read, officeId, today } = books
  const supplier = await findSupplier(read, officeId, input.supplierId)
  if (!supplier) return refused('RECORD_GONE', { what: 'This supplier' })
  if (supplier.closed) return refused('SUPPLIER_CLOSED', { supplier: supplier.name })
  const wanted = input.lines.map((line) => ({ ...line, price: null }))
  const lines = await linesToWrite(books, supplier, wanted, reasons)
  if (!lines.ok) return lines
  const [key] = await reserveIds(tx, books.dialect, 'purchase_orders', 1)
  const orderId = purchaseOrderIdSchema.parse(key)
  const number = await insertOrder(tx, officeId, { orderId, supplierId: supplier.supplierId, draftedOn: today })
  await replaceOrderLines(tx, officeId, orderId, lines.value)
  const said = lines.value.length === 0 ? 'empty' : counted(lines.value.length, 'line')
  return toldOf(books, { orderId, number }, 'drafted', `An order to ${supplier.name} drafted: ${said}.`)
}

/** The lines as they are written: a part once, at the price given or at that of its quantity. */
async function linesToWrite(
  books: OpenBooks,
  supplier: Pick<OrderHead, 'supplierId'> & { readonly name: string },
  wanted: SaveDraft['lines'],
  reasons: ReadonlyMap<PartId, string>,
): Promise<Result<NewOrderLine[]>> {
  const terms = (await listTerms(books.read, books.officeId)).filter((term) => term.supplierId === supplier.supplierId)
  const lines: NewOrderLine[] = []
  for (const { partId, quantity, price } of wanted) {
    if (quantity === 0) continue
    const part = await findPart(books.read, books.officeId, partId)
    if (!part) return refused('RECORD_GONE', { what: 'A part of this order' })
    if (lines.some((line) => line.partId === partId)) return refused('ORDER_PART_TWICE', { part: part.name })
    const term = terms.find((each) => each.partId === partId)
    if (!term) return refused('ORDER_PART_NOT_SOLD', { supplier: supplier.name, part: part.name })
    const reason = reasons.get(partId) ?? ''
    lines.push({ partId, quantity, price: price ?? priceForQuantity(term, quantity), reason })
  }
  return ok(lines)
}

export function saveDraft(desk: Desk, input: SaveDraft): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const found = await orderToChange(books, input, ['draft'])
    if (!found.ok) return found
    const order = found.value
    const before = await linesOfOrders(books.read, books.officeId, [input.orderId])
    const reasons = new Map(before.map((line) => [line.partId, line.reason]))
    const supplier = { supplierId: order.supplierId, name: order.supplier }
    const lines = await linesToWrite(books, supplier, input.lines, reasons)
    if (!lines.ok) return lines
    await replaceOrderLines(books.tx, books.officeId, input.orderId, lines.value)
    await changeOrder(books.tx, books.officeId, input.orderId, { note: input.note })
    const sentence = `The draft to ${order.supplier} is saved: ${counted(lines.value.length, 'line')}.`
    return toldOf(books, order, 'changed', sentence)
  })
}
