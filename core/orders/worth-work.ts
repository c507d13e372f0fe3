import { z } from 'zod'
import { ok } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { keptWorth, pastDaySchema, worthOn } from './worth-answers.ts'

/** What the stock of a large office is worth, reckoned in a thread of its own. */
export const worthWork = namedWork({
  input: z.object({}),
  run: async (desk) => ok(await keptWorth.reckon(desk)),
})

/** The same of a day that is past. */
export const worthOnWork = namedWork({ input: pastDaySchema, run: worthOn })
