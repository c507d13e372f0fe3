import {
  callCentsOn,
  changeCents,
  creditCents,
  type PlanDay,
  type PlannedVisit,
  type VisitPlanQuestion,
} from './visit-plan.ts'

/** A way of having come so far, the due date of every stage as last days. */
interface Way {
  readonly cost: number
  readonly lastDays: readonly number[]
  readonly before: Way | null
  readonly day: PlanDay
  readonly changes: readonly number[]
}

/**
 * The visits of a best plan where the cost of a change depends on the day: every set of stages on every day is looked at. For small
 * questions: a handful of stages, some dozens of days.
 */
export function searchEverySet(question: VisitPlanQuestion): PlannedVisit[] {
  const { stages, firstDay, horizonDay } = question
  const start = stages.map((stage) => Math.max(stage.dueDay + stage.graceDays, firstDay))
  let ways: Way[] = [{ cost: 0, lastDays: start, before: null, day: -1, changes: [] }]
  for (let day = firstDay; day <= horizonDay; day += 1) {
    const next = new Map<string, Way>()
    const keep = (way: Way) => {
      const key = way.lastDays.join()
      const other = next.get(key)
      if (!other || way.cost < other.cost) next.set(key, way)
    }
    for (const way of ways) {
      for (let set = 0; set < 1 << stages.length; set += 1) {
        const after = visited(question, way, day, set)
        if (after) keep(after)
      }
    }
    ways = [...next.values()]
  }
  let best: Way | null = null
  let bestTotal = Number.POSITIVE_INFINITY
  for (const way of ways) {
    const credit = stages.reduce(
      (sum, stage, index) => sum + creditCents(question, stage, (way.lastDays[index] ?? 0) - stage.graceDays),
      0,
    )
    if (way.cost - credit >= bestTotal) continue
    bestTotal = way.cost - credit
    best = way
  }
  return visitsOf(best)
}

/** The way after a day on which the stages of `set` are changed (none: no visit); null when that is not allowed. */
function visited(question: VisitPlanQuestion, way: Way, day: PlanDay, set: number): Way | null {
  const { stages } = question
  const isIn = (index: number) => (set & (1 << index)) !== 0
  const allowed = stages.every((stage, index) => {
    const last = way.lastDays[index] ?? 0
    if (!isIn(index)) return last > day
    if ((stage.notBefore ?? 0) > day || (stage.neverEarly && last - stage.graceDays > day)) return false
    return stage.carries.every(isIn)
  })
  if (!allowed) return null
  if (set === 0) return way
  let cost = way.cost + callCentsOn(question, day)
  const lastDays = stages.map((stage, index) => {
    if (!isIn(index)) return way.lastDays[index] ?? 0
    cost += changeCents(stage, day)
    return (stage.next.dueAt[day] ?? day) + stage.graceDays
  })
  return { cost, lastDays, before: way, day, changes: stages.flatMap((_, index) => (isIn(index) ? [index] : [])) }
}

function visitsOf(end: Way | null): PlannedVisit[] {
  const visits: PlannedVisit[] = []
  for (let way = end; way !== null && way.before !== null; way = way.before)
    visits.push({ day: way.day, changes: way.changes })
  return visits.reverse()
}
