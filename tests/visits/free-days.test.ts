import fc from 'fast-check'
import { expect, test } from 'vitest'
import { addDays, calendarDate, weekdayOf } from '../../core/units/calendar-date.ts'
import { siteIdSchema, technicianIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { checkBooking } from '../../core/visits/check-booking.ts'
import { freeDays, type VisitInTown } from '../../core/visits/free-days.ts'
import { aBookedVisit, aroundBooking, aTechnician, aWantedBooking } from '../builders/a-booking.ts'

const monday = calendarDate('2026-11-30')
const wanted = { town: 'Tollard Mill', minutes: 44, driveMinutes: 20, windowMinutes: 120, from: monday, days: 14 }
const inTown = (own: Partial<VisitInTown>): VisitInTown => ({ ...aBookedVisit(), town: 'Tollard Mill', ...own })

test('VIS-13 a day when the technician is in that town comes first, then the earliest', () => {
  const found = freeDays(
    wanted,
    [aTechnician()],
    [inTown({ on: calendarDate('2026-12-09') }), inTown({ on: monday, town: 'Saltgrass' })],
  )
  expect(found[0]).toMatchObject({
    on: '2026-12-09',
    visitsInTown: 1,
    windowFrom: 480,
    windowUntil: 600,
    minutesLeft: 352,
  })
  expect(found[1]).toMatchObject({ on: monday, visitsInTown: 0 })
  expect(found).toHaveLength(10)
})

test('VIS-13 weekends, days off and full days are not offered', () => {
  const off = aTechnician({ daysOff: [{ from: monday, until: calendarDate('2026-12-03'), reason: '' }] })
  const full = inTown({ on: calendarDate('2026-12-04'), minutes: minutes(440) })
  const found = freeDays({ ...wanted, days: 7 }, [off], [full])
  expect(found).toEqual([])
})

test('VIS-13 every day that is offered passes the booking check', () => {
  const someVisit = fc.record({
    day: fc.integer({ min: 0, max: 6 }),
    who: fc.integer({ min: 1, max: 2 }),
    from: fc.integer({ min: 8, max: 15 }),
    work: fc.integer({ min: 20, max: 180 }),
    home: fc.boolean(),
  })
  const staff = [1, 2].map((id) => aTechnician({ technicianId: technicianIdSchema.parse(id) }))
  fc.assert(
    fc.property(fc.array(someVisit, { maxLength: 20 }), fc.integer({ min: 10, max: 200 }), (drawn, work) => {
      const booked = drawn.map(({ day, who, from, work: length, home }, index) =>
        inTown({
          visitId: visitIdSchema.parse(index + 1),
          siteId: siteIdSchema.parse(index + 100),
          technicianId: technicianIdSchema.parse(who),
          on: addDays(monday, day),
          windowFrom: timeOfDay(from * 60),
          windowUntil: timeOfDay(from * 60 + 120),
          minutes: minutes(length),
          town: home ? 'Tollard Mill' : 'Pell Harbor',
        }),
      )
      for (const offer of freeDays({ ...wanted, minutes: work, days: 7 }, staff, booked)) {
        const technician = staff.find((one) => one.technicianId === offer.technicianId) ?? aTechnician()
        const booking = aWantedBooking({
          technician,
          on: offer.on,
          windowFrom: offer.windowFrom,
          windowUntil: offer.windowUntil,
          minutes: minutes(work),
        })
        expect(checkBooking(booking, aroundBooking({ today: monday, others: booked }))).toEqual([])
        expect(weekdayOf(offer.on)).toBeLessThan(6)
      }
    }),
    { numRuns: 150 },
  )
})
