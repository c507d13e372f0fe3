import { expect, test } from 'vitest'
import { checkStopOrder } from '../../core/routes/check-stop-order.ts'
import { driveTable } from '../../core/routes/driving.ts'
import { planRoute } from '../../core/routes/plan-route.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { technicianIdSchema } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { aVisit } from '../builders/a-visit.ts'

const sense = { circuity: 1.2, kilometresPerHour: 45, minutesWhenUnknown: minutes(20) }
const technician = { technicianId: technicianIdSchema.parse(1), name: 'Ilse Rademaker', shortName: 'Ilse', phone: '' }
const depot = { latitude: 44.98, longitude: -93.2 }
const plain = { technician, on: calendarDate('2026-12-02'), startsAt: timeOfDay(480), depot, byHand: [] }

test('VIS-2 stops of the map come in a driving order that the judge agrees with, and the van leaves in time for the first door', () => {
  const visits = [45.2, 45.05, 45.1].map((latitude, index) => aVisit({ visitId: index + 1, latitude }))
  const route = planRoute({ ...plain, visits }, sense)
  // On one meridian every order that does not turn back drives the same; the far end first brings the van home earlier.
  expect(route.stops.map((stop) => stop.visit.visitId)).toEqual([1, 3, 2])
  expect(route.leavesAt + (route.stops[0]?.driveMinutes ?? 0)).toBe(route.stops[0]?.arrivesAt)
  const points = [
    depot,
    ...visits.map(({ household }) => ({ latitude: household.latitude ?? 0, longitude: household.longitude ?? 0 })),
  ]
  const day = {
    stops: visits.map(({ windowFrom, windowUntil, plannedMinutes }) => ({
      windowFrom,
      windowUntil,
      onSiteMinutes: plannedMinutes,
    })),
    drive: driveTable(points, sense),
    leavesAt: timeOfDay(route.leavesAt),
  }
  const times = route.stops.map(({ visit, stop: _, ...rest }) => ({ ...rest, stop: visits.indexOf(visit) }))
  const { driveMinutes, backAt } = route
  expect(
    checkStopOrder(day, {
      times,
      driveMinutes,
      backAt,
      lateMinutes: times.reduce((sum, time) => sum + time.lateMinutes, 0),
    }),
  ).toEqual([])
})

test('VIS-1 stops that are not on the map are counted and get the usual allowance', () => {
  const route = planRoute({ ...plain, visits: [aVisit({ visitId: 1, latitude: null })] }, sense)
  expect(route).toMatchObject({
    notOnMap: 1,
    leavesAt: 460,
    driveMinutes: 40,
    stops: [{ arrivesAt: 480, lateMinutes: 0 }],
  })
})

test('VIS-2 a window before the working day lets the van leave earlier, and a day without visits stays at the yard', () => {
  const early = planRoute({ ...plain, visits: [aVisit({ visitId: 1, latitude: null, windowFrom: 420 })] }, sense)
  expect(early).toMatchObject({ leavesAt: 400, stops: [{ arrivesAt: 420 }] })
  expect(planRoute({ ...plain, visits: [] }, sense)).toMatchObject({ stops: [], driveMinutes: 0 })
})
