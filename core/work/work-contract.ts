import { z } from 'zod'
import { procedure } from '../door.ts'
import { problemSchema } from '../problems.ts'

export const workStateSchema = z.object({
  workId: z.string(),
  name: z.string(),
  state: z.enum(['running', 'done', 'refused', 'stopped', 'broken']),
  done: z.int().min(0),
  total: z.int().min(0),
  saying: z.string(),
  /** What the work answered, as plain JSON; null until it is done. */
  outcome: z.unknown(),
  problem: problemSchema.nullable(),
})
export type WorkState = z.infer<typeof workStateSchema>

/** Long work: start it by name, see how far it is, stop it. */
export const workContract = {
  start: procedure.input(z.object({ name: z.string(), input: z.unknown() })).output(z.object({ workId: z.string() })),
  progress: procedure.input(z.object({ workId: z.string() })).output(workStateSchema),
  running: procedure.output(z.array(workStateSchema)),
  stop: procedure.input(z.object({ workId: z.string() })).output(workStateSchema),
}
