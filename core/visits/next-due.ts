import type { NextDue, PlanDay } from './visit-plan.ts'

/**
 * Tabulates when a stage falls due again for a change on any day of the horizon. `dueDay` must never fall as the day of the change
 * grows, and must lie after it; RangeError otherwise, for the plan rests on it.
 */
export function nextDueBy(horizonDay: PlanDay, dueDay: (changedOn: PlanDay) => PlanDay): NextDue {
  const dueAt = new Int32Array(horizonDay + 1)
  let longestDays = 0
  let before = Number.NEGATIVE_INFINITY
  for (let day = 0; day <= horizonDay; day += 1) {
    const due = dueDay(day)
    if (due <= day) throw new RangeError(`A stage changed on day ${day} would be due again on day ${due}.`)
    if (due < before) throw new RangeError(`A stage changed on day ${day} would be due before one changed earlier.`)
    dueAt[day] = due
    before = due
    longestDays = Math.max(longestDays, due - day)
  }
  return { dueAt, longestDays, lifeDays: Math.max(1, (dueAt[horizonDay] ?? 1) - horizonDay) }
}

/** Due again after a fixed number of days, at least one. */
export function nextDueAfterDays(horizonDay: PlanDay, days: number): NextDue {
  return nextDueBy(horizonDay, (day) => day + Math.max(1, days))
}
