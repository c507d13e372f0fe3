import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'

/** How a stage stands today: share of its life left (0 to 1, null when it was never dated) and whole days past its date. */
export interface LifeLeft {
  readonly lifeLeft: number | null
  readonly daysLate: number
}

/** What a whole life is taken as when only its end is known. */
const USUAL_LIFE_DAYS = 365

/**
 * Life left between the day the clock started and the due date. On the due date itself nothing is left and it is not late yet; before
 * a start that lies ahead all of it is left. With an end and no start, the last year counts as the whole life.
 */
export function lifeLeftOn(today: CalendarDate, startedOn: CalendarDate | null, dueOn: CalendarDate | null): LifeLeft {
  if (dueOn === null) return { lifeLeft: null, daysLate: 0 }
  const left = daysBetween(today, dueOn)
  if (left <= 0) return { lifeLeft: 0, daysLate: Math.abs(left) }
  const whole = startedOn === null ? USUAL_LIFE_DAYS : daysBetween(startedOn, dueOn)
  return { lifeLeft: whole <= 0 ? 1 : Math.min(1, left / whole), daysLate: 0 }
}
