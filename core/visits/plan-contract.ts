import { z } from 'zod'
import { procedure } from '../door.ts'
import { calendarDateSchema } from '../units/calendar-date.ts'
import { siteIdSchema } from '../units/ids.ts'
import { householdPlanSchema, planWishesSchema, proposedTaskShapeSchema } from './plan-shapes.ts'

/** What to see to on which visit, for one household. Part of the visits' contract. */
export const planContract = {
  /** Planned afresh each time it is asked. */
  plan: procedure.input(z.object({ siteId: siteIdSchema })).output(householdPlanSchema),
  /** What a visit on that very day should see to, with the reasons; the plan from that day on. */
  proposal: procedure
    .input(z.object({ siteId: siteIdSchema, on: calendarDateSchema }))
    .output(z.array(proposedTaskShapeSchema)),
  /** How many households have no plan that stands: the work `plan-visits` makes theirs. */
  plansToMake: procedure.output(z.object({ count: z.int().min(0) })),
  /** Saves what people wish of the plan; `version` is the household's, from `plan`. */
  planWishes: procedure
    .input(z.object({ siteId: siteIdSchema, version: z.int(), wishes: planWishesSchema }))
    .output(z.object({ version: z.int() })),
}
