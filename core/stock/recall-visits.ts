import type { MonthsAway } from '../customers/months-away.ts'
import { addDays, type CalendarDate, partsOf } from '../units/calendar-date.ts'
import type { SiteId, TechnicianId } from '../units/ids.ts'
import type { TimeOfDay } from '../units/time-of-day.ts'
import type { TechnicianTime } from '../visits/check-booking.ts'
import { type DoorInTown, isAtWork, roomOn, type VisitInTown } from '../visits/free-days.ts'

/** A home where the recalled piece is to be changed, and nobody is booked yet. */
export interface HomeToVisit {
  readonly siteId: SiteId
  readonly household: string
  readonly town: string
  /** At the door, the call included. */
  readonly minutes: number
  readonly monthsAway: MonthsAway
}

export interface RoomForRecall {
  /** The first day that may be used, and how many days are looked at. */
  readonly from: CalendarDate
  readonly days: number
  readonly driveMinutes: number
  readonly windowMinutes: number
  readonly technicians: readonly TechnicianTime[]
  /** Booked visits of those days. */
  readonly booked: readonly VisitInTown[]
}

export interface RecallBooking {
  readonly siteId: SiteId
  readonly household: string
  readonly town: string
  readonly technicianId: TechnicianId
  readonly technician: string
  readonly on: CalendarDate
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly minutes: number
}

export interface RecallVisitPlan {
  /** By day, technician and window. */
  readonly bookings: readonly RecallBooking[]
  /** Homes for which the days looked at have no room. */
  readonly left: readonly HomeToVisit[]
}

/**
 * Spreads the homes over the coming days, day by day and technician by technician, town by town: first the towns a technician is in
 * anyway, then the one with the most homes left. Each booking passes the booking check with all before it: hours, room and doors of
 * the day are kept. Homes keep their order within a town; a home is not visited in a month in which nobody is there.
 */
export function planRecallVisits(homes: readonly HomeToVisit[], room: RoomForRecall): RecallVisitPlan {
  const waiting = new Map<string, HomeToVisit[]>()
  for (const home of homes) waiting.set(home.town, [...(waiting.get(home.town) ?? []), home])
  const bookings: RecallBooking[] = []
  for (let ahead = 0; ahead < room.days && waiting.size > 0; ahead += 1) {
    const on = addDays(room.from, ahead)
    for (const technician of room.technicians)
      if (isAtWork(technician, on)) bookings.push(...fillDay(waiting, technician, on, room))
  }
  const placed = new Set(bookings.map((booking) => booking.siteId))
  return { bookings, left: homes.filter((home) => !placed.has(home.siteId)) }
}

/** Puts as many of the waiting homes into a technician's day as it holds, and takes them off the list. */
function fillDay(
  waiting: Map<string, HomeToVisit[]>,
  technician: TechnicianTime,
  on: CalendarDate,
  room: RoomForRecall,
): RecallBooking[] {
  const day: DoorInTown[] = room.booked.filter(
    (visit) => visit.on === on && visit.technicianId === technician.technicianId,
  )
  // What needs as long as a home that did not fit does not fit either: the day only grows fuller.
  let tooLong = Number.POSITIVE_INFINITY
  const made: RecallBooking[] = []
  for (const town of townsInOrder(waiting, day)) {
    const own = waiting.get(town) ?? []
    const stays: HomeToVisit[] = []
    for (const home of own) {
      const canBe = !isAway(home, on) && home.minutes < tooLong
      const booking = canBe ? bookingOn(home, technician, on, day, room) : null
      if (booking !== null) {
        made.push(booking)
        day.push(booking)
        continue
      }
      stays.push(home)
      if (canBe) tooLong = home.minutes
    }
    if (stays.length > 0) waiting.set(town, stays)
    else waiting.delete(town)
  }
  return made.toSorted((a, b) => a.windowFrom - b.windowFrom)
}

const isAway = (home: HomeToVisit, on: CalendarDate): boolean => home.monthsAway.includes(partsOf(on).month)

function townsInOrder(waiting: ReadonlyMap<string, readonly HomeToVisit[]>, day: readonly DoorInTown[]): string[] {
  const visits = (town: string): number => day.filter((visit) => visit.town === town).length
  return [...waiting]
    .toSorted(
      ([a, homes], [b, others]) =>
        visits(b) - visits(a) || others.length - homes.length || (a < b ? -1 : a > b ? 1 : 0),
    )
    .map(([town]) => town)
}

function bookingOn(
  { siteId, household, town, minutes: planned }: HomeToVisit,
  technician: TechnicianTime,
  on: CalendarDate,
  day: readonly DoorInTown[],
  { driveMinutes, windowMinutes }: RoomForRecall,
): RecallBooking | null {
  const wanted = { town, minutes: planned, driveMinutes, windowMinutes, from: on, days: 1 }
  const offer = roomOn(wanted, technician, on, day)
  if (offer === null) return null
  const { technicianId, technician: name, windowFrom, windowUntil } = offer
  return { siteId, household, town, technicianId, technician: name, on, windowFrom, windowUntil, minutes: planned }
}
