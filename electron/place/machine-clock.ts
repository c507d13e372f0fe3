import type { Clock } from '../../core/clock.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

/** The machine's own clock: its calendar date where it stands, and the instant. The only place that reads it. */
export const machineClock: Clock = {
  today: () => {
    const now = new Date()
    const two = (part: number): string => String(part).padStart(2, '0')
    return calendarDate(
      `${String(now.getFullYear()).padStart(4, '0')}-${two(now.getMonth() + 1)}-${two(now.getDate())}`,
    )
  },
  now: () => new Date().toISOString(),
}
