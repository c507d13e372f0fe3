import type { CalendarDate } from '../units/calendar-date.ts'
import type { VisitId } from '../units/ids.ts'
import { type TimeOfDay, timeOfDay } from '../units/time-of-day.ts'
import type { TechnicianShape, VisitShape } from '../visits/visit-shapes.ts'
import { type DrivingSense, driveTable, type MapPoint } from './driving.ts'
import { keepOrder, orderStops } from './order-stops.ts'
import type { Route } from './routes-contract.ts'

export interface RouteToPlan {
  readonly technician: TechnicianShape
  readonly on: CalendarDate
  readonly startsAt: TimeOfDay
  readonly depot: MapPoint | null
  readonly visits: readonly VisitShape[]
  /** The visits whose place somebody made by hand, in that order; none: the order is worked out. */
  readonly byHand: readonly VisitId[]
}

const pointOf = ({ household: { latitude, longitude } }: VisitShape): MapPoint | null =>
  latitude === null || longitude === null ? null : { latitude, longitude }

/**
 * One technician's visits of a day in driving order, with arrival times. The van leaves in time to be at a first door when
 * the day, or the earliest window, begins.
 */
export function planRoute(route: RouteToPlan, sense: DrivingSense): Route {
  const { technician, on, startsAt, depot, visits } = route
  const points = visits.map(pointOf)
  const earliest = Math.min(startsAt, ...visits.map((visit) => visit.windowFrom))
  const day = {
    stops: visits.map(({ windowFrom, windowUntil, plannedMinutes }) => ({
      windowFrom,
      windowUntil,
      onSiteMinutes: plannedMinutes,
    })),
    drive: driveTable([depot, ...points], sense),
    leavesAt: timeOfDay(Math.max(0, earliest - sense.minutesWhenUnknown)),
  }
  const byHand = route.byHand.flatMap((id) => {
    const place = visits.findIndex((visit) => visit.visitId === id)
    return place < 0 ? [] : [place]
  })
  const workedOut = orderStops(day)
  const ordered = byHand.length === 0 ? workedOut : keepOrder(day, byHand)
  const stops = ordered.times.flatMap(({ stop, ...times }, index) => {
    const visit = visits[stop]
    return visit ? [{ stop: index + 1, visit, ...times }] : []
  })
  // Who would only wait at the first door leaves the yard later.
  const firstWait = stops[0]?.waitsMinutes ?? 0
  return {
    technician,
    on,
    leavesAt: day.leavesAt + firstWait,
    backAt: ordered.backAt,
    driveMinutes: ordered.driveMinutes,
    notOnMap: points.filter((point) => point === null).length,
    stops: stops.map((stop) => (stop.stop === 1 ? { ...stop, waitsMinutes: 0 } : stop)),
    workedOut:
      byHand.length === 0 ? null : { driveMinutes: workedOut.driveMinutes, lateMinutes: workedOut.lateMinutes },
  }
}
