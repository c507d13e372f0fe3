import { implement } from '@orpc/server'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { receiveLot } from '../stock/receive-lot-answers.ts'
import { addDays, type CalendarDate, partsOf } from '../units/calendar-date.ts'
import { counted } from '../units/date-words.ts'
import type { PartId, PlaceId, PurchaseOrderId, PurchaseOrderLineId, SupplierId } from '../units/ids.ts'
import { addCents, cents } from '../units/money.ts'
import { type OrderRow, ordersContract } from './orders-contract.ts'
import {
  addReceived,
  findOrder,
  insertOrder,
  insertOrderLine,
  linesOfOrders,
  listOrders,
  nextOrderNumber,
  type OrderHead,
  setOrderLine,
  setOrderState,
} from './orders-store.ts'
import { keptProposals, openedProposal, proposals } from './propose-answers.ts'
import { saveSupplier, saveTerm, suppliers, terms } from './suppliers-answers.ts'
import { listSuppliers, listTerms } from './suppliers-store.ts'

const LATEST = 100

async function list(desk: Desk): Promise<Result<OrderRow[]>> {
  const heads = await listOrders(desk.read, desk.officeId, LATEST)
  const lines = await linesOfOrders(
    desk.read,
    desk.officeId,
    heads.map((head) => head.orderId),
  )
  return ok(
    heads.map(({ leadTimeDays: _, ...head }) => {
      const own = lines.filter((line) => line.orderId === head.orderId)
      return {
        ...head,
        cost: addCents(...own.map((line) => cents(line.price * line.quantity))),
        lines: own.map(({ orderId: __, partId, number, name, ...line }) => ({
          ...line,
          part: { partId, number, name },
        })),
      }
    }),
  )
}

interface OrderDone {
  readonly orderId: PurchaseOrderId
  readonly number: string
  readonly sentence: string
}

async function told(books: OpenBooks, order: Pick<OrderHead, 'orderId' | 'number'>, verb: string, sentence: string) {
  const { orderId, number } = order
  await books.record({ subjectKind: 'purchase order', subjectId: orderId, verb, sentence })
  return ok<OrderDone>({ orderId, number, sentence })
}

/** Drafts an order, each line with the sentence that speaks for it on the day: the one its sheet shows. */
async function draft(
  desk: Desk,
  input: { supplierId: SupplierId; lines: readonly { partId: PartId; quantity: number }[] },
): Promise<Result<OrderDone>> {
  const { groups } = await desk.kept.ask(keptProposals, desk)
  const proposed = groups.flatMap((group) => group.proposals)
  const reasons = new Map(proposed.map((row) => [row.part.partId, row.sentence]))
  return desk.write(async (books) => {
    const { tx, read, officeId, today } = books
    const wanted = input.lines.filter((line) => line.quantity > 0)
    if (wanted.length === 0) return refused('ORDER_EMPTY')
    const supplier = (await listSuppliers(read, officeId)).find((each) => each.supplierId === input.supplierId)
    if (!supplier) return refused('RECORD_GONE', { what: 'This supplier' })
    const prices = (await listTerms(read, officeId)).filter((term) => term.supplierId === input.supplierId)
    const number = await nextOrderNumber(tx, officeId, partsOf(today).year)
    const orderId = await insertOrder(tx, officeId, { supplierId: input.supplierId, number, draftedOn: today })
    for (const [index, { partId, quantity }] of wanted.entries()) {
      const price = prices.find((term) => term.partId === partId)?.price ?? cents(0)
      const reason = reasons.get(partId) ?? ''
      await insertOrderLine(tx, officeId, { orderId, partId, position: index + 1, quantity, price, reason })
    }
    const sentence = `Order ${number} to ${supplier.name} drafted: ${counted(wanted.length, 'line')}.`
    return told(books, { orderId, number }, 'drafted', sentence)
  })
}

async function orderIn(
  books: OpenBooks,
  orderId: PurchaseOrderId,
  state: 'draft' | 'sent',
): Promise<Result<OrderHead>> {
  const order = await findOrder(books.read, books.officeId, orderId)
  if (!order) return refused('RECORD_GONE', { what: 'This order' })
  if (order.state === state) return ok(order)
  const words = order.state === 'draft' ? 'not sent yet' : order.state
  return refused(state === 'draft' ? 'ORDER_NOT_DRAFT' : 'ORDER_NOT_SENT', { number: order.number, state: words })
}

