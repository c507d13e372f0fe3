import type { z } from 'zod'
import type { Desk, OpenBooks } from '../answering.ts'
import { type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import type { PurchaseOrderId } from '../units/ids.ts'
import { type OrderDone, toldOf } from './draft-order-answers.ts'
import type { cancelOrderSchema, giveUpSchema, waitAgainSchema } from './order-shapes.ts'
import { openPieces } from './order-standing.ts'
import { orderToChange, wordsOf } from './order-to-change-answers.ts'
import { changeOrder, countOnLine, linesOfOrders, type OrderHead } from './orders-store.ts'

/** An order is done by itself when nothing of it is open, and awaited again when something is. Says whether it is done. */
export async function settleOrder(books: OpenBooks, orderId: PurchaseOrderId): Promise<boolean> {
  const lines = await linesOfOrders(books.read, books.officeId, [orderId])
  const isDone = lines.every((line) => openPieces(line) === 0)
  await changeOrder(books.tx, books.officeId, orderId, { state: isDone ? 'received' : 'sent' })
  return isDone
}

/** Drops a draft, or cancels what has not come of a sent order; what has come stays in stock. */
export function cancelOrder(desk: Desk, input: z.infer<typeof cancelOrderSchema>): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const found = await orderToChange(books, input, ['draft', 'sent'])
    if (!found.ok) return found
    const order = found.value
    if (order.state === 'sent' && input.reason === '') return refused('ORDER_NEEDS_REASON')
    const cancelled = { on: books.today, reason: input.reason }
    const lines = await linesOfOrders(books.read, books.officeId, [order.orderId])
    await changeOrder(books.tx, books.officeId, order.orderId, { state: 'cancelled', cancelled })
    return toldOf(books, order, 'cancelled', cancelWords(order, lines), input.reason)
  })
}

function cancelWords(
  order: OrderHead,
  lines: readonly { readonly quantity: number; readonly received: number; readonly givenUp: number }[],
): string {
  if (order.state === 'draft') return `${wordsOf(order)} is dropped.`
  const received = lines.reduce((sum, line) => sum + line.received, 0)
  const open = lines.reduce((sum, line) => sum + openPieces(line), 0)
  const left = `${counted(open, 'piece')} not awaited any more`
  return received === 0
    ? `Order ${order.number} is cancelled: ${left}.`
    : `The rest of order ${order.number} is cancelled: ${left}; the ${received} that came stay in stock.`
}

/** What is open is not waited for any more, on the lines named or on all; with the reason. */
export function giveUp(desk: Desk, input: z.infer<typeof giveUpSchema>): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    if (input.reason === '') return refused('ORDER_NEEDS_REASON')
    const found = await orderToChange(books, input, ['sent'])
    if (!found.ok) return found
    const order = found.value
    const lines = (await linesOfOrders(books.read, books.officeId, [order.orderId])).filter(
      (line) => openPieces(line) > 0 && (input.lineIds.length === 0 || input.lineIds.includes(line.lineId)),
    )
    if (lines.length === 0) return refused('ORDER_NOTHING_OPEN', { number: order.number })
    for (const line of lines) await countOnLine(books.tx, books.officeId, line.lineId, { givenUp: openPieces(line) })
    await settleOrder(books, order.orderId)
    const what = lines.map((line) => `${openPieces(line)} of ${line.name}`).join(', ')
    return toldOf(books, order, 'given up', `Order ${order.number}: ${what} not waited for any more.`, input.reason)
  })
}

/** What was given up is waited for after all. */
export function waitAgain(desk: Desk, input: z.infer<typeof waitAgainSchema>): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const found = await orderToChange(books, input, ['sent', 'received'])
    if (!found.ok) return found
    const order = found.value
    const lines = (await linesOfOrders(books.read, books.officeId, [order.orderId])).filter(
      (line) => line.givenUp > 0 && (input.lineIds.length === 0 || input.lineIds.includes(line.lineId)),
    )
    if (lines.length === 0) return refused('ORDER_NOTHING_GIVEN_UP', { number: order.number })
    for (const line of lines) await countOnLine(books.tx, books.officeId, line.lineId, { givenUp: -line.givenUp })
    await settleOrder(books, order.orderId)
    const what = lines.map((line) => `${line.givenUp} of ${line.name}`).join(', ')
    return toldOf(books, order, 'awaited', `Order ${order.number}: ${what} awaited again.`)
  })
}
