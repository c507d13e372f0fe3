import { z } from 'zod'
import { procedure } from '../door.ts'
import { movementIdSchema, partIdSchema, purchaseOrderIdSchema, supplierIdSchema } from '../units/ids.ts'
import {
  cancelOrderSchema,
  draftLinesSchema,
  giveUpSchema,
  orderRowSchema,
  orderSchema,
  partsForVisitSchema,
  partsOfDaySchema,
  receiveOrderSchema,
  saveDraftSchema,
  saveSupplierSchema,
  saveTermSchema,
  sendOrderSchema,
  setExpectedSchema,
  setRemarkSchema,
  soldPartSchema,
  supplierSchema,
  termSchema,
  waitAgainSchema,
} from './order-shapes.ts'
import { proposalsContract } from './proposals-contract.ts'

const orderDone = z.object({ orderId: purchaseOrderIdSchema, number: z.string(), sentence: z.string() })

/** What runs short, what to order of whom, and what was ordered. */
export const ordersContract = {
  ...proposalsContract,
  /** Drafts (not sent) and sent orders that are awaited, then the latest received and cancelled. */
  list: procedure.output(z.array(orderRowSchema)),
  one: procedure.input(z.object({ orderId: purchaseOrderIdSchema })).output(orderSchema),
  /** A draft to one supplier, with lines or empty. */
  draft: procedure.input(draftLinesSchema).output(orderDone),
  /** A draft a supplier, all or none. */
  draftAll: procedure
    .input(z.object({ drafts: z.array(draftLinesSchema).min(1).max(100) }))
    .output(z.object({ orders: z.array(orderDone), sentence: z.string() })),
  saveDraft: procedure.input(saveDraftSchema).output(orderDone),
  send: procedure.input(sendOrderSchema).output(orderDone),
  setExpected: procedure.input(setExpectedSchema).output(orderDone),
  setRemark: procedure.input(setRemarkSchema).output(orderDone),
  cancel: procedure.input(cancelOrderSchema).output(orderDone),
  /** What is open is not waited for any more. */
  giveUp: procedure.input(giveUpSchema).output(orderDone),
  waitAgain: procedure.input(waitAgainSchema).output(orderDone),
  /** A delivery against a sent order: one receipt, a line a lot. */
  receive: procedure.input(receiveOrderSchema).output(orderDone.extend({ movements: z.array(movementIdSchema) })),
  partsForVisit: procedure.input(partsForVisitSchema).output(z.array(partsOfDaySchema)),
  suppliers: procedure.output(z.array(supplierSchema)),
  saveSupplier: procedure.input(saveSupplierSchema).output(z.object({ supplierId: supplierIdSchema })),
  /** What a supplier sells, by part number. */
  soldBy: procedure.input(z.object({ supplierId: supplierIdSchema })).output(z.array(soldPartSchema)),
  terms: procedure.input(z.object({ partId: partIdSchema })).output(z.array(termSchema)),
  saveTerm: procedure.input(saveTermSchema).output(z.object({ partId: partIdSchema })),
}
