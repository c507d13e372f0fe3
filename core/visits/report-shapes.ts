import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import {
  installationIdSchema,
  lotIdSchema,
  partIdSchema,
  placeIdSchema,
  stageIdSchema,
  visitIdSchema,
  visitTaskIdSchema,
} from '../units/ids.ts'
import { minutesSchema } from '../units/time-of-day.ts'
import { figuresSchema, taskKindSchema, visitShapeSchema } from './visit-shapes.ts'

export const lotToFitSchema = z.object({
  partId: partIdSchema,
  lotId: lotIdSchema,
  code: z.string(),
  expiresOn: calendarDateSchema.nullable(),
  placeId: placeIdSchema,
  place: z.string(),
  onVan: z.boolean(),
  quantity: z.int(),
})
export type LotToFit = z.infer<typeof lotToFitSchema>

export const reportFormSchema = z.object({
  visit: visitShapeSchema,
  /** Lots that could be fitted: those of the technician's van first, then the bins', first to expire first. */
  lots: z.array(lotToFitSchema),
  /** What the log says about this visit, newest first. */
  trace: z.array(z.object({ on: calendarDateSchema, by: z.string(), sentence: z.string(), details: z.string() })),
})
export type ReportForm = z.infer<typeof reportFormSchema>

export const reportedTaskSchema = z.object({
  /** Null for something that was not planned. */
  taskId: visitTaskIdSchema.nullable(),
  kind: taskKindSchema,
  stageId: stageIdSchema.nullable(),
  description: z.string().trim().max(200),
  done: z.boolean(),
  partId: partIdSchema.nullable(),
  lotId: lotIdSchema.nullable(),
  fromPlaceId: placeIdSchema.nullable(),
  quantity: z.int().min(1).max(99),
  minutes: minutesSchema.max(600),
  freeOfCharge: z.boolean(),
})

export const visitReportSchema = z.object({
  visitId: visitIdSchema,
  version: z.int(),
  outcome: z.enum(['done', 'could-not']),
  because: z.string().trim().max(300),
  doneOn: calendarDateSchema,
  callFree: z.boolean(),
  tasks: z.array(reportedTaskSchema).max(80),
  readings: z
    .array(
      z.object({
        installationId: installationIdSchema,
        figures: figuresSchema,
        note: z.string().trim().max(200),
        /** The person was asked about unlikely figures and said that they are right. */
        confirmed: z.boolean(),
      }),
    )
    .max(20),
  leakChecked: z.boolean(),
  leakCheckedFull: z.boolean(),
  remarks: z.string().trim().max(2000),
})
export type VisitReportInput = z.infer<typeof visitReportSchema>
