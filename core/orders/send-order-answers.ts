import type { z } from 'zod'
import type { Desk } from '../answering.ts'
import { type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import { composeOrder } from './compose-order-answers.ts'
import { type OrderDone, toldOf } from './draft-order-answers.ts'
import { expectedDelivery } from './expected-delivery.ts'
import type { sendOrderSchema, setExpectedSchema, setRemarkSchema } from './order-shapes.ts'
import { orderToChange } from './order-to-change-answers.ts'
import { changeOrder, nextOrderNumber, type OrderHead } from './orders-store.ts'
import { insertSentOrder } from './sent-orders-store.ts'
import { findSupplier } from './suppliers-store.ts'

/** The day on which an order sent today is awaited. */
export async function wouldCome(
  asks: Pick<Desk, 'read' | 'officeId' | 'today'>,
  order: Pick<OrderHead, 'leadTimeDays'>,
): Promise<CalendarDate> {
  const { workdays } = await readSettings(asks.read, asks.officeId)
  return expectedDelivery(asks.today, order.leadTimeDays, workdays)
}

/** Sends a draft: it gets its number and its expected day, and what it is sent with is kept. Its lines stand from now on. */
export function sendOrder(desk: Desk, input: z.infer<typeof sendOrderSchema>): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const { tx, read, officeId, today } = books
    const found = await orderToChange(books, input, ['draft'])
    if (!found.ok) return found
    const order = found.value
    const supplier = await findSupplier(read, officeId, order.supplierId)
    if (supplier?.closed) return refused('SUPPLIER_CLOSED', { supplier: supplier.name })
    const { locale } = await readSettings(read, officeId)
    const expectedOn = input.expectedOn ?? (await wouldCome(books, order))
    if (expectedOn < today)
      return refused('ORDER_EXPECTED_PAST', { number: order.number, date: shortDate(expectedOn, locale) })
    const composed = await composeOrder(books, order, expectedOn)
    if (composed.lines.length === 0) return refused('ORDER_EMPTY')
    const number = await nextOrderNumber(tx, officeId, today)
    await changeOrder(tx, officeId, order.orderId, { state: 'sent', number, sentOn: today, expectedOn })
    await insertSentOrder(tx, officeId, order.orderId, composed, composed.lines)
    const sentence = `Order ${number} is sent to ${order.supplier}, expected ${shortDate(expectedOn, locale)}.`
    return toldOf(books, { orderId: order.orderId, number }, 'sent', sentence)
  })
}

/** Another day is expected; the one before stays in the log. */
export function setExpected(desk: Desk, input: z.infer<typeof setExpectedSchema>): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const found = await orderToChange(books, input, ['sent'])
    if (!found.ok) return found
    const { number, expectedOn } = found.value
    const { locale } = await readSettings(books.read, books.officeId)
    const day = shortDate(input.expectedOn, locale)
    if (input.expectedOn < books.today) return refused('ORDER_EXPECTED_PAST', { number, date: day })
    await changeOrder(books.tx, books.officeId, input.orderId, { expectedOn: input.expectedOn })
    const before = expectedOn === null ? 'no day' : shortDate(expectedOn, locale)
    return toldOf(
      books,
      found.value,
      'moved',
      `Order ${number} is expected ${day}, before it was ${before}.`,
      input.why,
    )
  })
}

/** The office's own remark; what was printed when it was sent stays. */
export function setRemark(desk: Desk, input: z.infer<typeof setRemarkSchema>): Promise<Result<OrderDone>> {
  return desk.write(async (books) => {
    const found = await orderToChange(books, input, ['sent', 'received', 'cancelled'])
    if (!found.ok) return found
    await changeOrder(books.tx, books.officeId, input.orderId, { note: input.note })
    return toldOf(books, found.value, 'changed', `The remark on order ${found.value.number} is changed.`, input.note)
  })
}
