import { cents } from '../units/money.ts'
import type { NextDueShelf } from './next-due-shelf.ts'
import { type HouseholdToPlan, type PlanFigures, planHousehold } from './plan-household.ts'
import type { KeptPlan } from './plan-shapes.ts'
import { datedVisits } from './plan-view.ts'
import { eachOnItsOwnDate, everythingEveryTime } from './plan-visits.ts'

/** The books keep the visits of so many days: a year, and a month's grace and more. */
const KEPT_DAYS = 400

/** The plan of a household as the books keep it. */
export function keptPlanOf(household: HouseholdToPlan, figures: PlanFigures, shelf: NextDueShelf): KeptPlan {
  const visits = planHousehold(household, figures, shelf)
  const { plan, question } = visits
  const saves = (other: { readonly totalCents: number }) => cents(Math.max(0, other.totalCents - plan.totalCents))
  return {
    siteId: household.siteId,
    horizonOn: visits.horizonOn,
    visitCount: plan.visits.length,
    totalCents: cents(plan.totalCents),
    savesOwnDatesCents: saves(eachOnItsOwnDate(question)),
    savesEverythingCents: saves(everythingEveryTime(question)),
    proved: visits.proved,
    visits: datedVisits(visits, figures, { visits: Number.POSITIVE_INFINITY, days: KEPT_DAYS }).map((visit) => ({
      ...visit,
      changes: visit.changes.map(({ stage: { stageId }, because, dueOn }) => ({ stageId, because, dueOn })),
    })),
  }
}
