import { z } from 'zod'
import { procedure } from '../door.ts'
import { stageKindSchema } from '../installations/stage-kinds.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  lotIdSchema,
  movementIdSchema,
  partIdSchema,
  placeIdSchema,
  technicianIdSchema,
  vanIdSchema,
  visitIdSchema,
} from '../units/ids.ts'
import { millilitresSchema } from '../units/measures.ts'
import { centsSchema } from '../units/money.ts'
import { minutesSchema } from '../units/time-of-day.ts'

const pieces = z.int().min(0)
/** As it was typed: whether it is a number of pieces is judged with a sentence of its own. */
const typedPieces = z.number()
const note = z.string().trim().max(200)

export const partLedgerRowSchema = z.object({
  partId: partIdSchema,
  number: z.string(),
  name: z.string(),
  stageKind: stageKindSchema.nullable(),
  inBins: pieces,
  onVans: pieces,
  elsewhere: pieces,
  /** Recalled, or past its date. */
  unusable: pieces,
  promised: pieces,
  onOrder: pieces,
  nextDeliveryOn: calendarDateSchema.nullable(),
  firstExpiry: calendarDateSchema.nullable(),
  lots: pieces,
  price: centsSchema,
  leastToKeep: pieces.nullable(),
  /** Pieces that every van always carries. */
  vanPar: pieces,
  closed: z.boolean(),
})
export type PartLedgerRow = z.infer<typeof partLedgerRowSchema>

/** What can be written of a part. */
export const partFieldsSchema = z.object({
  number: z.string().trim().min(1, 'The part needs a number.').max(40),
  name: z.string().trim().min(1, 'The part needs a name.').max(80),
  stageKind: stageKindSchema.nullable(),
  gtin: z.string().trim().max(14),
  price: centsSchema.min(0, 'A price is not below zero.'),
  cost: centsSchema.min(0, 'A cost is not below zero.'),
  taxFree: z.boolean(),
  ratedMillilitres: millilitresSchema.nullable(),
  shelfMonths: z.int().min(1).max(240).nullable(),
  fitMinutes: minutesSchema.nullable(),
  perVisitQuantity: z.int().min(0).max(100),
  /** Pieces that every van always carries. */
  vanPar: z.int().min(0).max(1000).default(0),
  /** Room that a piece takes. */
  spaceMillilitres: z.int().min(1, 'Above 0; blank where nobody measured it.').max(1_000_000).nullable().default(null),
  leastToKeep: z.int().min(0).max(100_000).nullable(),
  serviceLevelPercent: z.number().min(50).max(99.9).nullable(),
  note: z.string().trim().max(500),
  closedOn: calendarDateSchema.nullable(),
})
export type PartFields = z.infer<typeof partFieldsSchema>

const partName = z.object({ partId: partIdSchema, number: z.string(), name: z.string() })
const placeKind = z.enum(['bin', 'van', 'quarantine', 'transit'])

export const lotHeapSchema = z.object({
  placeId: placeIdSchema,
  place: z.string(),
  kind: placeKind,
  quantity: pieces,
  promised: pieces,
})

export const lotDetailSchema = z.object({
  lotId: lotIdSchema,
  lot: z.string(),
  expiresOn: calendarDateSchema.nullable(),
  receivedOn: calendarDateSchema,
  recalledOn: calendarDateSchema.nullable(),
  recallNote: z.string(),
  heaps: z.array(lotHeapSchema),
})
export type LotDetail = z.infer<typeof lotDetailSchema>

export const partDetailSchema = z.object({
  partId: partIdSchema,
  version: z.int(),
  fields: partFieldsSchema,
  /** Lots that lie somewhere, the first to expire first; then those used up lately. */
  lots: z.array(lotDetailSchema),
  substitutes: z.array(partName),
  bins: z.array(z.object({ placeId: placeIdSchema, name: z.string() })),
  awaited: z.array(
    z.object({
      orderNumber: z.string(),
      supplier: z.string(),
      quantity: pieces,
      expectedOn: calendarDateSchema.nullable(),
    }),
  ),
})
export type PartDetail = z.infer<typeof partDetailSchema>

