import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { lotIdSchema, partIdSchema, placeIdSchema } from '../units/ids.ts'
import { centsSchema } from '../units/money.ts'

const pieces = z.int().min(0)

/** A part with what lies of it. What is to come is known today only: it is null for a day that is past. */
export const partWorthSchema = z.object({
  partId: partIdSchema,
  number: z.string(),
  name: z.string(),
  pieces,
  value: centsSchema,
  inBins: centsSchema,
  onVans: centsSchema,
  /** In quarantine and on the way. */
  elsewhere: centsSchema,
  /** May be fitted: in bins and on vans, not recalled, not past its date. */
  usable: pieces,
  /** What may not be fitted any more: recalled, or past its date. */
  lost: centsSchema,
  usedOn: calendarDateSchema.nullable(),
  /** Days since it was used, or came; null where nothing lies. */
  restDays: z.int().min(0).nullable(),
  /** Rests for longer than was asked about. */
  rests: z.boolean(),
  /** Pieces a day to be expected; null when unknown. */
  aDay: z.number().nullable(),
  coverDays: z.int().min(0).nullable(),
  /** Pieces asked of the warehouse for visits lately, and those that were there. */
  asked: pieces,
  served: pieces,
})
export type PartWorth = z.infer<typeof partWorthSchema>

export const placeWorthSchema = z.object({
  placeId: placeIdSchema,
  name: z.string(),
  kind: z.enum(['bin', 'van', 'quarantine', 'transit']),
  parts: pieces,
  pieces,
  value: centsSchema,
})
export type PlaceWorth = z.infer<typeof placeWorthSchema>

export const expiringLotSchema = z.object({
  lotId: lotIdSchema,
  lot: z.string(),
  partId: partIdSchema,
  number: z.string(),
  name: z.string(),
  expiresOn: calendarDateSchema,
  pieces,
  value: centsSchema,
  /** Whole pieces that will likely be used by then, the first to expire first. */
  willBeUsed: pieces,
  /** What the rest has cost. */
  atRisk: centsSchema,
})
export type ExpiringLot = z.infer<typeof expiringLotSchema>

export const worthSchema = z.object({
  on: calendarDateSchema,
  /** Whether it is today's, with what is to come. */
  isToday: z.boolean(),
  restAfterDays: z.int(),
  /** In all, and what of it lies where. */
  value: centsSchema,
  inBins: centsSchema,
  onVans: centsSchema,
  elsewhere: centsSchema,
  lost: centsSchema,
  resting: centsSchema,
  atRisk: centsSchema,
  fill: z.object({
    since: calendarDateSchema,
    piecesAsked: pieces,
    piecesServed: pieces,
    visits: pieces,
    visitsWhole: pieces,
  }),
  /** For the owner, a sentence each. */
  sentences: z.array(z.string()),
  parts: z.array(partWorthSchema),
  places: z.array(placeWorthSchema),
  expiring: z.array(expiringLotSchema),
})
export type Worth = z.infer<typeof worthSchema>
