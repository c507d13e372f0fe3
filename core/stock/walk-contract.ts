import { z } from 'zod'
import { procedure } from '../door.ts'
import { placeIdSchema } from '../units/ids.ts'

export const walkBinSchema = z.object({
  placeId: placeIdSchema,
  name: z.string(),
  aisle: z.string(),
  pieces: z.int().min(0),
})

/** The walk through the warehouse, drawn by ordering aisles and the bins in them. */
export const walkContract = {
  /** Bins in use, in the order of the walk. */
  bins: procedure.output(z.array(walkBinSchema)),
  /** `seen` is the order on screen before it was changed, `bins` the one wanted. */
  save: procedure
    .input(z.object({ seen: z.array(placeIdSchema), bins: z.array(placeIdSchema) }))
    .output(z.object({ sentence: z.string(), moved: z.int().min(0) })),
}
