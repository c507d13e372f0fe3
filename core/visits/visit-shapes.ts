import { z } from 'zod'
import { stageKindSchema } from '../installations/stage-kinds.ts'
import { trainStageSchema } from '../installations/stage-train.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  customerIdSchema,
  installationIdSchema,
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  siteIdSchema,
  stageIdSchema,
  technicianIdSchema,
  visitIdSchema,
  visitTaskIdSchema,
} from '../units/ids.ts'
import { celsiusSchema, flowSchema, kilopascalsSchema, millilitresSchema, tdsSchema } from '../units/measures.ts'
import { centsSchema } from '../units/money.ts'
import { minutesSchema, timeOfDaySchema } from '../units/time-of-day.ts'

export const VISIT_STATE_WORDS = {
  booked: 'booked',
  done: 'done',
  'could-not': 'could not be done',
  cancelled: 'cancelled',
} as const
export const visitStateSchema = z.enum(['booked', 'done', 'could-not', 'cancelled'])
export type VisitState = z.infer<typeof visitStateSchema>

export const taskKindSchema = z.enum(['change', 'sanitise', 'measure', 'other'])
export type TaskKind = z.infer<typeof taskKindSchema>

export const partShapeSchema = z.object({
  partId: partIdSchema,
  number: z.string(),
  name: z.string(),
  priceCents: centsSchema,
  taxFree: z.boolean(),
  fitMinutes: minutesSchema.nullable(),
})
export type PartShape = z.infer<typeof partShapeSchema>

/** The household of a visit: where to go, whom to ring, what to know at the door. */
export const householdShapeSchema = z.object({
  siteId: siteIdSchema,
  customerId: customerIdSchema,
  household: z.string(),
  reference: z.string(),
  line1: z.string(),
  line2: z.string(),
  town: z.string(),
  postalCode: z.string(),
  phone: z.string(),
  phoneNote: z.string(),
  accessNote: z.string(),
  people: z.int().nullable(),
  latitude: z.number().nullable(),
  longitude: z.number().nullable(),
  taxExempt: z.boolean(),
})
export type HouseholdShape = z.infer<typeof householdShapeSchema>

/** A stage of the household with the part that belongs there; flow order is the order of the list. */
export const stageShapeSchema = z.object({
  stageId: stageIdSchema,
  installationId: installationIdSchema,
  kind: stageKindSchema,
  label: z.string(),
  dueOn: calendarDateSchema.nullable(),
  reason: z.string(),
  part: partShapeSchema.nullable(),
  train: trainStageSchema,
})
export type StageShape = z.infer<typeof stageShapeSchema>

export const unitShapeSchema = z.object({
  installationId: installationIdSchema,
  name: z.string(),
  stages: z.array(stageShapeSchema),
  /** Rejection at the last reading before this one, percent; null when nothing was measured. */
  lastRejection: z.number().nullable(),
  /** Where its meter stood at the last reading before this one. */
  lastMeter: millilitresSchema.nullable(),
})
export type UnitShape = z.infer<typeof unitShapeSchema>

export const taskShapeSchema = z.object({
  taskId: visitTaskIdSchema,
  kind: taskKindSchema,
  stageId: stageIdSchema.nullable(),
  /** The stage's name, or the description. */
  label: z.string(),
  description: z.string(),
  part: partShapeSchema.nullable(),
  quantity: z.int(),
  minutes: minutesSchema,
  state: z.enum(['planned', 'done', 'left']),
  fittedPart: partShapeSchema.nullable(),
  lotId: lotIdSchema.nullable(),
  lotCode: z.string(),
  fromPlaceId: placeIdSchema.nullable(),
  freeOfCharge: z.boolean(),
  /** The lots that were pulled for this task's part, when they are known. */
  pulledLots: z.array(z.string()),
})
export type TaskShape = z.infer<typeof taskShapeSchema>

export const figuresSchema = z.object({
  tdsIn: tdsSchema.nullable(),
  tdsOut: tdsSchema.nullable(),
  flow: flowSchema.nullable(),
  feedPressure: kilopascalsSchema.nullable(),
  tankPressure: kilopascalsSchema.nullable(),
  temperature: celsiusSchema.nullable(),
  meter: millilitresSchema.nullable(),
})

export const readingShapeSchema = z.object({
  installationId: installationIdSchema,
  figures: figuresSchema,
  unlikely: z.boolean(),
  note: z.string(),
})
export type ReadingShape = z.infer<typeof readingShapeSchema>

export const technicianShapeSchema = z.object({
  technicianId: technicianIdSchema,
  name: z.string(),
  shortName: z.string(),
  phone: z.string(),
})
export type TechnicianShape = z.infer<typeof technicianShapeSchema>

/** A visit, whole: as the screen opens it, the job card prints it and the report fills it in. */
export const visitShapeSchema = z.object({
  visitId: visitIdSchema,
  version: z.int(),
  state: visitStateSchema,
  /** Why it was cancelled, or could not be done. */
  reason: z.string(),
  on: calendarDateSchema,
  windowFrom: timeOfDaySchema,
  windowUntil: timeOfDaySchema,
  plannedMinutes: minutesSchema,
  promised: z.boolean(),
  note: z.string(),
  technician: technicianShapeSchema.nullable(),
  household: householdShapeSchema,
  units: z.array(unitShapeSchema),
  tasks: z.array(taskShapeSchema),
  readings: z.array(readingShapeSchema),
  doneOn: calendarDateSchema.nullable(),
  leakChecked: z.boolean(),
  leakCheckedFull: z.boolean(),
  callFree: z.boolean(),
  remarks: z.string(),
})
export type VisitShape = z.infer<typeof visitShapeSchema>

/** What a technician's day looks like to booking; the plain data of the booking check. */
export const technicianTimeSchema = z.object({
  technicianId: technicianIdSchema,
  name: z.string(),
  workdays: z.string(),
  startsAt: timeOfDaySchema,
  endsAt: timeOfDaySchema,
  minutesADay: minutesSchema,
  leftOn: calendarDateSchema.nullable(),
  daysOff: z.array(z.object({ from: calendarDateSchema, until: calendarDateSchema, reason: z.string() })),
})

export const bookedVisitSchema = z.object({
  visitId: visitIdSchema,
  siteId: siteIdSchema,
  household: z.string(),
  town: z.string(),
  technicianId: technicianIdSchema.nullable(),
  on: calendarDateSchema,
  windowFrom: timeOfDaySchema,
  windowUntil: timeOfDaySchema,
  minutes: minutesSchema,
  version: z.int(),
})
export type BookedVisitShape = z.infer<typeof bookedVisitSchema>
