import { addDays, type CalendarDate, calendarDate } from '../../core/units/calendar-date.ts'
import { technicianIdSchema } from '../../core/units/ids.ts'
import type { TechnicianTime } from '../../core/visits/check-booking.ts'
import type { LookAheadQuestion, PlannedAhead } from '../../core/visits/look-ahead.ts'
import { aTechnician } from './a-booking.ts'

/** A Monday. */
export const TODAY = calendarDate('2026-11-30')

/** A day so many weeks and days from the Monday of today's week. */
export const dayOf = (week: number, day = 0): CalendarDate => addDays(TODAY, week * 7 + day)

/** Eight hours a day, Monday to Friday, with days off from and until. */
export function atWork(daysOff: readonly (readonly [string, string])[] = [], id = 1): TechnicianTime {
  return aTechnician({
    technicianId: technicianIdSchema.parse(id),
    daysOff: daysOff.map(([from, until]) => ({ from: calendarDate(from), until: calendarDate(until), reason: '' })),
  })
}

/** So many alike visits of an hour, planned on the Wednesday of a week, with so many weeks of room before and after. */
export function visitsIn(
  week: number,
  visits: number,
  room: readonly [number, number] = [0, 0],
  minutes = 60,
): PlannedAhead {
  return {
    earliestOn: dayOf(week - room[0], 2),
    plannedOn: dayOf(week, 2),
    latestOn: dayOf(week + room[1], 2),
    isLate: false,
    minutes,
    visits,
    nextVisits: visits,
  }
}

export function aLookAheadQuestion(changes: Partial<LookAheadQuestion> = {}): LookAheadQuestion {
  return {
    today: TODAY,
    planned: [],
    booked: [],
    stages: [],
    technicians: [atWork()],
    households: 0,
    notPlanned: 0,
    ...changes,
  }
}
