import { z } from 'zod'
import { ok } from '../result.ts'
import { namedWork } from '../work/work.ts'
import { figures } from './figures-answers.ts'

/** The trays' figures of a large office, reckoned in a thread of their own. */
export const figuresWork = namedWork({
  input: z.object({}),
  run: async (desk) => ok(await figures.reckon(desk)),
})
