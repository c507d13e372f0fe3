import { z } from 'zod'
import { ok } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { keptLookAhead } from './look-ahead-answers.ts'

/** The weeks ahead of a large office, reckoned in a thread of their own. */
export const lookAheadWork = namedWork({
  input: z.object({}),
  run: async (desk) => ok(await keptLookAhead.reckon(desk)),
})
