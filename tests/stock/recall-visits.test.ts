import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkRecallVisits } from '../../core/stock/check-recall-visits.ts'
import { type HomeToVisit, planRecallVisits, type RoomForRecall } from '../../core/stock/recall-visits.ts'
import { addDays, calendarDate, partsOf } from '../../core/units/calendar-date.ts'
import { siteIdSchema, technicianIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { isAtWork, roomOn } from '../../core/visits/free-days.ts'

const today = calendarDate('2026-12-01')
const from = calendarDate('2026-12-05')
const TOWNS = ['Saltgrass', 'Orrin Falls', 'Pell Harbor']

const homes = fc
  .array(
    fc.record({
      town: fc.constantFrom(...TOWNS),
      minutes: fc.constantFrom(28, 36, 45, 90),
      monthsAway: fc.constantFrom([], [], [12], [1, 12]),
    }),
    { maxLength: 30 },
  )
  .map((all) =>
    all.map(
      (home, index): HomeToVisit => ({
        ...home,
        siteId: siteIdSchema.parse(index + 1),
        household: `home ${index + 1}`,
      }),
    ),
  )

const technicians = fc.array(
  fc.record({
    workdays: fc.constantFrom('12345', '135', '67'),
    minutesADay: fc.constantFrom(120, 300, 480),
    offFrom: fc.integer({ min: 0, max: 20 }),
  }),
  { maxLength: 3 },
)

const booked = fc.array(
  fc.record({
    technician: fc.integer({ min: 1, max: 3 }),
    day: fc.integer({ min: 0, max: 12 }),
    window: fc.integer({ min: 0, max: 3 }),
    town: fc.constantFrom(...TOWNS),
  }),
  { maxLength: 8 },
)

const rooms = fc
  .record({ technicians, booked, days: fc.oneof(fc.integer({ min: 1, max: 9 }), fc.integer({ min: 1, max: 45 })) })
  .map(
    (wanted): RoomForRecall => ({
      ...{ from, days: wanted.days, driveMinutes: 20, windowMinutes: 120 },
      technicians: wanted.technicians.map(({ workdays, minutesADay, offFrom }, index) => ({
        technicianId: technicianIdSchema.parse(index + 1),
        name: `technician ${index + 1}`,
        ...{
          workdays,
          startsAt: timeOfDay(480),
          endsAt: timeOfDay(1020),
          minutesADay: minutes(minutesADay),
          leftOn: null,
        },
        daysOff: [{ from: addDays(from, offFrom), until: addDays(from, offFrom + 3), reason: '' }],
      })),
      // One visit to a technician's window, so that the day that is there is lawful itself.
      booked: [
        ...new Map(wanted.booked.map((visit) => [`${visit.technician}/${visit.day}/${visit.window}`, visit])).values(),
      ].map((visit, index) => ({
        visitId: visitIdSchema.parse(index + 1),
        siteId: siteIdSchema.parse(10_000 + index),
        household: `booked ${index + 1}`,
        town: visit.town,
        technicianId: technicianIdSchema.parse(visit.technician),
        on: addDays(from, visit.day),
        windowFrom: timeOfDay(480 + visit.window * 120),
        windowUntil: timeOfDay(600 + visit.window * 120),
        minutes: minutes(30),
      })),
    }),
  )

test('STK-75 whoever works and whatever is booked, every visit passes the booking check with all others, and no home is lost', () => {
  fc.assert(
    fc.property(homes, rooms, (some, room) => {
      expect(checkRecallVisits(some, room, planRecallVisits(some, room), today)).toEqual([])
    }),
    { numRuns: 150 },
  )
})

test('STK-75 a home is left over only when no day of anybody has room for it', () => {
  fc.assert(
    fc.property(homes, rooms, (some, room) => {
      const { bookings, left } = planRecallVisits(some, room)
      const missed: unknown[] = []
      for (const home of left)
        for (let ahead = 0; ahead < room.days; ahead += 1) {
          const on = addDays(room.from, ahead)
          if (home.monthsAway.includes(partsOf(on).month)) continue
          for (const technician of room.technicians.filter((each) => isAtWork(each, on))) {
            const day = [...room.booked, ...bookings].filter(
              (visit) => visit.on === on && visit.technicianId === technician.technicianId,
            )
            missed.push(
              ...[roomOn({ ...home, ...room, from: on, days: 1 }, technician, on, day)].filter((each) => each),
            )
          }
        }
      expect(missed).toEqual([])
    }),
    { numRuns: 60 },
  )
})

test('STK-75 a technician goes where there is a visit already, then to the town with most homes, and stays in it', () => {
  const home = (n: number, town: string): HomeToVisit => ({
    ...{ siteId: siteIdSchema.parse(n), household: `home ${n}`, town, minutes: 30, monthsAway: [] },
  })
  const some = [home(1, 'Saltgrass'), home(2, 'Orrin Falls'), home(3, 'Orrin Falls'), home(4, 'Pell Harbor')]
  const technician = {
    ...{ technicianId: technicianIdSchema.parse(1), name: 'Ilse', workdays: '12345', leftOn: null, daysOff: [] },
    ...{ startsAt: timeOfDay(480), endsAt: timeOfDay(1020), minutesADay: minutes(220) },
  }
  const inSaltgrass = {
    ...{ visitId: visitIdSchema.parse(1), siteId: siteIdSchema.parse(9), household: 'booked', town: 'Saltgrass' },
    ...{ technicianId: technician.technicianId, on: calendarDate('2026-12-07'), minutes: minutes(30) },
    ...{ windowFrom: timeOfDay(480), windowUntil: timeOfDay(600) },
  }
  const { bookings } = planRecallVisits(some, {
    ...{ from, days: 10, driveMinutes: 20, windowMinutes: 120, technicians: [technician], booked: [inSaltgrass] },
  })
  expect(bookings.map((visit) => [visit.on, visit.town])).toEqual([
    ['2026-12-07', 'Saltgrass'],
    ['2026-12-07', 'Orrin Falls'],
    ['2026-12-07', 'Orrin Falls'],
    ['2026-12-08', 'Pell Harbor'],
  ])
})

test('STK-75 the judge finds a day that is too full, a home that is lost, and one that is away', () => {
  const technician = {
    ...{ technicianId: technicianIdSchema.parse(1), name: 'Ilse', workdays: '12345', leftOn: null, daysOff: [] },
    ...{ startsAt: timeOfDay(480), endsAt: timeOfDay(1020), minutesADay: minutes(60) },
  }
  const some = [1, 2].map(
    (n): HomeToVisit => ({
      ...{ siteId: siteIdSchema.parse(n), household: `home ${n}`, town: 'Saltgrass', minutes: 30 },
      monthsAway: n === 2 ? [12] : [],
    }),
  )
  const room = { from, days: 10, driveMinutes: 20, windowMinutes: 120, technicians: [technician], booked: [] }
  const bookings = some.map(({ siteId, household, town }) => ({
    ...{ siteId, household, town, technicianId: technician.technicianId, technician: 'Ilse', minutes: 30 },
    ...{ on: calendarDate('2026-12-07'), windowFrom: timeOfDay(480), windowUntil: timeOfDay(600) },
  }))
  const complaints = checkRecallVisits(some, room, { bookings, left: [] }, today).join(' ')
  expect(complaints).toContain('home 2: nobody is there.')
  expect(complaints).toContain('1 h 40')
  expect(checkRecallVisits(some, room, { bookings: [], left: [] }, today)).toEqual(['Homes are lost or doubled.'])
})

test('STK-75 five hundred homes are spread in well under a second', () => {
  const some = Array.from(
    { length: 500 },
    (_, index): HomeToVisit => ({
      ...{ siteId: siteIdSchema.parse(index + 1), household: `home ${index + 1}`, minutes: 28, monthsAway: [] },
      town: TOWNS[index % 3] ?? '',
    }),
  )
  const room: RoomForRecall = {
    ...{ from, days: 60, driveMinutes: 20, windowMinutes: 120, booked: [] },
    technicians: [1, 2, 3].map((n) => ({
      ...{ technicianId: technicianIdSchema.parse(n), name: `t ${n}`, workdays: '12345', leftOn: null, daysOff: [] },
      ...{ startsAt: timeOfDay(480), endsAt: timeOfDay(1020), minutesADay: minutes(480) },
    })),
  }
  const begun = performance.now()
  const plan = planRecallVisits(some, room)
  expect(plan.bookings).toHaveLength(500)
  expect(performance.now() - begun).toBeLessThan(3_000)
})
