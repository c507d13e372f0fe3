import { z } from 'zod'
import { customerIdSchema } from '../units/ids.ts'
import { letterKindSchema } from './letter-kinds.ts'

/** What the work `write-letters` is asked for: some kinds, and everyone who is owed one or some customers only. */
export const writeLettersSchema = z.object({
  kinds: z.array(letterKindSchema).min(1),
  customerIds: z.array(customerIdSchema).nullable(),
})

export const writtenRunSchema = z.object({ runId: z.int().positive(), letters: z.int().min(0) })
