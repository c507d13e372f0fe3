import { type Minutes, minutes } from '../units/time-of-day.ts'

/** A point on the map, degrees; north and east are positive. */
export interface MapPoint {
  readonly latitude: number
  readonly longitude: number
}

/** How driving is reckoned where no road server is asked. All of it can be changed in Settings. */
export interface DrivingSense {
  /** Road metres for one metre of straight line; about 1.2 in town (Newell 1980). */
  readonly circuity: number
  readonly kilometresPerHour: number
  /** Taken between two stops when one of them is not on the map. */
  readonly minutesWhenUnknown: Minutes
}

/** Mean radius of the earth, metres: (2 x 6 378 137 + 6 356 752.3142) / 3, IUGG. */
const EARTH_RADIUS_METRES = 6_371_008.8

/** Great-circle distance, metres, by the haversine formula; within 0.6 % of the ellipsoid's. */
export function straightMetres(from: MapPoint, to: MapPoint): number {
  const radians = Math.PI / 180
  const halfLatitude = ((to.latitude - from.latitude) * radians) / 2
  const halfLongitude = ((to.longitude - from.longitude) * radians) / 2
  const a =
    Math.sin(halfLatitude) ** 2 +
    Math.cos(from.latitude * radians) * Math.cos(to.latitude * radians) * Math.sin(halfLongitude) ** 2
  return 2 * EARTH_RADIUS_METRES * Math.asin(Math.min(1, Math.sqrt(a)))
}

/** Whole minutes at the wheel, rounded up; the usual allowance when either point is not on the map. */
export function driveMinutes(from: MapPoint | null, to: MapPoint | null, sense: DrivingSense): Minutes {
  if (from === null || to === null) return sense.minutesWhenUnknown
  const roadKilometres = (straightMetres(from, to) * sense.circuity) / 1000
  return minutes(Math.max(0, Math.ceil((roadKilometres / sense.kilometresPerHour) * 60 - 1e-9)))
}

/** Minutes between every two points; `[i][j]` is from point i to point j, zero on the diagonal. */
export function driveTable(points: readonly (MapPoint | null)[], sense: DrivingSense): number[][] {
  return points.map((from, i) => points.map((to, j) => (i === j ? 0 : driveMinutes(from, to, sense))))
}
