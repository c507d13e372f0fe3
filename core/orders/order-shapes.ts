import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  eventIdSchema,
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  purchaseOrderIdSchema,
  purchaseOrderLineIdSchema,
  siteIdSchema,
  stageIdSchema,
  supplierIdSchema,
  visitIdSchema,
} from '../units/ids.ts'
import { centsSchema } from '../units/money.ts'

const pieces = z.int().min(0)
const wantedPieces = z.int().min(0).max(1_000_000)
const partName = z.object({ partId: partIdSchema, number: z.string(), name: z.string() })
const price = centsSchema.min(0, 'A price is not below zero.')
const remark = z.string().trim().max(500)
const reason = z.string().trim().max(300)

export const ORDER_STATES = ['draft', 'sent', 'received', 'cancelled'] as const
export const STANDINGS = ['draft', 'awaited', 'part', 'late', 'closed', 'cancelled'] as const

export const orderRowSchema = z.object({
  orderId: purchaseOrderIdSchema,
  /** "PO-2026-0007"; "draft 12" until it is sent. */
  number: z.string(),
  supplierId: supplierIdSchema,
  supplier: z.string(),
  state: z.enum(ORDER_STATES),
  draftedOn: calendarDateSchema,
  sentOn: calendarDateSchema.nullable(),
  expectedOn: calendarDateSchema.nullable(),
  cost: centsSchema,
  version: z.int(),
  standing: z.enum(STANDINGS),
  /** How it stands, in words: "8 days late", and below "expected Nov 20, 7 of 12 pieces came". */
  words: z.object({ first: z.string(), second: z.string() }),
  lineCount: pieces,
  /** Pieces still awaited. */
  open: pieces,
  daysLate: pieces,
})
export type OrderRow = z.infer<typeof orderRowSchema>

export const priceBreakSchema = z.object({ from: z.int().min(1).max(1_000_000), price })

/** What one supplier sells a part at. */
export const soldPartSchema = z.object({
  part: partName,
  supplierNumber: z.string(),
  price: centsSchema,
  packSize: z.int(),
  minimumQuantity: pieces,
  breaks: z.array(z.object({ from: z.int(), price: centsSchema })),
})
export type SoldPart = z.infer<typeof soldPartSchema>

export const orderLineSchema = z.object({
  lineId: purchaseOrderLineIdSchema,
  part: partName,
  /** To know a scan of it by; empty for none. */
  gtin: z.string(),
  /** Null when the supplier does not sell it any more. */
  terms: soldPartSchema.omit({ part: true }).nullable(),
  quantity: pieces,
  received: pieces,
  damaged: pieces,
  givenUp: pieces,
  open: pieces,
  price: centsSchema,
  amount: centsSchema,
  /** The bin in which the part usually lies. */
  usualPlaceId: placeIdSchema.nullable(),
  reason: z.string(),
  /** "12 ordered, 7 received, 5 awaited". */
  words: z.string(),
})
export type OrderLineRow = z.infer<typeof orderLineSchema>

export const receiptLineSchema = z.object({
  part: partName,
  lotId: lotIdSchema,
  lot: z.string(),
  expiresOn: calendarDateSchema.nullable(),
  accepted: pieces,
  damaged: pieces,
  price: centsSchema,
  /** Charged against ordered, in words; empty when they agree. */
  difference: z.string(),
  /** Pieces of it that were put right since. */
  putRight: pieces,
})
export const receiptSchema = z.object({
  receiptId: z.int(),
  receivedOn: calendarDateSchema,
  by: z.string(),
  note: z.string(),
  /** Good pieces of it that were not put right since: as many labels. */
  toLabel: pieces,
  lines: z.array(receiptLineSchema),
})
export type ReceiptRow = z.infer<typeof receiptSchema>

export const orderSchema = orderRowSchema.extend({
  note: z.string(),
  cancelledReason: z.string(),
  minimumOrder: centsSchema,
  /** What the order lacks to the supplier's least value. */
  lacks: centsSchema,
  /** The day on which it would be awaited if it were sent today. */
  wouldCome: calendarDateSchema,
  lines: z.array(orderLineSchema),
  receipts: z.array(receiptSchema),
  /** Booked visits that go without until it comes, the next first, at most so many of `count`; null when it comes in time for all. */
  waiting: z
    .object({
      sentence: z.string(),
      count: pieces,
      visits: z.array(
        z.object({
          visitId: visitIdSchema,
          on: calendarDateSchema,
          household: z.string(),
          lacks: z.array(z.string()),
        }),
      ),
    })
    .nullable(),
  /** What the deliveries were charged above what was ordered; below zero when less. */
  difference: centsSchema,
  /** To copy into a mail. */
  text: z.string(),
  email: z.string(),
  trace: z.array(
    z.object({
      eventId: eventIdSchema,
      on: calendarDateSchema,
      by: z.string(),
      sentence: z.string(),
      details: z.string(),
    }),
  ),
})
export type OrderInFull = z.infer<typeof orderSchema>

export const draftLinesSchema = z.object({
  supplierId: supplierIdSchema,
  lines: z.array(z.object({ partId: partIdSchema, quantity: wantedPieces })).max(500),
})
export type DraftLines = z.infer<typeof draftLinesSchema>

