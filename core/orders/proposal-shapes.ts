import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { partIdSchema, supplierIdSchema } from '../units/ids.ts'
import { centsSchema } from '../units/money.ts'

const pieces = z.int().min(0)
const share = z.number().min(0).max(1)

export const proposalSchema = z.object({
  part: z.object({ partId: partIdSchema, number: z.string(), name: z.string() }),
  /** Pieces to order; 0 where pieces are missing but none can be ordered sensibly. */
  order: pieces,
  short: pieces,
  level: pieces,
  usable: pieces,
  packSize: pieces,
  /** The least that is sold at once, the price below every break, and the breaks: as the supplier's terms have them. */
  minimumQuantity: pieces,
  listPrice: centsSchema,
  breaks: z.array(z.object({ from: pieces, price: centsSchema })),
  /** A piece, at this quantity. */
  price: centsSchema,
  cost: centsSchema,
  covers: calendarDateSchema,
  /** The day on which the last piece may be expected to be gone, with what is on its way and without this order; null beyond the weeks ahead. */
  runsOutOn: calendarDateSchema.nullable(),
  sentence: z.string(),
  /** Short enough for the line of an order: what speaks for this quantity. */
  why: z.string(),
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
  /** What was done about that, in words; empty when nothing had to be. */
  about: z.string(),
  proposals: z.array(proposalSchema),
})
export type SupplierProposals = z.infer<typeof supplierProposalsSchema>

export const shortPartsSchema = z.object({ groups: z.array(supplierProposalsSchema), enough: pieces })
export type ShortParts = z.infer<typeof shortPartsSchema>

/** How many may be wanted until an order made now, and the next one, are there. */
export const wantedSchema = z.object({
  /** The chance of `from`, `from + 1` and so on pieces; whatever lies outside is less likely than one in ten thousand. */
  from: pieces,
  chances: z.array(share),
  booked: pieces,
  /** Pieces that households which did not book yet may ask for, and how many may be expected of them. */
  possible: pieces,
  expected: z.number().min(0),
  /** The level, and what is there and on its way; both without what is promised. */
  level: pieces,
  there: z.int(),
  servicePercent: z.number(),
  /** The chance that what is there is enough without ordering, and that the level is. */
  enoughNow: share,
  enoughAtLevel: share,
})
export type Wanted = z.infer<typeof wantedSchema>

export const weekAheadSchema = z.object({
  from: calendarDateSchema,
  until: calendarDateSchema,
  /** Expected use, pieces that come in, pieces that expire unused. */
  use: z.number().min(0),
  arrives: pieces,
  expires: z.number().min(0),
  /** On hand at the end of the week, without this order and with it; below zero what is missing by then. */
  left: z.number(),
  leftWithOrder: z.number(),
})
export type WeekAhead = z.infer<typeof weekAheadSchema>

export const priceChoiceSchema = z.object({
  quantity: pieces,
  price: centsSchema,
  /** What is paid; what keeping the pieces beyond the need costs; what they spare later. */
  paid: centsSchema,
  kept: centsSchema,
  spared: centsSchema,
  cost: centsSchema,
  chosen: z.boolean(),
})
export type PriceChoice = z.infer<typeof priceChoiceSchema>

/** How letters turn into visits in this office. */
export const lettersRecordSchema = z.object({
  /** First letters of the last two years that are older than `days`, and how many of them had led to a booking by then. */
  within: z.array(
    z.object({ days: pieces, letters: pieces, booked: pieces, reckonedPercent: z.number().min(0).max(100) }),
  ),
  young: pieces,
  /** As many letters as the office's own figure weighs, and that figure. */
  priorLetters: z.number().min(0),
  priorPercent: z.number().min(0).max(100),
  /** Each a sentence for the sheet. */
  sentences: z.array(z.string()),
})
export type LettersRecord = z.infer<typeof lettersRecordSchema>

export const proposalDetailSchema = proposalSchema.extend({
  supplierId: supplierIdSchema.nullable(),
  supplier: z.string(),
  /** Null for a part that is planned by its use of late. */
  wanted: wantedSchema.nullable(),
  weeks: z.array(weekAheadSchema),
  /** More than one where a lower price begins at a larger quantity. */
  prices: z.array(priceChoiceSchema),
  /** What would change this proposal, a sentence each. */
  changes: z.array(z.string()),
})
export type ProposalDetail = z.infer<typeof proposalDetailSchema>

export const openedProposalSchema = z.object({ proposal: proposalDetailSchema.nullable(), record: lettersRecordSchema })
export type OpenedProposal = z.infer<typeof openedProposalSchema>
