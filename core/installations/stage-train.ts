import { z } from 'zod'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { stageIdSchema } from '../units/ids.ts'
import { stageKindSchema } from './stage-kinds.ts'

/** One vessel of the stage train, as the screen and the papers draw it. Flow order is the order of the list. */
export const trainStageSchema = z.object({
  stageId: stageIdSchema,
  kind: stageKindSchema,
  /** What it is, in the office's words: "Sediment", or the stage's own label. */
  label: z.string(),
  dueOn: calendarDateSchema.nullable(),
  /** Share of the life left, 0 to 1; 0 when overdue; null when it was never dated. */
  lifeLeft: z.number().min(0).max(1).nullable(),
  /** Days past the due date; 0 when not late. */
  daysLate: z.int().min(0),
  /** Why this date, in words: "6 months, family of six". */
  reason: z.string(),
  /** Whether the next visit will change (or sanitise) it: drawn with a ring. */
  ringed: z.boolean(),
})
export type TrainStage = z.infer<typeof trainStageSchema>
