import { z } from 'zod'
import { procedure } from '../door.ts'
import { partIdSchema } from '../units/ids.ts'
import { openedProposalSchema, shortPartsSchema } from './proposal-shapes.ts'

/** What runs short, and the arithmetic behind one part of it. */
export const proposalsContract = {
  proposals: procedure.output(shortPartsSchema),
  /** Null when nothing is proposed of the part any more. */
  proposal: procedure.input(z.object({ partId: partIdSchema })).output(openedProposalSchema),
}