export const MOVEMENT_REASONS = [
  'receive',
  'move',
  'pull',
  'fit',
  'return',
  'count',
  'scrap',
  'recall',
  'correct',
] as const

export const movementSchema = z.object({
  movementId: movementIdSchema,
  movedOn: calendarDateSchema,
  lot: z.string(),
  from: z.string().nullable(),
  to: z.string().nullable(),
  quantity: pieces,
  reason: z.enum(MOVEMENT_REASONS),
  by: z.string(),
  note: z.string(),
  visitId: visitIdSchema.nullable(),
  corrected: z.boolean(),
  /** Whether it can be put right here; what a visit used is put right there. */
  canBePutRight: z.boolean(),
})
export type MovementLine = z.infer<typeof movementSchema>

const vanPars = z.array(z.object({ partId: partIdSchema, par: z.int().min(0).max(1000) })).max(500)

export const placeSchema = z.object({
  placeId: placeIdSchema,
  kind: placeKind,
  name: z.string(),
  aisle: z.string(),
  walkOrder: z.int(),
  pieces,
  closedOn: calendarDateSchema.nullable(),
  version: z.int(),
  van: z
    .object({
      vanId: vanIdSchema,
      technicianId: technicianIdSchema.nullable(),
      technician: z.string().nullable(),
      roomMillilitres: z.int().nullable(),
      /** What it carries otherwise than the parts say. */
      pars: vanPars,
      version: z.int(),
    })
    .nullable(),
})
export type PlaceLine = z.infer<typeof placeSchema>

export const receiveSchema = z.object({
  partId: partIdSchema,
  lot: z.string().trim().max(40),
  expiresOn: calendarDateSchema.nullable(),
  /** Those that go into the bin. */
  quantity: typedPieces,
  /** Those that came damaged and go into quarantine, beside the others. */
  damaged: typedPieces.optional(),
  placeId: placeIdSchema,
  /** A piece; null for what the part usually costs. */
  cost: centsSchema.min(0).nullable(),
  note,
  /** Said when more of a lot comes in that is in the books already. */
  furtherDelivery: z.boolean(),
})
export type Receive = z.infer<typeof receiveSchema>

/** What lay where at the end of a day. Names are told once; lots and heaps travel as one text each, so that a hundred thousand of them cost little. */
export const onHandSchema = z.object({
  on: calendarDateSchema,
  parts: z.array(z.object({ partId: partIdSchema, number: z.string(), name: z.string() })),
  /** Five figures a lot, all by commas, and their numbers in the same order. `readLots` reads them. */
  lots: z.object({ figures: z.string(), numbers: z.array(z.string()) }),
  places: z.array(z.object({ placeId: placeIdSchema, name: z.string(), kind: placeKind })),
  /** Three figures a heap, all by commas: key of its lot, key of its place, pieces. `readHeaps` reads them. */
  heaps: z.string(),
})
export type OnHand = z.infer<typeof onHandSchema>

export const onTheWaySchema = z.object({
  lotId: lotIdSchema,
  lot: z.string(),
  partId: partIdSchema,
  number: z.string(),
  part: z.string(),
  /** The place that stands for the way. */
  transitPlaceId: placeIdSchema,
  /** Null when nobody said where they are to arrive. */
  boundForPlaceId: placeIdSchema.nullable(),
  boundFor: z.string(),
  quantity: pieces,
  sentOn: calendarDateSchema.nullable(),
  by: z.string(),
})
export type OnTheWay = z.infer<typeof onTheWaySchema>

const moved = z.object({
  movementId: movementIdSchema.nullable(),
  /** What was moved besides, by the same press. */
  further: z.array(movementIdSchema).optional(),
  /** The lot that it was, where one was received. */
  lotId: lotIdSchema.optional(),
  sentence: z.string(),
})
export type Moved = z.infer<typeof moved>

