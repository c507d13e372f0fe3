import type { CalendarDate } from '../units/calendar-date.ts'
import { type TimeOfDay, timeOfDay } from '../units/time-of-day.ts'
import type { TechnicianShape, VisitShape } from '../visits/visit-shapes.ts'
import { type DrivingSense, driveTable, type MapPoint } from './driving.ts'
import { orderStops } from './order-stops.ts'
import type { Route } from './routes-contract.ts'

export interface RouteToPlan {
  readonly technician: TechnicianShape
  readonly on: CalendarDate
  readonly startsAt: TimeOfDay
  readonly depot: MapPoint | null
  readonly visits: readonly VisitShape[]
}

const pointOf = ({ household: { latitude, longitude } }: VisitShape): MapPoint | null =>
  latitude === null || longitude === null ? null : { latitude, longitude }

/**
 * One technician's visits of a day in driving order, with arrival times. The van leaves in time to be at a first door when
 * the day, or the earliest window, begins.
 */
export function planRoute({ technician, on, startsAt, depot, visits }: RouteToPlan, sense: DrivingSense): Route {
  const points = visits.map(pointOf)
  const earliest = Math.min(startsAt, ...visits.map((visit) => visit.windowFrom))
  const leavesAt = timeOfDay(Math.max(0, earliest - sense.minutesWhenUnknown))
  const ordered = orderStops({
    stops: visits.map(({ windowFrom, windowUntil, plannedMinutes }) => ({
      windowFrom,
      windowUntil,
      onSiteMinutes: plannedMinutes,
    })),
    drive: driveTable([depot, ...points], sense),
    leavesAt,
  })
  const stops = ordered.times.flatMap(({ stop, ...times }, index) => {
    const visit = visits[stop]
    return visit ? [{ stop: index + 1, visit, ...times }] : []
  })
  // Who would only wait at the first door leaves the yard later.
  const firstWait = stops[0]?.waitsMinutes ?? 0
  return {
    technician,
    on,
    leavesAt: leavesAt + firstWait,
    backAt: ordered.backAt,
    driveMinutes: ordered.driveMinutes,
    notOnMap: points.filter((point) => point === null).length,
    stops: stops.map((stop) => (stop.stop === 1 ? { ...stop, waitsMinutes: 0 } : stop)),
  }
}
