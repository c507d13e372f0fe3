import { calendarDate } from '../../core/units/calendar-date.ts'
import { siteIdSchema, technicianIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import type {
  BookedVisit,
  BookingSurroundings,
  TechnicianTime,
  WantedBooking,
} from '../../core/visits/check-booking.ts'

/** Ilse Rademaker, Monday to Friday, 8 to 5, eight hours of work and driving. */
export function aTechnician(own: Partial<TechnicianTime> = {}): TechnicianTime {
  return {
    technicianId: technicianIdSchema.parse(1),
    name: 'Ilse Rademaker',
    workdays: '12345',
    startsAt: timeOfDay(8 * 60),
    endsAt: timeOfDay(17 * 60),
    minutesADay: minutes(480),
    leftOn: null,
    daysOff: [],
    ...own,
  }
}

/** A new visit on Wednesday 2026-12-02, 8 to 10, 44 minutes. */
export function aWantedBooking(own: Partial<WantedBooking> = {}): WantedBooking {
  return {
    visitId: null,
    siteId: siteIdSchema.parse(7),
    household: 'Abernathy-Vance, Corinne',
    technician: aTechnician(),
    on: calendarDate('2026-12-02'),
    windowFrom: timeOfDay(8 * 60),
    windowUntil: timeOfDay(10 * 60),
    minutes: minutes(44),
    taskCount: 3,
    ...own,
  }
}

export function aBookedVisit(own: Partial<BookedVisit> = {}): BookedVisit {
  return {
    visitId: visitIdSchema.parse(100),
    siteId: siteIdSchema.parse(8),
    household: 'Bexhill-Moreno, Idris',
    technicianId: technicianIdSchema.parse(1),
    on: calendarDate('2026-12-02'),
    windowFrom: timeOfDay(8 * 60),
    windowUntil: timeOfDay(10 * 60),
    minutes: minutes(44),
    ...own,
  }
}

export function aroundBooking(own: Partial<BookingSurroundings> = {}): BookingSurroundings {
  return { today: calendarDate('2026-12-01'), locale: 'en-US', driveMinutes: minutes(20), others: [], ...own }
}
