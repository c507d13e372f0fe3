import type { PlannableStage, VisitPlan, VisitPlanQuestion } from './visit-plan.ts'

/**
 * The judge of a visit plan: walks through the horizon day by day with the stages as they stand and says what is wrong; an empty list
 * means that the plan holds and costs what it says. Whether a cheaper one exists is for the tests to find by other means.
 */
export function checkVisitPlan(question: VisitPlanQuestion, plan: VisitPlan): string[] {
  return [...complaintsAboutDays(question, plan), ...complaintsAboutCosts(question, plan)]
}

function complaintsAboutDays(question: VisitPlanQuestion, plan: VisitPlan): string[] {
  const complaints: string[] = []
  const due = question.stages.map((stage) => stage.dueDay)
  const visits = new Map(plan.visits.map((visit) => [visit.day, visit.changes]))
  if (visits.size !== plan.visits.length) complaints.push('two visits on one day')
  for (const { day, changes } of plan.visits) {
    if (!Number.isInteger(day) || day < question.firstDay || day > question.horizonDay)
      complaints.push(`a visit on day ${day}, outside the days looked at`)
    if (changes.length === 0) complaints.push(`nothing to do on day ${day}`)
    if (new Set(changes).size !== changes.length) complaints.push(`a stage twice on day ${day}`)
  }
  for (let day = question.firstDay; day <= question.horizonDay; day += 1) {
    const changes = visits.get(day) ?? []
    question.stages.forEach((stage, index) => {
      const now = due[index] ?? 0
      if (changes.includes(index)) {
        const carried = changes.some((other) => question.stages[other]?.carries.includes(index))
        if (stage.neverEarly && !carried && now > day) complaints.push(`stage ${index} changed early on day ${day}`)
        if (day < (stage.notBefore ?? 0)) complaints.push(`stage ${index} changed on day ${day}, though it was to wait`)
        for (const follower of stage.carries)
          if (!changes.includes(follower)) complaints.push(`stage ${index} without stage ${follower} on day ${day}`)
        due[index] = stage.next.dueAt[day] ?? day
      } else if (Math.max(now + stage.graceDays, question.firstDay) === day) {
        complaints.push(`stage ${index} runs over its grace after day ${day}`)
      }
    })
  }
  return complaints
}

function complaintsAboutCosts(question: VisitPlanQuestion, plan: VisitPlan): string[] {
  const complaints: string[] = []
  let calls = 0
  for (const { day } of plan.visits) {
    const differences = question.callDifferences.filter(({ from, until }) => from <= day && day <= until)
    calls += Math.max(
      0,
      differences.reduce((sum, { cents }) => sum + cents, question.callCents),
    )
  }
  const perStage = question.stages.map((stage, index) => {
    const days = plan.visits.filter(({ changes }) => changes.includes(index)).map(({ day }) => day)
    return { spent: days.reduce((sum, day) => sum + priceOn(stage, day), 0), left: lifeLeft(question, stage, days) }
  })
  const changes = perStage.reduce((sum, { spent }) => sum + spent, 0)
  const credit = perStage.reduce((sum, { left }) => sum + left, 0)
  if (calls !== plan.callsCents) complaints.push(`calls come to ${calls}, not ${plan.callsCents}`)
  if (changes !== plan.changesCents) complaints.push(`changes come to ${changes}, not ${plan.changesCents}`)
  if (credit !== plan.creditCents) complaints.push(`the credit comes to ${credit}, not ${plan.creditCents}`)
  if (calls + changes - credit !== plan.totalCents)
    complaints.push(`the whole comes to ${calls + changes - credit}, not ${plan.totalCents}`)
  return complaints
}

function lifeLeft(question: VisitPlanQuestion, stage: PlannableStage, days: readonly number[]): number {
  if (!question.creditsLifeLeft) return 0
  const last = days.length === 0 ? null : Math.max(...days)
  const due = last === null ? stage.dueDay : (stage.next.dueAt[last] ?? last)
  const left = Math.min(Math.max(due - question.horizonDay, 0), stage.next.lifeDays)
  return Math.floor((left * priceOn(stage, question.horizonDay)) / stage.next.lifeDays)
}

function priceOn(stage: PlannableStage, day: number): number {
  return Array.isArray(stage.costCents) ? (stage.costCents[day] ?? 0) : Number(stage.costCents)
}
