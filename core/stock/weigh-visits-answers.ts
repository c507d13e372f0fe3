import type { ReadDb } from '../database/handles.ts'
import type { MapPoint } from '../routes/driving.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, VisitId } from '../units/ids.ts'
import { type VisitOfDay, visitsBookedBetween } from './pull-needs-store.ts'
import type { PullVisit } from './pull-shapes.ts'
import { type Doorstep, secondTripTo } from './second-trip.ts'
import { visitWorth, worthPointsOf } from './visit-worth.ts'

/** Who is visited so many days after a day is near enough for a second trip to go along with it. */
const SOON_DAYS = 14

const pointOf = (
  at: { readonly latitude: number | null; readonly longitude: number | null } | null,
): MapPoint | null =>
  at === null || at.latitude === null || at.longitude === null
    ? null
    : { latitude: at.latitude, longitude: at.longitude }

const doorstepOf = (at: Pick<VisitOfDay, 'street' | 'town' | 'latitude' | 'longitude'>): Doorstep => ({
  street: at.street,
  town: at.town,
  point: pointOf(at),
})

/** What serving each visit of a day is worth, in whole points: how late, how promised, and what coming again would cost. */
export async function weighVisits(
  { read, officeId }: { readonly read: ReadDb; readonly officeId: OfficeId },
  on: CalendarDate,
  visits: readonly VisitOfDay[],
  toServe: readonly PullVisit[],
): Promise<Map<VisitId, number>> {
  const settings = await readSettings(read, officeId)
  const points = worthPointsOf(settings)
  const sense = {
    circuity: settings.circuity,
    kilometresPerHour: settings.drivingKmPerHour,
    minutesWhenUnknown: settings.driveMinutesPerVisit,
  }
  const office = pointOf(await findOffice(read, officeId))
  const soon = (await visitsBookedBetween(read, officeId, addDays(on, 1), addDays(on, SOON_DAYS))).map((visit) => ({
    siteId: visit.siteId,
    ...doorstepOf(visit),
  }))
  const homes = new Map(visits.map((visit) => [visit.visitId, visit]))
  return new Map(
    toServe.map(({ visitId, daysLate, promised }) => {
      const home = homes.get(visitId)
      const others = soon.filter((other) => other.siteId !== home?.siteId)
      const trip = home ? secondTripTo(doorstepOf(home), office, others, sense) : 0
      return [visitId, visitWorth({ daysLate, promised, secondTripMinutes: trip }, points)]
    }),
  )
}
