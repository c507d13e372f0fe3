import type { PaperAnswer } from '../answering.ts'
import { ok, refused } from '../result.ts'
import { purchaseOrderIdSchema } from '../units/ids.ts'
import { orderAsKept } from './compose-order-answers.ts'
import { writeOrder } from './order-paper.ts'
import { findOrder } from './orders-store.ts'
import { wouldCome } from './send-order-answers.ts'

/** `/papers/orders/12.pdf`: an order by its key. What was sent is printed as it was sent, to the byte; a draft as it would be today. */
export const orderPaper: PaperAnswer = {
  address: '/papers/orders/:order',
  make: async (desk, names) => {
    const key = purchaseOrderIdSchema.safeParse(Number(names.order))
    const order = key.success ? await findOrder(desk.read, desk.officeId, key.data) : null
    if (!order) return refused('RECORD_GONE', { what: 'This order' })
    const isSent = order.sentOn !== null
    const sent = await orderAsKept(desk, order, await wouldCome(desk, order))
    const on = order.sentOn ?? desk.today
    const facts = {
      title: isSent ? `Order ${order.number}` : `Order, draft to ${order.supplier}`,
      officeName: sent.senderName,
      locale: sent.locale,
      pageSize: sent.pageSize,
      printedOn: on,
      madeAt: isSent ? sent.sentAt : desk.now,
    }
    const page = { order: sent, number: isSent ? order.number : null, on }
    return ok({
      fileName: `order-${order.number.replace(' ', '-')}.pdf`,
      contentType: 'application/pdf' as const,
      write: async (sink) => void (await writeOrder(page, facts, sink)),
    })
  },
}
