import { type DayNumber, dateOfDayNumber, partsOf, weekdayOf } from '../units/calendar-date.ts'

/** What fits into a technician's eight hours with the driving, ninety minutes each. */
export const VISITS_A_DAY = 5
export const MINUTES_A_VISIT = 90

/** Monday to Friday, less a handful of fixed days at the turn of the year. */
export function isWorkday(day: DayNumber): boolean {
  const date = dateOfDayNumber(day)
  if (weekdayOf(date) > 5) return false
  const { month, day: dayOfMonth } = partsOf(date)
  return !((month === 12 && (dayOfMonth === 25 || dayOfMonth === 26)) || (month === 1 && dayOfMonth === 1))
}

export function nextWorkday(day: DayNumber): DayNumber {
  let next = day + 1
  while (!isWorkday(next)) next += 1
  return next
}

export function lastWorkdayBefore(day: DayNumber): DayNumber {
  let before = day - 1
  while (!isWorkday(before)) before -= 1
  return before
}

/** Who drives where on which day. A town has its weekday, so that visits come in clusters; a full day spills to the next one free. */
export class DemoCalendar {
  readonly #taken = new Map<string, number>()
  readonly #off: (technician: number, day: DayNumber) => boolean

  constructor(off: (technician: number, day: DayNumber) => boolean) {
    this.#off = off
  }

  /** The first day from `earliest` on which the technician has room; the town's weekday is waited for up to `patience` days. */
  find(technician: number, weekday: number, earliest: DayNumber, patience: number): DayNumber {
    let firstFree: DayNumber | null = null
    for (let day = earliest; day <= earliest + patience; day += 1) {
      if (!this.#hasRoom(technician, day)) continue
      if (weekdayOf(dateOfDayNumber(day)) === weekday) return day
      firstFree ??= day
    }
    if (firstFree !== null) return firstFree
    let day = earliest + patience + 1
    while (!this.#hasRoom(technician, day)) day += 1
    return day
  }

  /** Takes the next hour of the day; 0 is the first visit. */
  take(technician: number, day: DayNumber): number {
    const key = `${technician}|${day}`
    const place = this.#taken.get(key) ?? 0
    this.#taken.set(key, place + 1)
    return place
  }

  #hasRoom(technician: number, day: DayNumber): boolean {
    return (
      isWorkday(day) && !this.#off(technician, day) && (this.#taken.get(`${technician}|${day}`) ?? 0) < VISITS_A_DAY
    )
  }
}
