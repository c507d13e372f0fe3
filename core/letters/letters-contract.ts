import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { customerIdSchema, letterIdSchema, letterRunIdSchema, siteIdSchema } from '../units/ids.ts'
import { pagePictureSchema } from '../units/page-picture-shape.ts'
import { letterKindSchema } from './letter-kinds.ts'
import { letterWordingSchema } from './letter-wording.ts'

export const owedRowSchema = z.object({
  customerId: customerIdSchema,
  siteId: siteIdSchema,
  name: z.string(),
  town: z.string(),
  kind: letterKindSchema,
  dueOn: calendarDateSchema,
  owedSince: calendarDateSchema,
  /** The letter it follows; null for a first one. */
  writtenBefore: calendarDateSchema.nullable(),
})
export type OwedRow = z.infer<typeof owedRowSchema>

export const previewSchema = z.object({
  kind: letterKindSchema,
  picture: pagePictureSchema,
  pages: z.int().min(1),
  /** Characters that the typeface lacks; a square stands for each. */
  missing: z.array(z.string()),
})
export type LetterPreview = z.infer<typeof previewSchema>

export const letterRunSchema = z.object({
  runId: letterRunIdSchema,
  name: z.string(),
  writtenOn: calendarDateSchema,
  by: z.string(),
  letters: z.int().min(0),
  takenBackAt: z.string().nullable(),
  takenBackReason: z.string(),
})
export type LetterRun = z.infer<typeof letterRunSchema>

export const writtenLetterSchema = z.object({
  letterId: letterIdSchema,
  siteId: siteIdSchema,
  name: z.string(),
  town: z.string(),
  kind: letterKindSchema,
  subject: z.string(),
  reference: z.string(),
})

export const keptWordingSchema = letterWordingSchema.extend({ version: z.int().min(0) })
export type KeptWording = z.infer<typeof keptWordingSchema>

/** Reminder letters: who is owed which, what they will look like, what was written, and the dealer's wording. */
export const lettersContract = {
  /** With `aheadUntil` also the first letters of what falls due until then, before their lead. */
  owed: procedure
    .input(z.object({ aheadUntil: calendarDateSchema.optional() }).optional())
    .output(z.object({ rows: z.array(owedRowSchema), unaddressed: z.array(owedRowSchema) })),
  preview: procedure
    .input(
      z.object({
        /** Null: an example with invented people. */
        customerId: customerIdSchema.nullable(),
        kind: letterKindSchema,
        /** A wording that is not saved yet. */
        wording: letterWordingSchema.nullable(),
      }),
    )
    .output(previewSchema),
  runs: procedure.output(z.array(letterRunSchema)),
  run: procedure
    .input(z.object({ runId: letterRunIdSchema }))
    .output(letterRunSchema.extend({ rows: z.array(writtenLetterSchema) })),
  takeBack: procedure
    .input(
      z.object({ runId: letterRunIdSchema, reason: z.string().trim().min(1, 'Say why, in a word or two.').max(300) }),
    )
    .output(z.object({ letters: z.int() })),
  /** As they are kept, and as we would word them in the office's country. */
  wordings: procedure.output(z.object({ kept: z.array(keptWordingSchema), ours: z.array(letterWordingSchema) })),
  saveWording: procedure.input(keptWordingSchema).output(keptWordingSchema),
}
