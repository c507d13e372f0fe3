import { searchVisits } from './search-visits.ts'
import { costOfVisits, type PlannedVisit, type VisitPlan, type VisitPlanQuestion } from './visit-plan.ts'

/** A plan, and whether it is proved that none costs less. */
export interface FoundPlan extends VisitPlan {
  readonly proved: boolean
}

/**
 * The visits and the stages changed on each that cost least over the horizon, none of the stages running past its due date plus its
 * grace. Exact: see `search-visits.ts` for the proof that only a few days need to be looked at. Where there is too much to weigh, the
 * best plan that was found, and `proved` is false.
 * Costs are whole cents, days are counted from the day of planning. No stages, or none that falls due within the horizon: no visits.
 */
export function planVisits(question: VisitPlanQuestion): FoundPlan {
  const { visits, proved } = searchVisits(question)
  return { ...costOfVisits(question, visits), proved }
}

/** Every stage on its own due date, whatever else is due; calls are shared only where dates happen to agree. For comparison. */
export function eachOnItsOwnDate(question: VisitPlanQuestion): VisitPlan {
  return costOfVisits(
    question,
    followDueDates(question, (due, day) => due <= day),
  )
}

/** Everything at every call, the calls being forced by whatever is due first. For comparison. */
export function everythingEveryTime(question: VisitPlanQuestion): VisitPlan {
  return costOfVisits(
    question,
    followDueDates(question, () => true),
  )
}

function followDueDates(question: VisitPlanQuestion, isTaken: (due: number, day: number) => boolean): PlannedVisit[] {
  const { stages, firstDay, horizonDay } = question
  const dues = stages.map((stage) => Math.max(stage.dueDay, firstDay))
  const visits: PlannedVisit[] = []
  for (;;) {
    const day = Math.min(...dues)
    if (!(day <= horizonDay)) return visits
    const taken = new Set(dues.flatMap((due, index) => (isTaken(due, day) ? [index] : [])))
    for (const index of [...taken]) for (const carried of stages[index]?.carries ?? []) taken.add(carried)
    const changes = [...taken].sort((a, b) => a - b)
    for (const index of changes) dues[index] = stages[index]?.next.dueAt[day] ?? day + 1
    visits.push({ day, changes })
  }
}
