import { z } from 'zod'
import { ok, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import { namedWork } from '../work/work.ts'
import { readPlanGround } from './plan-facts-store.ts'
import { listStalePlans } from './plan-store.ts'
import { replanSites } from './replan-answers.ts'

/** Households to a transaction: few enough that nobody else waits long for the books. */
const STRETCH = 400

/**
 * Plans every household whose plan is missing or no longer stands, a stretch at a time, so that others can write in between. What is
 * planned when somebody presses Stop stays, and the rest is planned another time.
 */
export const planWork = namedWork({
  input: z.object({}),
  run: async (desk) => {
    const stale = await listStalePlans(desk.read, desk.officeId, desk.today)
    for (let from = 0; from < stale.length; from += STRETCH) {
      const stretch = await desk.write(async (books) => {
        const ground = await readPlanGround(books.read, books.officeId, books.today)
        await replanSites(books, stale.slice(from, from + STRETCH), ground)
        return ok(undefined)
      })
      if (!stretch.ok) return stretch
      const done = Math.min(from + STRETCH, stale.length)
      const saying = `visits of ${counted(done, 'household')} of ${stale.length.toLocaleString('en-US')} planned`
      if (!(await desk.progress({ done, total: stale.length, saying }))) return refused('WORK_STOPPED_HALF_WAY')
    }
    return ok({ planned: stale.length })
  },
})
