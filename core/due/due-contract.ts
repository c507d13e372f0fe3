import { z } from 'zod'
import {
  contactFieldsSchema,
  customerFieldsSchema,
  pageEndSchema,
  siteFieldsSchema,
} from '../customers/customers-contract.ts'
import { procedure } from '../door.ts'
import { installationFieldsSchema, stageFieldsSchema } from '../installations/installations-contract.ts'
import { stageKindSchema } from '../installations/stage-kinds.ts'
import { trainStageSchema } from '../installations/stage-train.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  contactIdSchema,
  customerIdSchema,
  installationIdSchema,
  invoiceIdSchema,
  readingIdSchema,
  siteIdSchema,
  stageIdSchema,
  visitIdSchema,
} from '../units/ids.ts'
import { celsiusSchema, flowSchema, kilopascalsSchema, tdsSchema } from '../units/measures.ts'
import { centsSchema } from '../units/money.ts'
import { householdMeasurementsSchema, takenReadingSchema } from './measurement-shapes.ts'
import { householdRulesSchema } from './rules-shapes.ts'

export const letterKindSchema = z.enum(['first', 'second', 'final'])

/** What the Due list is narrowed to. */
export const dueFilterSchema = z.object({
  /** Due within so many days from today; what is late is always in. */
  withinDays: z.int().min(0).max(3650),
  /** No towns: all of them. */
  towns: z.array(z.string()).max(200),
  /** A stage of one of these kinds falls due in that time; none: any. */
  stages: z.array(stageKindSchema),
  /** Which letter was sent last since the last visit, or that none was, or that a visit is booked. */
  letters: z.enum(['any', 'none', 'first', 'second', 'final', 'booked']),
  search: z.string().max(200),
  /**
   * Instead of by days: households without a booking whose next visit is planned in the week from this Monday, or whose grace is over;
   * the same that the look-ahead counts there.
   */
  planned: z.union([calendarDateSchema, z.literal('late')]).optional(),
})
export type DueFilter = z.infer<typeof dueFilterSchema>

export const DUE_SORTS = ['dueOn', 'household', 'town'] as const
export type DueSort = (typeof DUE_SORTS)[number]

export const dueRowSchema = z.object({
  siteId: siteIdSchema,
  customerId: customerIdSchema,
  household: z.string(),
  town: z.string(),
  phone: z.string(),
  dueOn: calendarDateSchema,
  daysLate: z.int().min(0),
  reason: z.string(),
  /** Every unit of the household, feed to tap, one after the other. */
  train: z.array(trainStageSchema),
  letter: z.object({ kind: letterKindSchema, writtenOn: calendarDateSchema }).nullable(),
  bookedOn: calendarDateSchema.nullable(),
  noMail: z.boolean(),
  moved: z.boolean(),
})
export type DueRow = z.infer<typeof dueRowSchema>

const stageOnSheetSchema = stageFieldsSchema.extend({ stageId: stageIdSchema })

export const householdSheetSchema = z.object({
  siteId: siteIdSchema,
  customerId: customerIdSchema,
  reference: z.string(),
  closedOn: calendarDateSchema.nullable(),
  movedOn: calendarDateSchema.nullable(),
  customer: customerFieldsSchema,
  site: siteFieldsSchema,
  contacts: z.array(contactFieldsSchema.extend({ contactId: contactIdSchema })),
  units: z.array(
    z.object({
      installationId: installationIdSchema,
      fields: installationFieldsSchema,
      stages: z.array(stageOnSheetSchema),
      train: z.array(trainStageSchema),
      /** What the next visit does, in a sentence; empty when nothing has a date. */
      nextVisit: z.string(),
      readings: z.array(
        z.object({
          takenOn: calendarDateSchema,
          tdsIn: tdsSchema.nullable(),
          tdsOut: tdsSchema.nullable(),
          flow: flowSchema.nullable(),
          feed: kilopascalsSchema.nullable(),
          tank: kilopascalsSchema.nullable(),
          temperature: celsiusSchema.nullable(),
        }),
      ),
    }),
  ),
  letter: z.object({ kind: letterKindSchema, writtenOn: calendarDateSchema }).nullable(),
  bookedOn: calendarDateSchema.nullable(),
  history: z.array(
    z.object({ key: z.string(), on: calendarDateSchema, visitId: visitIdSchema.nullable(), sentence: z.string() }),
  ),
  invoices: z.array(
    z.object({
      invoiceId: invoiceIdSchema,
      kind: z.enum(['invoice', 'credit-note']),
      number: z.string(),
      on: calendarDateSchema,
      currency: z.string(),
      gross: centsSchema,
    }),
  ),
  events: z.array(
    z.object({ key: z.string(), on: calendarDateSchema, by: z.string(), sentence: z.string(), details: z.string() }),
  ),
})
export type HouseholdSheet = z.infer<typeof householdSheetSchema>

/** What is due, by household; and everything about one household. */
export const dueContract = {
  list: procedure
    .input(
      dueFilterSchema.extend({
        sort: z.enum(DUE_SORTS),
        descending: z.boolean(),
        after: pageEndSchema.nullable(),
        limit: z.int().min(1).max(500),
      }),
    )
    .output(z.object({ rows: z.array(dueRowSchema), next: pageEndSchema.nullable() })),
  count: procedure.input(dueFilterSchema).output(z.object({ total: z.int(), late: z.int() })),
  towns: procedure.output(z.array(z.string())),
  household: procedure.input(z.object({ siteId: siteIdSchema })).output(householdSheetSchema),
  /** Every rule of every stage of a household, side by side. */
  rules: procedure.input(z.object({ siteId: siteIdSchema })).output(householdRulesSchema),
  /** Every reading of a household, and what they come to. */
  measurements: procedure.input(z.object({ siteId: siteIdSchema })).output(householdMeasurementsSchema),
  /**
   * Writes down a reading taken outside a visit. Refused when it cannot be; asked about (READING_UNLIKELY) when it is unlikely and not
   * confirmed, and kept with its mark when it is.
   */
  takeReading: procedure
    .input(takenReadingSchema)
    .output(z.object({ readingId: readingIdSchema, unlikely: z.boolean() })),
  /** A reading is never edited: it is struck out, with a reason. */
  strikeReading: procedure
    .input(z.object({ readingId: readingIdSchema, reason: z.string().trim().max(200) }))
    .output(z.object({ readingId: readingIdSchema })),
  /** Takes the striking back. */
  restoreReading: procedure
    .input(z.object({ readingId: readingIdSchema }))
    .output(z.object({ readingId: readingIdSchema })),
}
