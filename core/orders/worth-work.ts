import { z } from 'zod'
import { ok } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { keptWorth } from './worth-answers.ts'

/** What the stock of a large office is worth, reckoned in a thread of its own. */
export const worthWork = namedWork({
  input: z.object({}),
  run: async (desk) => ok(await keptWorth.reckon(desk)),
})
