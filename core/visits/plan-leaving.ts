import type { HouseholdVisits } from './plan-household.ts'
import { planVisits } from './plan-visits.ts'
import type { VisitPlanQuestion } from './visit-plan.ts'

/*
 * What a choice on the next visit is worth is found by planning once more with that choice forbidden: the rest is free to change, so
 * that the figure is the true difference and not a guess.
 */

/** What leaving a stage out of the next visit would cost more over the horizon, whole cents; null when it cannot be left. */
export function leavingCosts(visits: HouseholdVisits, index: number): number | null {
  const question = visits.searched
  const first = visits.plan.visits[0]
  const stage = question.stages[index]
  if (!first || !stage || !visits.proved) return null
  const lastDay = Math.max(stage.dueDay + stage.graceDays, question.firstDay)
  if (lastDay <= first.day) return null
  return differenceWith(visits, index, { ...stage, notBefore: first.day + 1 })
}

/** What taking a stage along on the next visit would cost more over the horizon, whole cents; never below nothing. */
export function takingCosts(visits: HouseholdVisits, index: number): number | null {
  const question = visits.searched
  const first = visits.plan.visits[0]
  const stage = question.stages[index]
  if (!first || !stage || !visits.proved || stage.neverEarly) return null
  return differenceWith(visits, index, { ...stage, dueDay: Math.min(stage.dueDay, first.day - stage.graceDays) })
}

function differenceWith(
  visits: HouseholdVisits,
  index: number,
  changed: VisitPlanQuestion['stages'][number],
): number | null {
  const stages = visits.searched.stages.map((stage, at) => (at === index ? changed : stage))
  const other = planVisits({ ...visits.searched, stages })
  return other.proved ? Math.max(0, other.totalCents - visits.searchedCents) : null
}
