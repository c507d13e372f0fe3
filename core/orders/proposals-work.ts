import { z } from 'zod'
import { ok } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { keptProposals } from './propose-answers.ts'

/** What runs short in a large office, reckoned in a thread of its own. */
export const proposalsWork = namedWork({
  input: z.object({}),
  run: async (desk) => ok(await keptProposals.reckon(desk)),
})
