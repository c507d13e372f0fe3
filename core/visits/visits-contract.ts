import { z } from 'zod'
import { procedure } from '../door.ts'
import { trainStageSchema } from '../installations/stage-train.ts'
import { PROBLEM_CODES, type ProblemCode, problemSchema } from '../problems.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { siteIdSchema, stageIdSchema, technicianIdSchema, visitIdSchema } from '../units/ids.ts'
import { centsSchema } from '../units/money.ts'
import { minutesSchema, timeOfDaySchema } from '../units/time-of-day.ts'
import { planContract } from './plan-contract.ts'
import { reportFormSchema, visitReportSchema } from './report-shapes.ts'
import {
  bookedVisitSchema,
  householdShapeSchema,
  taskKindSchema,
  technicianShapeSchema,
  technicianTimeSchema,
  unitShapeSchema,
  visitStateSchema,
} from './visit-shapes.ts'

const problemCodes = z.enum(PROBLEM_CODES as [ProblemCode, ...ProblemCode[]])

export const wantedTaskSchema = z.object({
  kind: taskKindSchema,
  stageId: stageIdSchema.nullable(),
  description: z.string().trim().max(200),
  /** For a task that is neither a change nor a sanitising; the others are reckoned by the office's pace. */
  minutes: minutesSchema.max(600),
})
export type WantedTask = z.infer<typeof wantedTaskSchema>

/** A booking as the form holds it. */
export const wantedVisitSchema = z.object({
  siteId: siteIdSchema,
  /** Null: nobody yet. The day and the window are promised; who comes is settled later. */
  technicianId: technicianIdSchema.nullable(),
  on: calendarDateSchema,
  windowFrom: timeOfDaySchema,
  windowUntil: timeOfDaySchema,
  tasks: z.array(wantedTaskSchema).max(60),
  /** The office's own figure in place of the reckoned minutes. */
  ownMinutes: minutesSchema.min(1).max(900).nullable(),
  note: z.string().trim().max(1000),
  /** We gave our word for this day. */
  promised: z.boolean(),
})
export type WantedVisit = z.infer<typeof wantedVisitSchema>

const knowingly = {
  /** Objections that the person saw and sets aside. */
  setAside: z.array(problemCodes),
  /** The technician's day as the person saw it, from `check`; null when nobody looked. */
  daySeen: z.string().nullable(),
}

const priceSchema = z.object({
  lines: z.array(z.object({ what: z.string(), netCents: centsSchema })),
  netCents: centsSchema,
  taxCents: centsSchema,
  grossCents: centsSchema,
})

export const objectionSchema = problemSchema.extend({ weight: z.enum(['refusal', 'asks']) })

export const bookingCheckSchema = z.object({
  objections: z.array(objectionSchema),
  minutes: minutesSchema,
  /** What the call and the tasks come to, whatever the office's own figure is. */
  builtUpMinutes: minutesSchema,
  price: priceSchema,
  daySeen: z.string(),
  /** The technician's other visits of that day, in the order of their windows. */
  sameDay: z.array(bookedVisitSchema),
})
export type BookingCheck = z.infer<typeof bookingCheckSchema>

export const freeDaySchema = z.object({
  on: calendarDateSchema,
  technicianId: technicianIdSchema,
  technician: z.string(),
  windowFrom: timeOfDaySchema,
  windowUntil: timeOfDaySchema,
  minutesLeft: z.int(),
  visitsInTown: z.int(),
})

export const waitingHouseholdSchema = z.object({
  siteId: siteIdSchema,
  household: z.string(),
  town: z.string(),
  phone: z.string(),
  phoneNote: z.string(),
  dueOn: calendarDateSchema,
  reason: z.string(),
  stages: z.array(trainStageSchema),
  letter: z.object({ kind: z.enum(['first', 'second', 'final']), writtenOn: calendarDateSchema }).nullable(),
})
export type WaitingHousehold = z.infer<typeof waitingHouseholdSchema>

/** Where a page of waiting households ended. */
const waitingEndSchema = z.object({ dueOn: calendarDateSchema, siteId: siteIdSchema })

export const bookingFormSchema = z.object({
  household: householdShapeSchema,
  units: z.array(unitShapeSchema),
  technicians: z.array(technicianTimeSchema),
  letter: waitingHouseholdSchema.shape.letter,
  /** The household's open visits. */
  booked: z.array(bookedVisitSchema),
})
export type BookingForm = z.infer<typeof bookingFormSchema>

export const weekVisitSchema = z.object({
  visitId: visitIdSchema,
  state: visitStateSchema,
  household: z.string(),
  town: z.string(),
  windowFrom: timeOfDaySchema,
  windowUntil: timeOfDaySchema,
  minutes: minutesSchema,
  what: z.string(),
})
export type WeekVisit = z.infer<typeof weekVisitSchema>

export const weekSchema = z.object({
  monday: calendarDateSchema,
  days: z.array(calendarDateSchema),
  rows: z.array(
    z.object({
      /** Null: visits that nobody has been sent to yet. */
      technician: technicianShapeSchema.nullable(),
      days: z.array(
        z.object({
          on: calendarDateSchema,
          /** Why nobody comes that day: "day off", a reason, or empty on a day of work. */
          away: z.string(),
          minutesTaken: z.int(),
          minutesThere: z.int(),
          visits: z.array(weekVisitSchema),
        }),
      ),
    }),
  ),
})
export type Week = z.infer<typeof weekSchema>

const changed = z.object({ visitId: visitIdSchema, version: z.int() })

/** Booking, moving, cancelling and recording visits. */
export const visitsContract = {
  ...planContract,
  waiting: procedure
    .input(z.object({ who: z.enum(['with-letter', 'all-due']), after: waitingEndSchema.nullable().default(null) }))
    .output(
      z.object({
        count: z.int(),
        /** Of all of them, not only of this page. */
        late: z.int(),
        rows: z.array(waitingHouseholdSchema),
        next: waitingEndSchema.nullable(),
      }),
    ),
  bookingForm: procedure.input(z.object({ siteId: siteIdSchema })).output(bookingFormSchema),
  check: procedure.input(wantedVisitSchema.extend({ visitId: visitIdSchema.nullable() })).output(bookingCheckSchema),
  freeDays: procedure.input(z.object({ siteId: siteIdSchema, minutes: minutesSchema })).output(z.array(freeDaySchema)),
  book: procedure.input(wantedVisitSchema.extend(knowingly)).output(changed),
  move: procedure
    .input(
      wantedVisitSchema.extend({
        ...knowingly,
        visitId: visitIdSchema,
        version: z.int(),
        why: z.string().trim().max(300),
      }),
    )
    .output(changed),
  cancel: procedure
    .input(z.object({ visitId: visitIdSchema, version: z.int(), why: z.string().trim().max(300) }))
    .output(changed),
  /** Booked visits that nobody has been sent to yet, the nearest day first. */
  nobodyYet: procedure.output(z.array(bookedVisitSchema)),
  week: procedure.input(z.object({ on: calendarDateSchema })).output(weekSchema),
  one: procedure.input(z.object({ visitId: visitIdSchema })).output(reportFormSchema),
  record: procedure.input(visitReportSchema).output(changed),
  correct: procedure.input(visitReportSchema.extend({ why: z.string().trim().max(300) })).output(changed),
}
