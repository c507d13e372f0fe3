import type { Desk, OpenBooks } from '../answering.ts'
import type { FollowUp } from '../happenings.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { beginReceipt, receiveLot } from '../stock/receive-lot-answers.ts'
import { counted } from '../units/date-words.ts'
import type { MovementId } from '../units/ids.ts'
import { formatCents } from '../units/money.ts'
import { settleOrder } from './close-order-answers.ts'
import { type OrderDone, toldOf } from './draft-order-answers.ts'
import { findDeliveryMovement, kindOfPlace } from './order-receipts-store.ts'
import type { DeliveredLine, ReceiveOrder } from './order-shapes.ts'
import { openPieces } from './order-standing.ts'
import { orderInState } from './order-to-change-answers.ts'
import { countOnLine, findOrder, findOrderLine, linesOfOrders, type OrderHead, type OrderLine } from './orders-store.ts'
import { listTerms, writeTerm } from './suppliers-store.ts'

/**
 * A delivery against a sent order: one receipt, a lot a line. Whole pieces go into their bin and count as received, damaged ones
 * into quarantine and do not. The order is done by itself when nothing is open any more. All of it is written, or nothing.
 */
export function receiveOrder(
  desk: Desk,
  input: ReceiveOrder,
): Promise<Result<OrderDone & { movements: MovementId[] }>> {
  return desk.write(async (books) => {
    const found = await orderInState(books, input.orderId, ['sent'])
    if (!found.ok) return found
    const order = found.value
    const lines = await linesOfOrders(books.read, books.officeId, [order.orderId])
    const came = input.lines.filter((line) => line.accepted !== 0 || line.damaged !== 0)
    if (came.length === 0) return refused('ORDER_NOTHING_CAME')
    const judged = judgeDelivery(lines, { ...input, lines: came })
    if (!judged.ok) return judged
    const { supplierId, orderId } = order
    const receiptId = await beginReceipt(books, { supplierId, orderId }, input.note)
    const movements: MovementId[] = []
    for (const { line, delivered } of judged.value) {
      const taken = await takeIn(books, order, line, delivered, { receiptId, note: input.note })
      if (!taken.ok) return taken
      movements.push(...taken.value)
    }
    const isDone = await settleOrder(books, orderId)
    const told = await toldOf(books, order, 'received', deliveryWords(order, judged.value, isDone), input.note)
    return told.ok ? ok({ ...told.value, movements }) : told
  })
}

interface LineOfDelivery {
  readonly line: OrderLine
  readonly delivered: DeliveredLine
}

/** Whether the delivery fits the order as it stands now: nobody received meanwhile, nothing beyond what was ordered unless that is said. */
function judgeDelivery(lines: readonly OrderLine[], input: ReceiveOrder): Result<LineOfDelivery[]> {
  const matched: LineOfDelivery[] = []
  for (const delivered of input.lines) {
    const line = lines.find((each) => each.lineId === delivered.lineId)
    if (!line) return refused('RECORD_GONE', { what: 'A line of this order' })
    matched.push({ line, delivered })
  }
  for (const line of lines) {
    const own = matched.filter((each) => each.line === line)
    if (own.length === 0) continue
    const facts = { part: line.name, ordered: line.quantity }
    if (own.some(({ delivered }) => delivered.seen !== line.received))
      return refused('ORDER_LINE_MEANWHILE', { ...facts, now: line.received })
    const came = own.reduce((sum, { delivered }) => sum + delivered.accepted, 0)
    const open = openPieces(line)
    if (came > open && !input.takeAll) return refused('ORDER_OVER', { ...facts, open, came, over: came - open })
  }
  return ok(matched)
}

