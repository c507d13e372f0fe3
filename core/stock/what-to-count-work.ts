import { z } from 'zod'
import { ok } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { weekToCount } from './what-to-count-answers.ts'

/** What to count this week of a large warehouse, reckoned in a thread of its own. */
export const whatToCountWork = namedWork({
  input: z.object({}),
  run: async (desk) => ok(await weekToCount(desk)),
})
