import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { lotIdSchema, partIdSchema, placeIdSchema } from '../units/ids.ts'
import { centsSchema } from '../units/money.ts'

const pieces = z.int().min(0)
/** As it was typed: whether it is a number of pieces is judged with a sentence of its own. */
const typedPieces = z.number()
const note = z.string().trim().max(200)
const countId = z.int().positive()
const lineId = z.int().positive()
const toOne = z.object({ countId })
const said = z.object({ sentence: z.string() })

const heap = z.object({
  placeId: placeIdSchema,
  place: z.string(),
  partId: partIdSchema,
  number: z.string(),
  part: z.string(),
  lotId: lotIdSchema,
  lot: z.string(),
})

/** A lot at a place that is to be counted, and why. What the books say lies there is not among it. */
export const heapToCountSchema = heap.extend({
  aisle: z.string(),
  why: z.string(),
  lastCountedOn: calendarDateSchema.nullable(),
  /** What was fitted of the part in a year, at its cost. */
  usedValue: centsSchema,
})
export type HeapRow = z.infer<typeof heapToCountSchema>

/** In the order of the walk; `waiting` is due as well but beyond the week's limit, of which `counted` is used up. */
export const weekToCountSchema = z.object({
  heaps: z.array(heapToCountSchema),
  waiting: pieces,
  limit: pieces,
  counted: pieces,
})
export type WeekToCount = z.infer<typeof weekToCountSchema>

export const COUNT_STATES = ['open', 'approved', 'dropped'] as const

export const countRoundSchema = z.object({
  countId,
  name: z.string(),
  on: calendarDateSchema,
  state: z.enum(COUNT_STATES),
  begunBy: z.string(),
  endedAt: z.string().nullable(),
  endedBy: z.string(),
  lines: pieces,
  counted: pieces,
})
export type CountRound = z.infer<typeof countRoundSchema>

/** A line while it is counted: blind, so nothing here says what the books expect. */
export const countLineSchema = heap.extend({
  lineId,
  aisle: z.string(),
  expiresOn: calendarDateSchema.nullable(),
  why: z.string(),
  counted: pieces.nullable(),
  countedAt: z.string().nullable(),
  countedBy: z.string(),
  note: z.string(),
})
export type CountLine = z.infer<typeof countLineSchema>

/** A line after it was counted, beside what the books said at that moment. */
export const comparedLineSchema = heap.extend({
  lineId,
  counted: pieces,
  countedBy: z.string(),
  note: z.string(),
  booksSaid: pieces,
  difference: z.int(),
  /** The difference at what the lot cost; below zero when pieces are missing. */
  value: centsSchema,
  /** What came (above zero) or went (below) by the books after it was counted. */
  movedSince: z.int(),
  /** What the books will say when it is approved; below zero when it cannot be. */
  willBe: z.int(),
  promised: pieces,
  /** The pulls that hold more than there will be: "van 2 for Dec 2: 3 pieces". */
  pulls: z.array(z.string()),
})
export type ComparedLine = z.infer<typeof comparedLineSchema>

/** Where a round goes: what is to be counted this week, an aisle, one place, or everything that lies anywhere. */
export const countScopeSchema = z.discriminatedUnion('of', [
  z.object({ of: z.literal('week') }),
  z.object({ of: z.literal('aisle'), aisle: z.string() }),
  z.object({ of: z.literal('place'), placeId: placeIdSchema }),
  z.object({ of: z.literal('all') }),
])
export type CountScope = z.infer<typeof countScopeSchema>

export const beginCountSchema = z.object({
  name: z.string().trim().min(1, 'The round needs a name.').max(60),
  scope: countScopeSchema,
})
export type BeginCount = z.infer<typeof beginCountSchema>
export const begunCountSchema = z.object({ countId, lines: pieces })
export type BegunCount = z.infer<typeof begunCountSchema>

/** Counting the shelves in rounds: what to count and why, a blind count, the differences, and who approved them. */
export const countContract = {
  /** What to count this week. */
  week: procedure.output(weekToCountSchema),
  /** Open rounds first, then the latest ended ones. */
  rounds: procedure.output(z.array(countRoundSchema)),
  begin: procedure.input(beginCountSchema).output(begunCountSchema),
  round: procedure.input(toOne).output(countRoundSchema.extend({ version: z.int(), rows: z.array(countLineSchema) })),
  /** `seen` is what the window knows as counted; null takes a count away. Kept at once. */
  writeDown: procedure
    .input(z.object({ countId, lineId, seen: pieces.nullable(), counted: typedPieces.nullable(), note }))
    .output(z.object({ counted: pieces.nullable() })),
  /** Pieces of a lot that were found where the round does not look for it. `newLot`: the lot is in no book yet. */
  addFound: procedure
    .input(
      z.object({
        countId,
        placeId: placeIdSchema,
        partId: partIdSchema,
        lot: z.string().trim().max(40),
        expiresOn: calendarDateSchema.nullable(),
        newLot: z.boolean(),
        counted: typedPieces,
        note,
      }),
    )
    .output(z.object({ lineId })),
  /** Takes out what was not counted; it stays as the books say. */
  leaveOut: procedure.input(z.object({ countId })).output(z.object({ left: pieces })),
  /** What was counted beside what the books said. Refused while something is not counted yet. */
  compare: procedure.input(toOne).output(
    z.object({
      lines: z.array(comparedLineSchema),
      agree: pieces,
      over: centsSchema,
      under: centsSchema,
      sentence: z.string(),
    }),
  ),
  /** Forgets these counts, so that the lines are counted once more. */
  countAgain: procedure.input(z.object({ countId, lineIds: z.array(lineId).min(1) })).output(said),
  /** Writes every difference as a movement, in one piece. */
  approve: procedure
    .input(z.object({ countId, version: z.int(), note }))
    .output(said.extend({ movements: pieces, warnings: z.array(z.string()) })),
  drop: procedure.input(toOne).output(said),
}
