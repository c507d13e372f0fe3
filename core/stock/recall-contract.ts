import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  customerIdSchema,
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  siteIdSchema,
  visitIdSchema,
} from '../units/ids.ts'

const pieces = z.int()
const lotNamed = z.object({
  lotId: lotIdSchema,
  lot: z.string(),
  partId: partIdSchema,
  partNumber: z.string(),
  partName: z.string(),
})

export const recalledLotSchema = lotNamed.extend({
  recalledOn: calendarDateSchema,
  why: z.string(),
  notice: z.string(),
  quarantined: pieces,
  homes: z.int(),
})
export type RecalledLot = z.infer<typeof recalledLotSchema>

export const recallFiguresSchema = z.object({
  received: pieces,
  found: pieces,
  inBins: pieces,
  onVans: pieces,
  quarantined: pieces,
  inTransit: pieces,
  fitted: pieces,
  scrapped: pieces,
  toSupplier: pieces,
  missing: pieces,
})

/** Why no letter goes to a household; it is rung up instead. */
export const noLetterSchema = z.enum(['asked for no mail', 'moved away', 'no address to write to'])

export const recallHomeSchema = z.object({
  siteId: siteIdSchema,
  customerId: customerIdSchema,
  household: z.string(),
  reference: z.string(),
  street: z.string(),
  town: z.string(),
  phone: z.string(),
  phoneNote: z.string(),
  /** What of the lot is fitted there: "carbon, kitchen unit". */
  stages: z.string(),
  fittedOn: calendarDateSchema.nullable(),
  /** Pieces of the lot that are fitted there. */
  pieces,
  noLetter: noLetterSchema.nullable(),
  writtenOn: calendarDateSchema.nullable(),
  visit: z
    .object({
      visitId: visitIdSchema,
      on: calendarDateSchema,
      technician: z.string().nullable(),
      /** Whether that visit changes what is recalled. */
      changes: z.boolean(),
    })
    .nullable(),
})
export type RecallHome = z.infer<typeof recallHomeSchema>

export const recallSheetSchema = lotNamed.extend({
  receivedOn: calendarDateSchema,
  expiresOn: calendarDateSchema.nullable(),
  recalledOn: calendarDateSchema.nullable(),
  why: z.string(),
  notice: z.string(),
  figures: recallFiguresSchema,
  /** Of the pieces used at visits, those that no home in the books holds any more: changed since, or used up. */
  noLongerFitted: pieces,
  /** Every place that holds some of it now. */
  places: z.array(
    z.object({
      placeId: placeIdSchema,
      place: z.string(),
      kind: z.enum(['bin', 'van', 'quarantine', 'transit']),
      pieces,
    }),
  ),
  /** Who has pieces in hand: still on the van by the books, or set aside since the recall. */
  vans: z.array(
    z.object({
      van: z.string(),
      technician: z.string().nullable(),
      phone: z.string(),
      aboard: pieces,
      setAside: pieces,
    }),
  ),
  homes: z.array(recallHomeSchema),
})
export type RecallSheetFacts = z.infer<typeof recallSheetSchema>

const homeNamed = z.object({
  siteId: siteIdSchema,
  household: z.string(),
  town: z.string(),
  phone: z.string(),
})

/** Visits as they would be booked, before anything is. */
export const recallVisitsSchema = z.object({
  from: calendarDateSchema,
  visits: z.int(),
  until: calendarDateSchema.nullable(),
  days: z.array(z.object({ on: calendarDateSchema, technician: z.string(), visits: z.int(), towns: z.string() })),
  /** Booked visits that the change is added to. */
  added: z.array(homeNamed.extend({ on: calendarDateSchema, technician: z.string().nullable() })),
  /** Homes that the days looked at have no room for. */
  left: z.array(homeNamed),
  /** What the visits need, beside what can be used of it. */
  parts: z.array(z.object({ number: z.string(), name: z.string(), needed: pieces, usable: pieces })),
})
export type RecallVisits = z.infer<typeof recallVisitsSchema>

/** What booking came to; whoever is named has to be rung up, or pressed for again. */
export const recallBookedSchema = z.object({
  booked: z.int(),
  added: z.int(),
  left: z.array(homeNamed.extend({ why: z.string() })),
  notComeTo: z.int(),
})
export type RecallBooked = z.infer<typeof recallBookedSchema>

export const recallVisitsInput = z.object({ lotId: lotIdSchema, from: calendarDateSchema.nullable() })

export const recallDoneSchema = z.object({ sentence: z.string() })
const why = z.string().trim().max(200)
export const recallLotSchema = z.object({ lotId: lotIdSchema, why, notice: z.string().trim().max(120) })
export type RecallLot = z.infer<typeof recallLotSchema>
export const freeLotSchema = z.object({ lotId: lotIdSchema, why })
export type FreeLot = z.infer<typeof freeLotSchema>

/** A lot that must not be used any more: where it is, who has it, and getting it back. */
export const recallContract = {
  /** Lots that are recalled now, the latest first. */
  lots: procedure.output(z.array(recalledLotSchema)),
  lot: procedure.input(z.object({ lotId: lotIdSchema })).output(recallSheetSchema),
  recallLot: procedure.input(recallLotSchema).output(recallDoneSchema),
  /** Moves what lies in bins and on vans into quarantine once more: what came back since the recall. */
  quarantine: procedure.input(z.object({ lotId: lotIdSchema })).output(recallDoneSchema),
  /** The visits that one press would book, and those that it would add to; the work `recall-visits` does it. */
  visits: procedure.input(recallVisitsInput).output(recallVisitsSchema),
  /** Fit for use again: what cannot be undone is said. */
  freeLot: procedure.input(freeLotSchema).output(recallDoneSchema),
}
