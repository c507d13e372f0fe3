import { addDays, type CalendarDate, weekdayOf } from '../units/calendar-date.ts'
import type { TechnicianId } from '../units/ids.ts'
import { type TimeOfDay, timeOfDay } from '../units/time-of-day.ts'
import { type BookedVisit, minutesTaken, type TechnicianTime } from './check-booking.ts'
import { canReachEveryDoor, type Door } from './doors-in-time.ts'

/** A booked visit with the town it is in. */
export interface VisitInTown extends BookedVisit {
  readonly town: string
}

/** A visit of a day as far as the room of that day goes. */
export interface DoorInTown extends Door {
  readonly town: string
}

export interface RoomWanted {
  readonly town: string
  readonly minutes: number
  readonly driveMinutes: number
  readonly windowMinutes: number
  /** The first day that may be offered. */
  readonly from: CalendarDate
  readonly days: number
}

/** A day and a window that could be offered on the phone. */
export interface FreeDay {
  readonly on: CalendarDate
  readonly technicianId: TechnicianId
  readonly technician: string
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  /** Left that day after this visit. */
  readonly minutesLeft: number
  /** Visits in the household's town by the same technician that day. */
  readonly visitsInTown: number
}

/**
 * Days with room, those on which a technician is in the household's town first, then the earliest. One window a day and
 * technician: the first in which every door of that day can still be reached. A first form of finding a slot.
 */
export function freeDays(
  wanted: RoomWanted,
  technicians: readonly TechnicianTime[],
  booked: readonly VisitInTown[],
): FreeDay[] {
  const found: FreeDay[] = []
  for (let ahead = 0; ahead < wanted.days; ahead += 1) {
    const on = addDays(wanted.from, ahead)
    for (const technician of technicians) {
      if (!isAtWork(technician, on)) continue
      const day = booked.filter((visit) => visit.on === on && visit.technicianId === technician.technicianId)
      const room = roomOn(wanted, technician, on, day)
      if (room) found.push(room)
    }
  }
  return found.toSorted(
    (a, b) =>
      Number(b.visitsInTown > 0) - Number(a.visitsInTown > 0) ||
      (a.on < b.on ? -1 : a.on > b.on ? 1 : 0) ||
      b.visitsInTown - a.visitsInTown ||
      b.minutesLeft - a.minutesLeft,
  )
}

export function isAtWork(technician: TechnicianTime, on: CalendarDate): boolean {
  if (technician.leftOn !== null && technician.leftOn <= on) return false
  if (!technician.workdays.includes(String(weekdayOf(on)))) return false
  return !technician.daysOff.some((day) => day.from <= on && on <= day.until)
}

/** The first window of a technician's day in which every door can still be reached; null when there is no room. */
export function roomOn(
  wanted: RoomWanted,
  technician: TechnicianTime,
  on: CalendarDate,
  day: readonly DoorInTown[],
): FreeDay | null {
  const minutesLeft = technician.minutesADay - minutesTaken([...day, wanted], wanted.driveMinutes)
  if (minutesLeft < 0) return null
  for (let from = technician.startsAt as number; from < technician.endsAt; from += wanted.windowMinutes) {
    const until = Math.min(from + wanted.windowMinutes, technician.endsAt)
    if (from + wanted.minutes > technician.endsAt) return null
    const door = { windowFrom: from, windowUntil: until, minutes: wanted.minutes }
    const begins = Math.min(technician.startsAt, ...day.map((visit) => visit.windowFrom)) - wanted.driveMinutes
    if (canReachEveryDoor([...day, door], begins, wanted.driveMinutes) !== true) continue
    return {
      on,
      technicianId: technician.technicianId,
      technician: technician.name,
      windowFrom: timeOfDay(from),
      windowUntil: timeOfDay(until),
      minutesLeft,
      visitsInTown: day.filter((visit) => visit.town === wanted.town).length,
    }
  }
  return null
}
