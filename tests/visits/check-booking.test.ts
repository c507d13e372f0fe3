import fc from 'fast-check'
import { expect, test } from 'vitest'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { siteIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import { checkBooking, standingObjection } from '../../core/visits/check-booking.ts'
import { canReachEveryDoor, MOST_DOORS } from '../../core/visits/doors-in-time.ts'
import { aBookedVisit, aroundBooking, aTechnician, aWantedBooking } from '../builders/a-booking.ts'
import { someOrderReachesEveryDoor } from '../judges/every-order-of-doors.ts'

const codes = (found: ReturnType<typeof checkBooking>) => found.map(({ code, weight }) => `${code} ${weight}`)
const visits = (count: number, own: Parameters<typeof aBookedVisit>[0] = {}) =>
  Array.from({ length: count }, (_, index) =>
    aBookedVisit({ visitId: visitIdSchema.parse(100 + index), siteId: siteIdSchema.parse(50 + index), ...own }),
  )

test('VIS-3 a visit into an empty day has nothing against it', () => {
  expect(checkBooking(aWantedBooking(), aroundBooking())).toEqual([])
})

test('VIS-3 three short visits fit into one window, a fourth is a double booking and names the others', () => {
  expect(checkBooking(aWantedBooking(), aroundBooking({ others: visits(1) }))).toEqual([])
  const found = checkBooking(aWantedBooking(), aroundBooking({ others: visits(3) }))
  expect(codes(found)).toEqual(['VISIT_DOUBLE_BOOKED refusal'])
  expect(found[0]?.sentence).toBe(
    'With this visit Ilse Rademaker cannot be at every door within its window on Wednesday, Dec 2: 8:00–10:00 am Bexhill-Moreno, Idris; 8:00–10:00 am Bexhill-Moreno, Idris; 8:00–10:00 am Bexhill-Moreno, Idris.',
  )
})

test('VIS-3 another technician, another day, or the visit that is being moved are no double booking', () => {
  const long = aBookedVisit({ minutes: minutes(400), windowUntil: timeOfDay(8 * 60 + 5) })
  const wanted = aWantedBooking({ windowUntil: timeOfDay(8 * 60 + 5), minutes: minutes(60) })
  expect(codes(checkBooking(wanted, aroundBooking({ others: [long] })))).toContain('VISIT_DOUBLE_BOOKED refusal')
  for (const other of [
    { ...long, technicianId: null },
    { ...long, on: calendarDate('2026-12-03') },
  ])
    expect(checkBooking(wanted, aroundBooking({ others: [other] }))).toEqual([])
  expect(checkBooking({ ...wanted, visitId: long.visitId }, aroundBooking({ others: [long] }))).toEqual([])
})

test('VIS-4 a day off is refused with its reason, a technician who has left too', () => {
  const off = aTechnician({
    daysOff: [{ from: calendarDate('2026-12-01'), until: calendarDate('2026-12-04'), reason: 'family' }],
  })
  const found = checkBooking(aWantedBooking({ technician: off }), aroundBooking())
  expect(codes(found)).toEqual(['VISIT_DAY_OFF refusal'])
  expect(found[0]?.sentence).toBe('Ilse Rademaker is off on Wednesday, Dec 2 (family).')
  const gone = aTechnician({ leftOn: calendarDate('2026-12-02') })
  expect(codes(checkBooking(aWantedBooking({ technician: gone }), aroundBooking()))).toEqual([
    'VISIT_TECHNICIAN_GONE refusal',
  ])
})

test('VIS-4 a day that is no workday of the technician is asked about', () => {
  const found = checkBooking(aWantedBooking({ on: calendarDate('2026-12-05') }), aroundBooking())
  expect(codes(found)).toEqual(['VISIT_NOT_A_WORKDAY asks'])
  expect(found[0]?.sentence).toBe('Ilse Rademaker does not usually work on a Saturday.')
})

test('VIS-5 a full day says how much is booked of how much, and can be booked all the same', () => {
  const spread = Array.from({ length: 7 }, (_, index) =>
    aBookedVisit({
      visitId: visitIdSchema.parse(200 + index),
      siteId: siteIdSchema.parse(60 + index),
      windowFrom: timeOfDay(480 + index * 60),
      windowUntil: timeOfDay(720 + index * 40),
    }),
  )
  const found = checkBooking(
    aWantedBooking({ windowFrom: timeOfDay(15 * 60), windowUntil: timeOfDay(17 * 60) }),
    aroundBooking({ others: spread }),
  )
  expect(codes(found)).toEqual(['VISIT_DAY_FULL asks'])
  expect(found[0]?.sentence).toBe(
    'Wednesday, Dec 2 would hold 8 h 32 of work and driving for Ilse Rademaker; there are 8 h.',
  )
  expect(standingObjection(found, [])?.code).toBe('VISIT_DAY_FULL')
  expect(standingObjection(found, ['VISIT_DAY_FULL'])).toBeNull()
})

test('VIS-6 a window outside the working day is asked about', () => {
  const found = checkBooking(aWantedBooking({ windowFrom: timeOfDay(7 * 60) }), aroundBooking())
  expect(codes(found)).toEqual(['VISIT_OUTSIDE_HOURS asks'])
  expect(found[0]?.sentence).toBe('The window 7:00–10:00 am reaches outside the working day, 8:00 am–5:00 pm.')
})

test('VIS-7 a day that is past, a window without length and a visit without work are refused, and no setting aside helps', () => {
  const wanted = aWantedBooking({ on: calendarDate('2026-11-30'), windowUntil: timeOfDay(480), taskCount: 0 })
  const found = checkBooking(wanted, aroundBooking())
  expect(codes(found)).toEqual(['VISIT_DATE_PAST refusal', 'VISIT_WINDOW_EMPTY refusal', 'VISIT_NOTHING_TO_DO refusal'])
  expect(standingObjection(found, ['VISIT_DATE_PAST', 'VISIT_WINDOW_EMPTY', 'VISIT_NOTHING_TO_DO'])?.code).toBe(
    'VISIT_DATE_PAST',
  )
})

test('VIS-7 today can still be booked', () => {
  expect(checkBooking(aWantedBooking({ on: calendarDate('2026-12-01') }), aroundBooking())).toEqual([])
})

test('VIS-8 a household that already has a visit is asked about, whoever comes', () => {
  const own = aBookedVisit({ siteId: siteIdSchema.parse(7), technicianId: null, on: calendarDate('2026-12-09') })
  const found = checkBooking(aWantedBooking(), aroundBooking({ others: [own] }))
  expect(codes(found)).toEqual(['VISIT_HOUSEHOLD_BOOKED asks'])
  expect(found[0]?.sentence).toBe('Abernathy-Vance, Corinne already has a visit on Wednesday, Dec 9, 8:00–10:00 am.')
  expect(
    checkBooking(aWantedBooking(), aroundBooking({ others: [{ ...own, on: calendarDate('2026-11-30') }] })),
  ).toEqual([])
})

const door = fc
  .record({
    windowFrom: fc.integer({ min: 480, max: 900 }),
    length: fc.integer({ min: 0, max: 240 }),
    minutes: fc.integer({ min: 1, max: 120 }),
  })
  .map(({ windowFrom, length, minutes: work }) => ({ windowFrom, windowUntil: windowFrom + length, minutes: work }))

test('VIS-3 whether every door can be reached agrees with trying every order', () => {
  fc.assert(
    fc.property(fc.array(door, { maxLength: 6 }), fc.integer({ min: 0, max: 40 }), (doors, drive) => {
      expect(canReachEveryDoor(doors, 480, drive)).toBe(someOrderReachesEveryDoor(doors, 480, drive))
    }),
    { numRuns: 300 },
  )
})

test('VIS-5 a day with more doors than can be reckoned through is left to its minutes', () => {
  const many = Array.from({ length: MOST_DOORS + 1 }, () => ({ windowFrom: 480, windowUntil: 1000, minutes: 30 }))
  expect(canReachEveryDoor(many, 480, 10)).toBeNull()
  expect(canReachEveryDoor(many.slice(1), 480, 10)).toBe(false)
})
