import { z } from 'zod'
import { procedure } from '../door.ts'
import { noLetterSchema } from '../stock/recall-contract.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { lotIdSchema, siteIdSchema } from '../units/ids.ts'

export const recallLettersInput = z.object({ lotId: lotIdSchema })

const batchSchema = z.object({
  /** The place of its first letter: `/papers/recall-letters/12/1.pdf` is the batch of lot 12 that begins with letter 1. */
  first: z.int().positive(),
  writtenOn: calendarDateSchema,
  writtenAt: z.string(),
  by: z.string(),
  letters: z.int(),
})

const toPhoneSchema = z.object({
  siteId: siteIdSchema,
  household: z.string(),
  town: z.string(),
  phone: z.string(),
  phoneNote: z.string(),
  why: noLetterSchema,
})
export type RecallToPhone = z.infer<typeof toPhoneSchema>

export const recallLettersSchema = z.object({
  /** Letters that one press would write. */
  toWrite: z.int(),
  /** Homes that no letter goes to. */
  toPhone: z.array(toPhoneSchema),
  batches: z.array(batchSchema),
})
export type RecallLetters = z.infer<typeof recallLettersSchema>

/** What writing came to; `first` is the batch's name in its address. */
export const recallWrittenSchema = z.object({ letters: z.int(), first: z.int() })
export type RecallWritten = z.infer<typeof recallWrittenSchema>

/** The letters about a recalled lot; the work `recall-letters` writes them. */
export const recallLettersContract = {
  ofLot: procedure.input(recallLettersInput).output(recallLettersSchema),
  takeBack: procedure
    .input(
      z.object({
        lotId: lotIdSchema,
        first: z.int().positive(),
        reason: z.string().trim().min(1, 'The reason is missing.').max(200),
      }),
    )
    .output(z.object({ letters: z.int() })),
}