async function takeIn(
  books: OpenBooks,
  order: OrderHead,
  line: OrderLine,
  delivered: DeliveredLine,
  delivery: { readonly receiptId: number; readonly note: string },
): Promise<Result<MovementId[]>> {
  const place = await kindOfPlace(books.read, books.officeId, delivered.placeId)
  if (place?.kind === 'quarantine' && delivered.accepted > 0)
    return refused('ORDER_INTO_QUARANTINE', { part: line.name, place: place.name })
  const { lot, expiresOn, accepted, damaged, placeId, price, furtherDelivery } = delivered
  const note = [`order ${order.number}`, delivery.note].filter((part) => part !== '').join(', ')
  const received = await receiveLot(
    books,
    { partId: line.partId, lot, expiresOn, quantity: accepted, damaged, placeId, cost: price, note, furtherDelivery },
    { supplierId: order.supplierId, orderId: order.orderId, lineId: line.lineId, receiptId: delivery.receiptId },
  )
  if (!received.ok) return received
  // Damaged pieces are never received: they stay awaited, unless the supplier does not send them again.
  const givenUp = delivered.replaced ? 0 : Math.min(damaged, Math.max(0, openPieces(line) - accepted))
  await countOnLine(books.tx, books.officeId, line.lineId, { received: accepted, givenUp })
  if (delivered.keepPrice && price !== line.price) await keepPrice(books, order, line, delivered)
  const { movementId, further = [] } = received.value
  return ok(movementId === null ? [] : [movementId, ...further])
}

/** The charged price is the supplier's price from now on: at the break that the ordered quantity reaches, else the plain one. */
async function keepPrice(books: OpenBooks, order: OrderHead, line: OrderLine, delivered: DeliveredLine): Promise<void> {
  const terms = await listTerms(books.read, books.officeId)
  const term = terms.find((each) => each.supplierId === order.supplierId && each.partId === line.partId)
  if (!term) return
  const step = term.breaks.filter((each) => each.from <= line.quantity).at(-1)
  const breaks = term.breaks.map((each) => (each === step ? { ...each, price: delivered.price } : each))
  await writeTerm(books.tx, books.officeId, { ...term, price: step ? term.price : delivered.price, breaks })
  const { currency, locale } = await readSettings(books.read, books.officeId)
  const from = step ? ` from ${step.from} pieces` : ''
  const sentence = `${order.supplier} sells ${line.name} at ${formatCents(delivered.price, currency, locale)}${from} now.`
  await books.record({ subjectKind: 'part', subjectId: line.partId, verb: 'changed', sentence })
}

function deliveryWords(order: OrderHead, lines: readonly LineOfDelivery[], isDone: boolean): string {
  const accepted = lines.reduce((sum, { delivered }) => sum + delivered.accepted, 0)
  const damaged = lines.reduce((sum, { delivered }) => sum + delivered.damaged, 0)
  const bad = damaged === 0 ? '' : `, ${damaged} more came damaged and are set aside`
  const said = `${counted(accepted, 'piece')} received on order ${order.number}${bad}.`
  return isDone ? `${said} Nothing of it is awaited any more.` : said
}

/** A receipt that is put right counts no more: the order awaits these pieces again. */
export const ordersFollowUp: FollowUp<OpenBooks> = async (books, happening) => {
  if (happening.kind !== 'movement-put-right') return ok(undefined)
  const movement = await findDeliveryMovement(books.read, books.officeId, happening.movementId)
  if (!movement || movement.isDamaged) return ok(undefined)
  const line = await findOrderLine(books.read, books.officeId, movement.lineId)
  const order = line && (await findOrder(books.read, books.officeId, line.orderId))
  if (!line || !order) return ok(undefined)
  await countOnLine(books.tx, books.officeId, line.lineId, { received: -movement.quantity })
  if (order.state !== 'cancelled') await settleOrder(books, order.orderId)
  const sentence = `${counted(movement.quantity, 'piece')} of ${line.name} received on order ${order.number} put right: not received.`
  const told = await toldOf(books, order, 'put right', sentence)
  return told.ok ? ok(undefined) : told
}
