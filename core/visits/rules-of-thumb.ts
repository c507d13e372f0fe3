import type { StageGroup } from './alike-stages.ts'
import { lifeLeftAt } from './alone.ts'
import { callCentsOn, type PlanDay, type PlannedVisit, type VisitPlanQuestion } from './visit-plan.ts'

/** A plan by a rule of thumb, to begin the search with or to fall back on. `changes` are indexes of groups. */
export interface ThumbPlan {
  readonly cents: number
  readonly visits: () => PlannedVisit[]
}

/** The cheapest of a row of simple plans: at each forced visit everything that would run out within so many weeks. */
export function bestRuleOfThumb(question: VisitPlanQuestion, groups: readonly StageGroup[]): ThumbPlan {
  let cents = Number.POSITIVE_INFINITY
  let best = 0
  for (let reach = 1; ; reach = Math.ceil(reach * 1.6)) {
    const cost = followReach(question, groups, reach, null)
    if (cost < cents) {
      cents = cost
      best = reach
    }
    if (reach > question.horizonDay) break
  }
  return {
    cents,
    visits: () => {
      const visits: PlannedVisit[] = []
      followReach(question, groups, best, visits)
      return visits
    },
  }
}

/** What the plan of one reach costs; its visits are put into `visits` where somebody wants them. */
function followReach(
  question: VisitPlanQuestion,
  groups: readonly StageGroup[],
  reach: number,
  visits: PlannedVisit[] | null,
): number {
  const lastDays = groups.map(({ lastDay }) => lastDay)
  const taken = new Uint8Array(groups.length)
  let cost = 0
  for (;;) {
    let day = Number.POSITIVE_INFINITY
    for (const last of lastDays) if (last < day) day = last
    if (day > question.horizonDay) return cost - creditOf(question, groups, lastDays)
    chooseByReach(question, groups, lastDays, day, reach, taken)
    cost += callCentsOn(question, day)
    for (let index = 0; index < taken.length; index += 1) {
      const group = groups[index]
      if (!group || taken[index] === 0) continue
      cost += group.cost
      lastDays[index] = (group.next.dueAt[day] ?? day) + group.graceDays
    }
    visits?.push({ day, changes: [...taken.keys()].filter((index) => taken[index] === 1) })
  }
}

function chooseByReach(
  question: VisitPlanQuestion,
  groups: readonly StageGroup[],
  lastDays: readonly number[],
  day: PlanDay,
  reach: number,
  taken: Uint8Array,
): void {
  taken.fill(0)
  for (let index = 0; index < groups.length; index += 1) {
    const group = groups[index]
    const last = lastDays[index] ?? 0
    if (!group) continue
    if (last > day) {
      if (last >= day + reach || last > question.horizonDay) continue
      if (group.neverEarly && last - group.graceDays > day) continue
      if (group.notBefore > day || group.carries.some((at) => (groups[at]?.notBefore ?? 0) > day)) continue
    }
    taken[index] = 1
    for (const carried of group.carries) taken[carried] = 1
  }
}

/** The life left at the horizon, whole cents, each stage rounded down by itself. */
export function creditOf(
  question: VisitPlanQuestion,
  groups: readonly StageGroup[],
  lastDays: ArrayLike<number>,
): number {
  if (!question.creditsLifeLeft) return 0
  let sum = 0
  for (let index = 0; index < groups.length; index += 1) {
    const group = groups[index]
    if (!group) continue
    const left = lifeLeftAt(group.next, (lastDays[index] ?? 0) - group.graceDays, question.horizonDay)
    if (left === 0) continue
    for (const cost of group.memberCosts) sum += Math.floor((cost * left) / group.next.lifeDays)
  }
  return sum
}