/** The ledger of parts: what is where, and every change of it. */
export const stockContract = {
  parts: procedure.output(z.array(partLedgerRowSchema)),
  part: procedure.input(z.object({ partId: partIdSchema })).output(partDetailSchema),
  savePart: procedure
    .input(
      z.object({
        partId: partIdSchema.nullable(),
        version: z.int().nullable(),
        fields: partFieldsSchema,
        substitutes: z.array(partIdSchema),
        bins: z.array(placeIdSchema),
      }),
    )
    .output(z.object({ partId: partIdSchema })),
  movements: procedure
    .input(z.object({ partId: partIdSchema, before: movementIdSchema.nullable() }))
    .output(z.object({ movements: z.array(movementSchema), more: z.boolean(), total: z.int().min(0) })),
  places: procedure.output(
    z.object({
      places: z.array(placeSchema),
      drivers: z.array(z.object({ technicianId: technicianIdSchema, name: z.string() })),
    }),
  ),
  saveBin: procedure
    .input(
      z.object({
        placeId: placeIdSchema.nullable(),
        version: z.int().nullable(),
        kind: z.enum(['bin', 'quarantine', 'transit']),
        name: z.string().trim().min(1, 'The bin needs a name.').max(30),
        aisle: z.string().trim().max(20),
        walkOrder: z.int().min(0).max(100_000),
        inUse: z.boolean(),
      }),
    )
    .output(z.object({ placeId: placeIdSchema })),
  saveVan: procedure
    .input(
      z.object({
        vanId: vanIdSchema.nullable(),
        version: z.int().nullable(),
        name: z.string().trim().min(1, 'The van needs a name.').max(30),
        technicianId: technicianIdSchema.nullable(),
        roomMillilitres: z.int().min(1).max(100_000_000).nullable().default(null),
        pars: vanPars.default([]),
        inUse: z.boolean(),
      }),
    )
    .output(z.object({ vanId: vanIdSchema })),
  receive: procedure.input(receiveSchema).output(moved),
  move: procedure
    .input(
      z.object({
        lotId: lotIdSchema,
        fromPlaceId: placeIdSchema,
        toPlaceId: placeIdSchema,
        quantity: typedPieces,
        note,
      }),
    )
    .output(moved),
  /** On the way from one place to another; they arrive when somebody says so. */
  send: procedure
    .input(
      z.object({
        lotId: lotIdSchema,
        fromPlaceId: placeIdSchema,
        boundForPlaceId: placeIdSchema,
        quantity: typedPieces,
        note,
      }),
    )
    .output(moved),
  onTheWay: procedure.output(z.array(onTheWaySchema)),
  /** What was on the way has come, wherever it was bound for. */
  arrive: procedure
    .input(
      z.object({
        lotId: lotIdSchema,
        transitPlaceId: placeIdSchema,
        boundForPlaceId: placeIdSchema.nullable(),
        toPlaceId: placeIdSchema,
        quantity: typedPieces,
        note,
      }),
    )
    .output(moved),
  /** What lay where at the end of a day: today's as the books stand now. */
  onHand: procedure.input(z.object({ on: calendarDateSchema.nullable() })).output(onHandSchema),
  /** `seen` is what the books said when the counting began. */
  count: procedure
    .input(z.object({ lotId: lotIdSchema, placeId: placeIdSchema, seen: pieces, counted: typedPieces, note }))
    .output(moved),
  /** Thrown away: the reason has to be said. */
  scrap: procedure
    .input(z.object({ lotId: lotIdSchema, placeId: placeIdSchema, quantity: typedPieces, note }))
    .output(moved),
  /** Back from a household into a place, or from a place back to the supplier. */
  giveBack: procedure
    .input(
      z.object({
        lotId: lotIdSchema,
        placeId: placeIdSchema,
        way: z.enum(['from-household', 'to-supplier']),
        quantity: typedPieces,
        note,
      }),
    )
    .output(moved),
  putRight: procedure.input(z.object({ movementId: movementIdSchema, note })).output(moved),
}
