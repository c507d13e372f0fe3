import type { VisitPlanQuestion } from '../../core/visits/visit-plan.ts'

/** The least total cost of all plans there are, every set of stages on every day; cents. For a few stages and some two weeks. */
export function bestByEveryPlan(question: VisitPlanQuestion): number {
  const { stages, firstDay, horizonDay } = question
  const known = new Map<string, number>()
  const call = (day: number) =>
    Math.max(
      0,
      question.callDifferences
        .filter(({ from, until }) => from <= day && day <= until)
        .reduce((sum, { cents }) => sum + cents, question.callCents),
    )
  const price = (index: number, day: number) => {
    const cost = stages[index]?.costCents ?? 0
    return typeof cost === 'number' ? cost : (cost[day] ?? 0)
  }

  function from(day: number, dues: readonly number[]): number {
    if (day > horizonDay) {
      if (!question.creditsLifeLeft) return 0
      return -stages.reduce((sum, { next }, index) => {
        const left = Math.max(0, Math.min((dues[index] ?? 0) - horizonDay, next.lifeDays))
        return sum + Math.floor((price(index, horizonDay) * left) / next.lifeDays)
      }, 0)
    }
    const key = `${day}:${dues.join()}`
    const before = known.get(key)
    if (before !== undefined) return before
    let best = Number.POSITIVE_INFINITY
    for (let set = 0; set < 1 << stages.length; set += 1) {
      const has = (index: number) => (set & (1 << index)) !== 0
      const allowed = stages.every((stage, index) => {
        const due = dues[index] ?? 0
        if (!has(index)) return Math.max(due + stage.graceDays, firstDay) > day
        const carried = stages.some((other, at) => has(at) && other.carries.includes(index))
        if ((stage.notBefore ?? 0) > day) return false
        return stage.carries.every(has) && (!stage.neverEarly || carried || due <= day)
      })
      if (!allowed) continue
      const cost = stages.reduce(
        (sum, _, index) => (has(index) ? sum + price(index, day) : sum),
        set === 0 ? 0 : call(day),
      )
      const after = stages.map((stage, index) => (has(index) ? (stage.next.dueAt[day] ?? day) : (dues[index] ?? 0)))
      best = Math.min(best, cost + from(day + 1, after))
    }
    known.set(key, best)
    return best
  }
  return from(
    firstDay,
    stages.map((stage) => stage.dueDay),
  )
}
