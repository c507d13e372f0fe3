import { type DrivingSense, driveMinutes, type MapPoint } from '../routes/driving.ts'
import { secondTripMinutes } from './visit-worth.ts'

/** Where a household lives, as far as it is known. */
export interface Doorstep {
  readonly street: string
  readonly town: string
  /** Null when it is not on the map. */
  readonly point: MapPoint | null
}

/** One way between two households on one street, when one of them is not on the map. */
const MINUTES_ALONG_THE_STREET = 2

/**
 * Minutes at the wheel that coming a second time to a household would cost: there and back from the office, or the detour from the nearest
 * household that is visited soon. Off the map, one on the same street is a step away, one in the same town half the usual allowance.
 */
export function secondTripTo(
  home: Doorstep,
  office: MapPoint | null,
  visitedSoon: readonly Doorstep[],
  sense: DrivingSense,
): number {
  const others = visitedSoon.flatMap((other): number[] => {
    if (home.point !== null && other.point !== null) return [driveMinutes(home.point, other.point, sense)]
    if (home.town !== other.town) return []
    return [sameStreet(home.street, other.street) ? MINUTES_ALONG_THE_STREET : sense.minutesWhenUnknown / 2]
  })
  return secondTripMinutes(driveMinutes(office, home.point, sense), others)
}

/** The street without the number of the house, at whichever end that stands. */
function sameStreet(a: string, b: string): boolean {
  const street = (line: string) =>
    line
      .toLowerCase()
      .replaceAll(/[\d,]+[a-z]?\b/g, '')
      .trim()
  return street(a) !== '' && street(a) === street(b)
}
