import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkVisitPlan } from '../../core/visits/check-visit-plan.ts'
import { nextDueBy } from '../../core/visits/next-due.ts'
import { planVisits } from '../../core/visits/plan-visits.ts'
import type { VisitPlanQuestion } from '../../core/visits/visit-plan.ts'
import { programmeOf, programmeSolver, publishedProgramme } from '../judges/visit-plan-programme.ts'

const stage = fc.record({
  dueDay: fc.integer({ min: -3, max: 20 }),
  graceDays: fc.integer({ min: 0, max: 6 }),
  life: fc.integer({ min: 6, max: 25 }),
  costCents: fc.integer({ min: 0, max: 90 }),
  neverEarly: fc.boolean(),
})

const questions: fc.Arbitrary<VisitPlanQuestion> = fc
  .record({
    stages: fc.array(stage, { minLength: 3, maxLength: 6 }),
    isCarried: fc.boolean(),
    isNeverEarly: fc.boolean(),
    horizonDay: fc.integer({ min: 20, max: 32 }),
    callCents: fc.integer({ min: 0, max: 120 }),
    dearer: fc.option(fc.record({ from: fc.integer({ min: 0, max: 30 }), cents: fc.integer({ min: -30, max: 60 }) })),
    creditsLifeLeft: fc.boolean(),
  })
  .map(({ stages, isCarried, isNeverEarly, horizonDay, callCents, dearer, creditsLifeLeft }) => ({
    stages: stages.map(({ dueDay, graceDays, life, costCents, neverEarly }, index) => ({
      dueDay,
      graceDays,
      // Months are not alike: a change late in the horizon lasts two days longer.
      next: nextDueBy(horizonDay, (day) => day + life + (day >= 15 ? 2 : 0)),
      costCents,
      neverEarly: isNeverEarly && neverEarly && index !== 1,
      carries: isCarried && index === 0 ? [1] : [],
    })),
    firstDay: 0,
    horizonDay,
    callCents,
    callDifferences: dearer ? [{ from: dearer.from, until: dearer.from + 5, cents: dearer.cents }] : [],
    creditsLifeLeft,
  }))

// HiGHS: Huangfu and Hall, Parallelizing the dual revised simplex method (2018). An independent optimum for each instance.
test('PLAN-2 an integer programme solved by another program finds the same least cost, grace and life left counted', async () => {
  const leastCents = await programmeSolver()
  fc.assert(
    fc.property(questions, (question) => {
      const plan = planVisits(question)
      expect(plan.proved).toBe(true)
      expect(checkVisitPlan(question, plan)).toEqual([])
      expect(plan.totalCents).toBe(leastCents(programmeOf(question)))
    }),
    { numRuns: 15 },
  )
})

test('PLAN-1 the published programme itself comes to 260 over 50 steps', async () => {
  const leastCents = await programmeSolver()
  const costs = [34, 25, 14, 21, 16, 3, 10, 5, 7, 10]
  const lives = [42, 18, 90, 94, 49, 49, 34, 90, 37, 11]
  expect(leastCents(publishedProgramme(costs, lives, 20, 50))).toBe(260)
})
