import { expect, test } from 'vitest'
import { losingVisitRows } from '../../core/stock/losing-visits.ts'
import { losingWords } from '../../core/stock/losing-words.ts'
import { secondTripTo } from '../../core/stock/second-trip.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { minutes } from '../../core/units/time-of-day.ts'
import { partId, vanId, visitId } from '../builders/a-pull.ts'

const block = { part: 'Carbon block P-1005', missing: 1, servedInstead: [], nextDelivery: null }
const visit = (household: string, daysLate: number, promised = false) => ({ household, daysLate, promised })

test('PICK-15 the reason names the part, how many are missing, who has the pieces and why, and when more comes', () => {
  const delivery = { on: calendarDate('2026-12-03'), quantity: 6, orderNumber: 'PO-0012' }
  expect(losingWords([{ ...block, servedInstead: [visit('Ashgrove', 12)], nextDelivery: delivery }], 'en-US')).toBe(
    'Carbon block P-1005 is 1 short. Served instead: Ashgrove, 12 days late. 6 arrive on Dec 3 (PO-0012).',
  )
  expect(losingWords([block], 'en-US')).toBe(
    'Carbon block P-1005 is 1 short. None that may be fitted that day is free. None is on order.',
  )
  const many = [visit('Ashgrove', 1, true), visit('Fenwick', 0), visit('Ivanek', 0), visit('Hallowell', 0)]
  expect(losingWords([{ ...block, servedInstead: many, nextDelivery: { ...delivery, on: null } }], 'en-US')).toBe(
    'Carbon block P-1005 is 1 short. Served instead: Ashgrove, 1 day late, has our word; Fenwick; Ivanek; and 1 more visit. 6 are on order (PO-0012), without a date.',
  )
})

test('PICK-15 a losing visit is told with its names, what it could have and what it has all the same', () => {
  const rows = losingVisitRows(
    [
      {
        visitId: visitId(1),
        vanId: vanId(1),
        stop: 3,
        worth: 100,
        lacks: [{ partId: partId(1), missing: 2, servedInstead: [{ visitId: visitId(2), quantity: 4 }] }],
        pulledAllTheSame: 0,
        couldHave: 1,
      },
    ],
    {
      part: (id) => ({ partId: id, number: 'P-1001', name: 'Sediment filter' }),
      visit: (id) => ({
        siteId: 7 as never,
        household: id === 1 ? 'Fenwick' : 'Ashgrove',
        daysLate: 0,
        promised: id === 2,
      }),
      nextDelivery: () => null,
      held: () => 5,
      locale: 'en-US',
    },
  )
  expect(rows).toMatchObject([
    {
      household: 'Fenwick',
      stop: 3,
      reason: 'Sediment filter P-1001 is 2 short. Served instead: Ashgrove, has our word. None is on order.',
      lacks: [{ missing: 2, servedInstead: [{ household: 'Ashgrove', quantity: 4 }] }],
      pulledAllTheSame: 5,
      couldHave: 1,
    },
  ])
})

test('PICK-8 a second trip is less where somebody near is visited soon, on the map or by street and town', () => {
  const sense = { circuity: 1.2, kilometresPerHour: 45, minutesWhenUnknown: minutes(20) }
  const at = (street: string, town: string, latitude: number | null = null) => ({
    street,
    town,
    point: latitude === null ? null : { latitude, longitude: 0 },
  })
  const home = at('18 Weirside Lane', 'Tollard Mill')
  expect(secondTripTo(home, null, [], sense)).toBe(40)
  expect(secondTripTo(home, null, [at('3 Mill Row', 'Tollard Mill')], sense)).toBe(20)
  expect(secondTripTo(home, null, [at('4 Weirside Lane', 'Tollard Mill')], sense)).toBe(4)
  expect(secondTripTo(home, null, [at('4 Weirside Lane', 'Pell Harbor')], sense)).toBe(40)
  // A tenth of a degree of latitude is 11.12 km on the mean sphere; 1.2 times that at 45 km/h are 17.8 minutes, 18 whole ones.
  const far = at('18 Weirside Lane', 'Tollard Mill', 0.1)
  expect(secondTripTo(far, { latitude: 0, longitude: 0 }, [], sense)).toBe(36)
  expect(secondTripTo(far, { latitude: 0, longitude: 0 }, [at('9 Quay', 'Saltgrass', 0.1)], sense)).toBe(0)
})
