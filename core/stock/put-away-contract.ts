import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { partIdSchema, placeIdSchema } from '../units/ids.ts'
import { PUT_AWAY_REASONS } from './put-away.ts'

export const putAwayChoiceSchema = z.object({
  placeId: placeIdSchema,
  name: z.string(),
  reason: z.enum(PUT_AWAY_REASONS),
  words: z.string(),
})

/** Where a delivery goes. */
export const putAwayContract = {
  suggest: procedure
    .input(
      z.object({
        partId: partIdSchema,
        lot: z.string().trim().max(40),
        expiresOn: calendarDateSchema.nullable(),
      }),
    )
    .output(z.array(putAwayChoiceSchema)),
}
