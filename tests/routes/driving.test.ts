import { expect, test } from 'vitest'
import { type DrivingSense, driveMinutes, driveTable, straightMetres } from '../../core/routes/driving.ts'
import { minutes } from '../../core/units/time-of-day.ts'

const sense: DrivingSense = { circuity: 1.2, kilometresPerHour: 48, minutesWhenUnknown: minutes(20) }

// Figures of the ellipsoid: npm geographiclib-geodesic 2.2.0 (C. F. F. Karney's GeographicLib, WGS 84), run once and typed in here.
const GEODESICS = [
  { name: 'Kennedy to Heathrow', from: [40.6, -73.8], to: [51.6, -0.5], metres: 5_551_759.4 },
  { name: 'one degree of latitude at 45 north', from: [45, 0], to: [46, 0], metres: 111_141.548 },
  { name: 'one degree of longitude at 45 north', from: [45, 0], to: [45, 1], metres: 78_846.335 },
  { name: 'a hop through a town', from: [40.7128, -74.006], to: [40.758, -73.9855], metres: 5309.712 },
] as const

const point = ([latitude, longitude]: readonly [number, number]) => ({ latitude, longitude })

test.each(GEODESICS)('VIS-1 straight lines agree with GeographicLib within 0.3 %: $name', ({ from, to, metres }) => {
  expect(Math.abs(straightMetres(point(from), point(to)) / metres - 1)).toBeLessThan(0.003)
})

test('haversine on the mean radius gives the figures worked out by hand with R = 6 371 008.8 m', () => {
  expect(straightMetres(point([40.6, -73.8]), point([51.6, -0.5]))).toBeCloseTo(5_536_891.988, 2)
  expect(straightMetres(point([45, 0]), point([46, 0]))).toBeCloseTo(111_195.08, 2)
  expect(straightMetres(point([45, 0]), point([45, 1]))).toBeCloseTo(78_626.296, 2)
  expect(straightMetres(point([40.7128, -74.006]), point([40.758, -73.9855]))).toBeCloseTo(5314.531, 2)
})

test('VIS-1 minutes at the wheel are straight line x circuity / speed, rounded up', () => {
  // 111 195.08 m x 1.2 = 133.434 km; at 48 km/h 166.79 minutes. The 1.2: G. F. Newell 1980, as cited in the
  // Wikibooks page "Transportation Geography and Network Science / Circuity".
  expect(driveMinutes(point([45, 0]), point([46, 0]), sense)).toBe(167)
  expect(driveMinutes(point([45, 0]), point([45, 0]), sense)).toBe(0)
})

test('VIS-1 a stop that is not on the map gets the usual allowance', () => {
  expect(driveMinutes(null, point([45, 0]), sense)).toBe(20)
  expect(driveTable([null, null], sense)).toEqual([
    [0, 20],
    [20, 0],
  ])
})
