import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  partIdSchema,
  placeIdSchema,
  purchaseOrderIdSchema,
  purchaseOrderLineIdSchema,
  supplierIdSchema,
} from '../units/ids.ts'
import { centsSchema } from '../units/money.ts'

const pieces = z.int().min(0)
const partName = z.object({ partId: partIdSchema, number: z.string(), name: z.string() })

export const proposalSchema = z.object({
  part: partName,
  order: pieces,
  short: pieces,
  level: pieces,
  usable: pieces,
  packSize: pieces,
  price: centsSchema,
  cost: centsSchema,
  covers: calendarDateSchema,
  sentence: z.string(),
  /** The sum behind it, a line each; they add up to `order` when anything is to be ordered. */
  lines: z.array(z.object({ kind: z.string(), words: z.string(), pieces: z.int() })),
})
export type ProposalRow = z.infer<typeof proposalSchema>

export const supplierProposalsSchema = z.object({
  /** Null for parts that nobody sells yet. */
  supplierId: supplierIdSchema.nullable(),
  supplier: z.string(),
  cost: centsSchema,
  /** What the order lacks to the supplier's least value. */
  lacks: centsSchema,
  proposals: z.array(proposalSchema),
})
export type SupplierProposals = z.infer<typeof supplierProposalsSchema>

export const shortPartsSchema = z.object({ groups: z.array(supplierProposalsSchema), enough: pieces })
export type ShortParts = z.infer<typeof shortPartsSchema>

export const ORDER_STATES = ['draft', 'sent', 'received', 'cancelled'] as const

export const orderLineSchema = z.object({
  lineId: purchaseOrderLineIdSchema,
  part: partName,
  quantity: pieces,
  received: pieces,
  price: centsSchema,
  reason: z.string(),
})
export const orderSchema = z.object({
  orderId: purchaseOrderIdSchema,
  number: z.string(),
  supplierId: supplierIdSchema,
  supplier: z.string(),
  state: z.enum(ORDER_STATES),
  draftedOn: calendarDateSchema,
  sentOn: calendarDateSchema.nullable(),
  expectedOn: calendarDateSchema.nullable(),
  cost: centsSchema,
  version: z.int(),
  lines: z.array(orderLineSchema),
})
export type OrderRow = z.infer<typeof orderSchema>

export const supplierSchema = z.object({
  supplierId: supplierIdSchema,
  name: z.string(),
  phone: z.string(),
  email: z.string(),
  leadTimeDays: z.int(),
  reviewDays: z.int().nullable(),
  minimumOrder: centsSchema,
  closed: z.boolean(),
  version: z.int(),
})
export type SupplierRow = z.infer<typeof supplierSchema>

export const saveSupplierSchema = z.object({
  supplierId: supplierIdSchema.nullable(),
  version: z.int().nullable(),
  name: z.string().trim().min(1, 'The supplier needs a name.').max(80),
  phone: z.string().trim().max(40),
  email: z.string().trim().max(120),
  leadTimeDays: z.int().min(0).max(365),
  reviewDays: z.int().min(1).max(365).nullable(),
  minimumOrder: centsSchema.min(0),
})

export const saveTermSchema = z.object({
  supplierId: supplierIdSchema,
  partId: partIdSchema,
  supplierNumber: z.string().trim().max(40),
  price: centsSchema.min(0),
  packSize: z.int().min(1).max(10_000),
  minimumQuantity: z.int().min(0).max(100_000),
  preferred: z.boolean(),
})
export const termSchema = saveTermSchema.extend({ supplier: z.string() })
export type TermRow = z.infer<typeof termSchema>

const orderDone = z.object({ orderId: purchaseOrderIdSchema, number: z.string(), sentence: z.string() })

/** What runs short, what to order of whom, and what was ordered. */
export const ordersContract = {
  proposals: procedure.output(shortPartsSchema),
  /** Drafts (not sent) and sent orders that are awaited, then the latest received and cancelled. */
  list: procedure.output(z.array(orderSchema)),
  draft: procedure
    .input(
      z.object({
        supplierId: supplierIdSchema,
        lines: z.array(z.object({ partId: partIdSchema, quantity: pieces })),
      }),
    )
    .output(orderDone),
  changeDraft: procedure
    .input(
      z.object({
        orderId: purchaseOrderIdSchema,
        version: z.int(),
        lines: z.array(z.object({ lineId: purchaseOrderLineIdSchema, quantity: pieces })),
      }),
    )
    .output(orderDone),
  send: procedure.input(z.object({ orderId: purchaseOrderIdSchema })).output(orderDone),
  cancel: procedure.input(z.object({ orderId: purchaseOrderIdSchema })).output(orderDone),
  receive: procedure
    .input(
      z.object({
        orderId: purchaseOrderIdSchema,
        lineId: purchaseOrderLineIdSchema,
        lot: z.string().trim().max(40),
        expiresOn: calendarDateSchema.nullable(),
        quantity: z.number(),
        placeId: placeIdSchema,
        furtherDelivery: z.boolean(),
      }),
    )
    .output(orderDone),
  suppliers: procedure.output(z.array(supplierSchema)),
  saveSupplier: procedure.input(saveSupplierSchema).output(z.object({ supplierId: supplierIdSchema })),
  terms: procedure.input(z.object({ partId: partIdSchema })).output(z.array(termSchema)),
  saveTerm: procedure.input(saveTermSchema).output(z.object({ partId: partIdSchema })),
}
