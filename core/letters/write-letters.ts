import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { customerIdSchema } from '../units/ids.ts'
import { letterKindSchema } from './letter-kinds.ts'

/** What the work `write-letters` is asked for: some kinds, and everyone who is owed one or some customers only. */
export const writeLettersSchema = z.object({
  kinds: z.array(letterKindSchema).min(1),
  customerIds: z.array(customerIdSchema).nullable(),
  /** Also first letters of what falls due until this day, before their lead. */
  aheadUntil: calendarDateSchema.optional(),
})

export const writtenRunSchema = z.object({ runId: z.int().positive(), letters: z.int().min(0) })
