import type { NextDue, PlanDay } from './visit-plan.ts'

/** What is to come of a stage that nobody else bothers about, for each last day within the horizon: changed as late as can be. */
export interface Alone {
  /** The fewest changes that can still come. */
  readonly times: Int32Array
  /** Days of life left at the horizon after them, at most a whole life. */
  readonly left: Int32Array
}

const known = new WeakMap<NextDue, (Alone & { readonly graceDays: number; readonly horizonDay: PlanDay })[]>()

/** Tables for a stage by itself; made once for each table of due dates and grace. */
export function aloneUntil(next: NextDue, graceDays: number, horizonDay: PlanDay): Alone {
  const kept = known.get(next) ?? []
  const found = kept.find((one) => one.graceDays === graceDays && one.horizonDay === horizonDay)
  if (found) return found
  const times = new Int32Array(horizonDay + 1)
  const left = new Int32Array(horizonDay + 1)
  for (let day = horizonDay; day >= 0; day -= 1) {
    const lastDay = (next.dueAt[day] ?? day + 1) + graceDays
    times[day] = lastDay > horizonDay ? 1 : 1 + (times[lastDay] ?? 0)
    left[day] = lastDay > horizonDay ? lifeLeftAt(next, lastDay - graceDays, horizonDay) : (left[lastDay] ?? 0)
  }
  const made = { times, left, graceDays, horizonDay }
  known.set(next, [...kept, made])
  return made
}

/** Days of life that a stage due on `dueDay` has left at the horizon, at most a whole life. */
export function lifeLeftAt(next: NextDue, dueDay: PlanDay, horizonDay: PlanDay): number {
  return Math.max(0, Math.min(dueDay - horizonDay, next.lifeDays))
}
