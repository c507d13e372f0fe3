import { z } from 'zod'
import { procedure } from '../door.ts'
import { lookAheadSchema } from '../visits/look-ahead-shapes.ts'
import { TRAYS } from './trays.ts'

export const trayNameSchema = z.enum(TRAYS)

export const traySchema = z.object({
  tray: trayNameSchema,
  count: z.int().min(0),
  /** The count's meaning and its oldest piece, short: "3 weeks late at most". */
  words: z.string(),
})

/** The next sensible action of a tray, as a sentence with a verb; `isWaiting` false when the tray is empty. */
export const nextActionSchema = z.object({
  tray: trayNameSchema,
  sentence: z.string(),
  /** Why, or what else lies there. */
  detail: z.string(),
  isWaiting: z.boolean(),
})
export type NextAction = z.infer<typeof nextActionSchema>

/** Something that was found; `id` is the record's within its kind. */
export const foundSchema = z.object({
  kind: z.enum(['household', 'invoice', 'part', 'order']),
  id: z.int().positive(),
  words: z.string(),
  /** The second line: the address, the customer and the amount. */
  below: z.string(),
})
export type Found = z.infer<typeof foundSchema>

/** The desk: what lies in the trays, what to do next, what is coming, and the search that finds anything. */
export const deskContract = {
  trays: procedure.output(z.array(traySchema)),
  next: procedure.output(z.array(nextActionSchema)),
  /** The next 52 weeks: what is planned and booked against the hours there are. */
  lookAhead: procedure.output(lookAheadSchema),
  find: procedure.input(z.object({ typed: z.string().max(100) })).output(z.array(foundSchema)),
}
