import { changeCents, type NextDue, type PlanDay, type PlannableStage, type VisitPlanQuestion } from './visit-plan.ts'

/** Stages that may as well always be seen to together, so that the search has fewer to weigh. */
export interface StageGroup {
  /** Indexes into the question's stages. */
  readonly members: readonly number[]
  /** The last day of all of them: due date and grace, or the first day when that is past. */
  readonly lastDay: PlanDay
  readonly graceDays: number
  readonly next: NextDue
  /** One change of all of them, whole cents. */
  readonly cost: number
  readonly memberCosts: readonly number[]
  readonly neverEarly: boolean
  readonly notBefore: PlanDay
  /** Indexes of groups. */
  readonly carries: readonly number[]
}

/**
 * Puts stages that agree in everything but their price into one group. Nothing is lost by it: of two such stages let both follow the
 * schedule of the one whose schedule has fewer changes, and among equal ones the more life left at the horizon; no visit is added, and
 * neither costs more. For stages whose cost does not depend on the day.
 */
export function groupsOfAlike(question: VisitPlanQuestion): StageGroup[] {
  const { stages, firstDay } = question
  const carriers = stages.map((_, index) => stages.flatMap((stage, at) => (stage.carries.includes(index) ? [at] : [])))
  const lastDayOf = (stage: PlannableStage) => Math.max(stage.dueDay + stage.graceDays, firstDay)
  const groupOf: number[] = []
  const members: number[][] = []
  stages.forEach((stage, index) => {
    const found = members.findIndex(([first]) => {
      const other = stages[first ?? 0]
      return (
        other !== undefined &&
        lastDayOf(other) === lastDayOf(stage) &&
        other.graceDays === stage.graceDays &&
        other.neverEarly === stage.neverEarly &&
        (other.notBefore ?? 0) === (stage.notBefore ?? 0) &&
        sameList(other.carries, stage.carries) &&
        sameList(carriers[first ?? 0] ?? [], carriers[index] ?? []) &&
        sameNext(other.next, stage.next)
      )
    })
    groupOf[index] = found < 0 ? members.length : found
    if (found < 0) members.push([index])
    else members[found]?.push(index)
  })
  return members.flatMap((own): StageGroup[] => {
    const stage = stages[own[0] ?? 0]
    if (!stage) return []
    const memberCosts = own.map((index) => costOf(stages[index]))
    return [
      {
        members: own,
        lastDay: lastDayOf(stage),
        graceDays: stage.graceDays,
        next: stage.next,
        cost: memberCosts.reduce((sum, cost) => sum + cost, 0),
        memberCosts,
        neverEarly: stage.neverEarly,
        notBefore: stage.notBefore ?? 0,
        carries: [...new Set(stage.carries.map((index) => groupOf[index] ?? 0))],
      },
    ]
  })
}

function costOf(stage: PlannableStage | undefined): number {
  return stage ? changeCents(stage, 0) : 0
}

function sameList(one: readonly number[], other: readonly number[]): boolean {
  return one.length === other.length && one.every((value, at) => value === other[at])
}

function sameNext(one: NextDue, other: NextDue): boolean {
  if (one === other) return true
  if (one.lifeDays !== other.lifeDays || one.longestDays !== other.longestDays) return false
  return one.dueAt.length === other.dueAt.length && one.dueAt.every((due, day) => due === other.dueAt[day])
}
