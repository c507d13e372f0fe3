import { addDays, type CalendarDate, dayNumberOf, mondayOf } from '../units/calendar-date.ts'
import type { TechnicianTime } from './check-booking.ts'
import { isAtWork } from './free-days.ts'

/** The Mondays of so many weeks, from the one that today is in. */
export function mondaysFrom(today: CalendarDate, weeks: number): CalendarDate[] {
  const first = mondayOf(today)
  return Array.from({ length: weeks }, (_, week) => addDays(first, week * 7))
}

/** The week of a day, counted from the one that today is in; below 0 before it. */
export function weekCounter(today: CalendarDate): (day: CalendarDate) => number {
  const first = dayNumberOf(mondayOf(today))
  const known = new Map<CalendarDate, number>()
  return (day) => {
    const before = known.get(day)
    if (before !== undefined) return before
    const week = Math.floor((dayNumberOf(day) - first) / 7)
    known.set(day, week)
    return week
  }
}

/**
 * Minutes of work and driving that the technicians have, week by week: their workdays without their days off. Of the first week only
 * what is left of it counts, today included.
 */
export function hoursByWeek(technicians: readonly TechnicianTime[], today: CalendarDate, weeks: number): number[] {
  return mondaysFrom(today, weeks).map((monday) => {
    let sum = 0
    for (let day = 0; day < 7; day += 1) {
      const on = addDays(monday, day)
      if (on < today) continue
      for (const technician of technicians) if (isAtWork(technician, on)) sum += technician.minutesADay
    }
    return sum
  })
}