function changeDraft(
  desk: Desk,
  input: {
    orderId: PurchaseOrderId
    version: number
    lines: readonly { lineId: PurchaseOrderLineId; quantity: number }[]
  },
): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const order = await orderIn(books, input.orderId, 'draft')
    if (!order.ok) return order
    if (order.value.version !== input.version)
      return refused('RECORD_CHANGED', { what: `Order ${order.value.number}`, changes: 'its lines' })
    const own = await linesOfOrders(books.read, books.officeId, [input.orderId])
    const known = new Set(own.map((line) => line.lineId))
    for (const line of input.lines)
      if (known.has(line.lineId)) await setOrderLine(books.tx, books.officeId, line.lineId, line.quantity)
    const left = await linesOfOrders(books.read, books.officeId, [input.orderId])
    if (left.length === 0) return refused('ORDER_EMPTY')
    await setOrderState(books.tx, books.officeId, input.orderId, { state: 'draft' })
    return told(books, order.value, 'changed', `Order ${order.value.number} changed.`)
  })
}

/** Marks an order as sent; it is awaited after the supplier's lead time. */
function send(desk: Desk, input: { orderId: PurchaseOrderId }): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const order = await orderIn(books, input.orderId, 'draft')
    if (!order.ok) return order
    const { number, supplier, leadTimeDays } = order.value
    const dates = { sentOn: books.today, expectedOn: addDays(books.today, leadTimeDays) }
    await setOrderState(books.tx, books.officeId, input.orderId, { state: 'sent', ...dates })
    return told(books, order.value, 'sent', `Order ${number} is sent to ${supplier}.`)
  })
}

function cancel(desk: Desk, input: { orderId: PurchaseOrderId }): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const order = await findOrder(books.read, books.officeId, input.orderId)
    if (!order) return refused('RECORD_GONE', { what: 'This order' })
    if (order.state === 'received' || order.state === 'cancelled')
      return refused('ORDER_NOT_SENT', { number: order.number, state: order.state })
    await setOrderState(books.tx, books.officeId, input.orderId, { state: 'cancelled' })
    return told(books, order, 'cancelled', `Order ${order.number} is cancelled; nothing more is awaited from it.`)
  })
}

interface ReceiveLine {
  readonly orderId: PurchaseOrderId
  readonly lineId: PurchaseOrderLineId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly quantity: number
  readonly placeId: PlaceId
  readonly furtherDelivery: boolean
}

/** Receives pieces of a line into a bin; the order is done when all its lines are. */
function receive(desk: Desk, input: ReceiveLine): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const order = await orderIn(books, input.orderId, 'sent')
    if (!order.ok) return order
    const lines = await linesOfOrders(books.read, books.officeId, [input.orderId])
    const line = lines.find((each) => each.lineId === input.lineId)
    if (!line) return refused('RECORD_GONE', { what: 'This line' })
    if (line.received + input.quantity > line.quantity)
      return refused('ORDER_LINE_DONE', {
        ordered: line.quantity,
        part: line.name,
        received: line.received,
        more: input.quantity,
      })
    const delivery = { ...input, partId: line.partId, cost: line.price, note: `order ${order.value.number}` }
    const { supplierId, orderId } = order.value
    const received = await receiveLot(books, delivery, { supplierId, orderId, lineId: input.lineId })
    if (!received.ok) return received
    await addReceived(books.tx, books.officeId, input.lineId, input.quantity)
    const awaited = lines.some((each) => each.quantity > each.received + (each === line ? input.quantity : 0))
    if (!awaited) await setOrderState(books.tx, books.officeId, orderId, { state: 'received' })
    return told(books, order.value, 'received', received.value.sentence)
  })
}

const door = implement(ordersContract).$context<Desk>()
export const ordersAnswers = door.router({
  proposals: door.proposals.handler(answer((desk) => proposals(desk))),
  proposal: door.proposal.handler(answer(openedProposal)),
  list: door.list.handler(answer((desk) => list(desk))),
  draft: door.draft.handler(answer(draft)),
  changeDraft: door.changeDraft.handler(answer(changeDraft)),
  send: door.send.handler(answer(send)),
  cancel: door.cancel.handler(answer(cancel)),
  receive: door.receive.handler(answer(receive)),
  suppliers: door.suppliers.handler(answer((desk) => suppliers(desk))),
  saveSupplier: door.saveSupplier.handler(answer(saveSupplier)),
  terms: door.terms.handler(answer(terms)),
  saveTerm: door.saveTerm.handler(answer(saveTerm)),
})