const ofOrder = { orderId: purchaseOrderIdSchema, version: z.int() }

export const saveDraftSchema = z.object({
  ...ofOrder,
  /** The whole draft; a part stands once, 0 pieces leave it out. Price null: by the supplier's terms. */
  lines: z.array(z.object({ partId: partIdSchema, quantity: wantedPieces, price: price.nullable() })).max(500),
  note: remark,
})
export type SaveDraft = z.infer<typeof saveDraftSchema>

/** Expected null: the supplier's days from today. */
export const sendOrderSchema = z.object({ ...ofOrder, expectedOn: calendarDateSchema.nullable() })
export const setExpectedSchema = z.object({ ...ofOrder, expectedOn: calendarDateSchema, why: reason })
export const setRemarkSchema = z.object({ ...ofOrder, note: remark })
export const cancelOrderSchema = z.object({ ...ofOrder, reason })
/** No line named: all that is open. */
export const giveUpSchema = z.object({ ...ofOrder, lineIds: z.array(purchaseOrderLineIdSchema), reason })
export const waitAgainSchema = z.object({ ...ofOrder, lineIds: z.array(purchaseOrderLineIdSchema) })

export const deliveredLineSchema = z.object({
  lineId: purchaseOrderLineIdSchema,
  /** Pieces of the line that had come when the person looked. */
  seen: pieces,
  lot: z.string().trim().max(40),
  expiresOn: calendarDateSchema.nullable(),
  /** As typed: whether they are numbers of pieces is judged with a sentence of its own. */
  accepted: z.number(),
  damaged: z.number(),
  /** What the supplier does with the damaged ones: sends them again (they stay awaited), or not. */
  replaced: z.boolean(),
  placeId: placeIdSchema,
  /** What a piece is charged at. */
  price,
  /** The charged price becomes the supplier's price for the part. */
  keepPrice: z.boolean(),
  furtherDelivery: z.boolean(),
})
export type DeliveredLine = z.infer<typeof deliveredLineSchema>

export const receiveOrderSchema = z.object({
  orderId: purchaseOrderIdSchema,
  note: z.string().trim().max(200),
  /** More than was ordered is taken in and counted. */
  takeAll: z.boolean(),
  lines: z.array(deliveredLineSchema).min(1).max(200),
})
export type ReceiveOrder = z.infer<typeof receiveOrderSchema>

export const supplierSchema = z.object({
  supplierId: supplierIdSchema,
  name: z.string(),
  account: z.string(),
  line1: z.string(),
  line2: z.string(),
  town: z.string(),
  region: z.string(),
  postalCode: z.string(),
  country: z.string(),
  phone: z.string(),
  email: z.string(),
  leadTimeDays: z.int(),
  reviewDays: z.int().nullable(),
  minimumOrder: centsSchema,
  note: z.string(),
  closed: z.boolean(),
  version: z.int(),
})
export type SupplierRow = z.infer<typeof supplierSchema>

const line = (most: number) => z.string().trim().max(most)

export const saveSupplierSchema = z.object({
  supplierId: supplierIdSchema.nullable(),
  version: z.int().nullable(),
  name: line(80).min(1, 'The supplier needs a name.'),
  account: line(40).default(''),
  line1: line(80).default(''),
  line2: line(80).default(''),
  town: line(60).default(''),
  region: line(40).default(''),
  postalCode: line(20).default(''),
  country: line(40).default(''),
  phone: line(40),
  email: line(120),
  leadTimeDays: z.int().min(0).max(365),
  reviewDays: z.int().min(1).max(365).nullable(),
  minimumOrder: centsSchema.min(0),
  note: line(500).default(''),
  /** Nothing is ordered of it any more. */
  closed: z.boolean().default(false),
})
export type SaveSupplier = z.infer<typeof saveSupplierSchema>

export const saveTermSchema = z.object({
  supplierId: supplierIdSchema,
  partId: partIdSchema,
  supplierNumber: line(40),
  price,
  packSize: z.int().min(1).max(10_000),
  minimumQuantity: z.int().min(0).max(100_000),
  preferred: z.boolean(),
  /** Lower prices from so many pieces on, for every piece. */
  breaks: z.array(priceBreakSchema).max(12).default([]),
})
export type SaveTerm = z.infer<typeof saveTermSchema>
export const termSchema = saveTermSchema.extend({ supplier: z.string(), breaks: z.array(priceBreakSchema) })
export type TermRow = z.infer<typeof termSchema>

/** Whether the parts of a visit are there on each of some days. */
export const partsForVisitSchema = z.object({
  siteId: siteIdSchema,
  /** The visit that is moved: what it needs itself counts for nobody else. */
  visitId: visitIdSchema.nullable(),
  /** Stages that are changed. */
  stageIds: z.array(stageIdSchema).max(200),
  days: z.array(calendarDateSchema).max(60),
})
export const partsOfDaySchema = z.object({ on: calendarDateSchema, sentences: z.array(z.string()) })
export type PartsOfDay = z.infer<typeof partsOfDaySchema>
