import { type CalendarDate, partsOf } from '../units/calendar-date.ts'
import { visitIdSchema } from '../units/ids.ts'
import { minutes } from '../units/time-of-day.ts'
import { type BookedVisit, checkBooking } from '../visits/check-booking.ts'
import type { HomeToVisit, RecallVisitPlan, RoomForRecall } from './recall-visits.ts'

/**
 * Holds a plan of recall visits against the booking check, each visit with all others of the plan and the books standing, and
 * returns what is wrong in words: every home once, booked or left; no day outside the days asked for; nobody away; no objection.
 */
export function checkRecallVisits(
  homes: readonly HomeToVisit[],
  room: RoomForRecall,
  plan: RecallVisitPlan,
  today: CalendarDate,
): string[] {
  const complaints: string[] = []
  const seen = [...plan.bookings, ...plan.left].map((each) => each.siteId).sort((a, b) => a - b)
  const wanted = homes.map((home) => home.siteId).sort((a, b) => a - b)
  if (seen.join() !== wanted.join()) complaints.push('Homes are lost or doubled.')
  const planned = plan.bookings.map(
    (booking, index): BookedVisit => ({
      ...booking,
      minutes: minutes(booking.minutes),
      visitId: visitIdSchema.parse(1_000_000_000 + index),
    }),
  )
  for (const visit of planned) {
    const home = homes.find((each) => each.siteId === visit.siteId)
    const technician = room.technicians.find((each) => each.technicianId === visit.technicianId)
    if (!home || !technician) {
      complaints.push(`${visit.household}: nobody knows the home or the technician.`)
      continue
    }
    if (visit.on < room.from) complaints.push(`${visit.household}: before the first day.`)
    if (home.monthsAway.includes(partsOf(visit.on).month)) complaints.push(`${visit.household}: nobody is there.`)
    if (visit.minutes !== home.minutes) complaints.push(`${visit.household}: not the minutes that it takes.`)
    const others = [...room.booked, ...planned].filter(
      (other) => other !== visit && other.on === visit.on && other.technicianId === visit.technicianId,
    )
    const objections = checkBooking(
      { ...visit, visitId: null, technician, taskCount: 1 },
      { today, locale: 'en-US', driveMinutes: minutes(room.driveMinutes), others },
    )
    complaints.push(...objections.map((objection) => `${visit.household}: ${objection.sentence}`))
  }
  return complaints
}
