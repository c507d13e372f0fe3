import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkStopOrder } from '../../core/routes/check-stop-order.ts'
import {
  costOf,
  keepOrder,
  neighboursOf,
  orderStops,
  type StopsToOrder,
  timesOf,
} from '../../core/routes/order-stops.ts'
import { timeOfDay } from '../../core/units/time-of-day.ts'

// burma14 of TSPLIB 95 (G. Reinelt): coordinates, the GEO distance with its own pi and radius, length of the tour 1..14, and the optimum.
const BURMA14 = [
  [16.47, 96.1],
  [16.47, 94.44],
  [20.09, 92.54],
  [22.39, 93.37],
  [25.23, 97.24],
  [22.0, 96.05],
  [20.47, 97.02],
  [17.2, 96.29],
  [16.3, 97.38],
  [14.05, 98.12],
  [16.53, 97.38],
  [21.52, 95.59],
  [19.41, 97.13],
  [20.09, 94.55],
] as const
const BURMA14_TOUR_IN_FILE_ORDER = 4562
const BURMA14_OPTIMUM = 3323

function geoDistance(a: readonly [number, number], b: readonly [number, number]): number {
  const radians = (x: number) => ((3_141_592 / 1e6) * (Math.trunc(x) + (5 * (x - Math.trunc(x))) / 3)) / 180
  const q1 = Math.cos(radians(a[1]) - radians(b[1]))
  const q2 = Math.cos(radians(a[0]) - radians(b[0]))
  const q3 = Math.cos(radians(a[0]) + radians(b[0]))
  return Math.trunc(6378.388 * Math.acos(0.5 * ((1 + q1) * q2 - (1 - q1) * q3)) + 1)
}

const openAllDay = { windowFrom: timeOfDay(0), windowUntil: timeOfDay(1440), onSiteMinutes: 0 }

function burma(): StopsToOrder {
  const drive = BURMA14.map((a, i) => BURMA14.map((b, j) => (i === j ? 0 : geoDistance(a, b))))
  // Lengths here are far beyond a day's minutes; the windows are pushed out of the way so that only length counts.
  const never = { ...openAllDay, windowUntil: Number.MAX_SAFE_INTEGER as typeof openAllDay.windowUntil }
  return { stops: BURMA14.slice(1).map(() => never), drive, leavesAt: timeOfDay(0) }
}

test('the distance of TSPLIB gives the published first leg and tour of burma14', () => {
  const day = burma()
  expect(day.drive[0]?.[1]).toBe(153)
  expect(timesOf(day, [...day.stops.keys()]).driveMinutes).toBe(BURMA14_TOUR_IN_FILE_ORDER)
})

test('VIS-2 the order of burma14 is no shorter than the published optimum and near it', () => {
  const answer = orderStops(burma())
  expect(checkStopOrder(burma(), answer)).toEqual([])
  expect(answer.driveMinutes).toBeGreaterThanOrEqual(BURMA14_OPTIMUM)
  expect(answer.driveMinutes).toBeLessThan(BURMA14_OPTIMUM * 1.1)
})

const someDay: fc.Arbitrary<StopsToOrder> = fc.integer({ min: 0, max: 9 }).chain((count) =>
  fc.record({
    stops: fc.array(
      fc
        .record({
          from: fc.integer({ min: 480, max: 900 }),
          length: fc.integer({ min: 0, max: 240 }),
          work: fc.integer({ min: 5, max: 120 }),
        })
        .map(({ from, length, work }) => ({
          windowFrom: timeOfDay(from),
          windowUntil: timeOfDay(from + length),
          onSiteMinutes: work,
        })),
      { minLength: count, maxLength: count },
    ),
    drive: fc.array(fc.array(fc.integer({ min: 0, max: 90 }), { minLength: count + 1, maxLength: count + 1 }), {
      minLength: count + 1,
      maxLength: count + 1,
    }),
    leavesAt: fc.integer({ min: 420, max: 540 }).map(timeOfDay),
  }),
)

test('VIS-2 the judge finds nothing wrong with the order of any day, and no single turn or move betters it', () => {
  fc.assert(
    fc.property(someDay, (day) => {
      const answer = orderStops(day)
      expect(checkStopOrder(day, answer)).toEqual([])
      const order = answer.times.map((time) => time.stop)
      const cost = costOf(day, order)
      for (const other of neighboursOf(order)) expect(costOf(day, other)).toBeGreaterThanOrEqual(cost - 1e-6)
    }),
    { numRuns: 120 },
  )
})

test('VIS-2 nobody stands at a door before the arrival window opens', () => {
  const day: StopsToOrder = {
    stops: [{ windowFrom: timeOfDay(600), windowUntil: timeOfDay(720), onSiteMinutes: 30 }],
    drive: [
      [0, 10],
      [10, 0],
    ],
    leavesAt: timeOfDay(480),
  }
  expect(orderStops(day).times[0]).toEqual({
    stop: 0,
    driveMinutes: 10,
    arrivesAt: 600,
    waitsMinutes: 110,
    lateMinutes: 0,
    leavesAt: 630,
  })
})

test('the judge is no rubber stamp: it sees a lost stop, a wrong time and hidden lateness', () => {
  const day: StopsToOrder = {
    stops: [openAllDay, { windowFrom: timeOfDay(480), windowUntil: timeOfDay(485), onSiteMinutes: 30 }],
    drive: [
      [0, 10, 20],
      [10, 0, 5],
      [20, 5, 0],
    ],
    leavesAt: timeOfDay(480),
  }
  const good = orderStops(day)
  expect(checkStopOrder(day, { ...good, times: good.times.slice(1) })).not.toEqual([])
  expect(checkStopOrder(day, { ...good, backAt: good.backAt - 1 })).not.toEqual([])
  expect(checkStopOrder(day, { ...good, times: good.times.map((time) => ({ ...time, lateMinutes: 0 })) })).not.toEqual(
    [],
  )
  expect(checkStopOrder(day, { ...good, driveMinutes: 1 })).not.toEqual([])
})

test('VIS-26 an order made by hand is kept whatever it costs, and each stop booked since stands where it costs least', () => {
  fc.assert(
    fc.property(someDay, fc.nat(), (day, seed) => {
      const all = [...day.stops.keys()]
      const byHand = all
        .toSorted((a, b) => ((a * 7 + seed) % 11) - ((b * 7 + seed) % 11))
        .slice(0, seed % (all.length + 1))
      const answer = keepOrder(day, byHand)
      expect(checkStopOrder(day, answer)).toEqual([])
      expect(answer.times.map((time) => time.stop).filter((stop) => byHand.includes(stop))).toEqual(byHand)
    }),
  )
})
