import { z } from 'zod'
import { procedure } from '../door.ts'
import { worthSchema } from '../stock/worth-shapes.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'

/** What the stock is worth and how it stands. It stands among orders, because what is to come is known here. */
export const worthContract = {
  /** On a day, null for today; parts that were not used for so many days count as resting. */
  show: procedure
    .input(z.object({ on: calendarDateSchema.nullable(), restAfterDays: z.int().min(1).max(3650) }))
    .output(worthSchema),
}
