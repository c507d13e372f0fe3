import type { Desk, OpenBooks } from '../answering.ts'
import type { ReadDb } from '../database/handles.ts'
import type { FollowUp } from '../happenings.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OfficeSettings } from '../settings/office-settings.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { weekdayAndDate } from '../units/date-words.ts'
import type { OfficeId, SiteId, TechnicianId, VisitId } from '../units/ids.ts'
import { timeOfDay } from '../units/time-of-day.ts'
import { listTechnicianTimes } from '../visits/booking-store.ts'
import { readVisits } from '../visits/visit-detail-store.ts'
import type { VisitShape } from '../visits/visit-shapes.ts'
import type { DrivingSense } from './driving.ts'
import { planRoute } from './plan-route.ts'
import {
  clearPlace,
  type DayOfTechnician,
  findDayOfVisit,
  listDaysAhead,
  listPlacedByHand,
  writePlaces,
} from './route-order-store.ts'
import type { Route } from './routes-contract.ts'

export interface DayWanted {
  readonly on: CalendarDate
  readonly technicianId: TechnicianId | null
}

export interface Day {
  readonly routes: Route[]
  /** Visits that nobody has been sent to. */
  readonly unsent: VisitShape[]
  readonly settings: OfficeSettings
}

interface Asks {
  readonly read: ReadDb
  readonly officeId: OfficeId
  readonly today: CalendarDate
}

/** The routes of a day: worked out, or kept where somebody made the order by hand. */
export async function readDay(asks: Asks, { on, technicianId }: DayWanted): Promise<Day> {
  const settings = await readSettings(asks.read, asks.officeId)
  const office = await findOffice(asks.read, asks.officeId)
  const room = { db: asks.read, officeId: asks.officeId, today: asks.today, measures: settings.measures }
  const visits = await readVisits(room, {
    on,
    states: ['booked', 'done', 'could-not'],
    ...(technicianId === null ? {} : { technicianId }),
  })
  const byHand = await listPlacedByHand(asks.read, asks.officeId, on)
  const times = await listTechnicianTimes(asks.read, asks.officeId, on)
  const sense: DrivingSense = {
    circuity: settings.circuity,
    kilometresPerHour: settings.drivingKmPerHour,
    minutesWhenUnknown: settings.driveMinutesPerVisit,
  }
  const depot =
    office?.latitude == null || office.longitude === null
      ? null
      : { latitude: office.latitude, longitude: office.longitude }
  const ids = [...new Set(visits.flatMap((visit) => (visit.technician ? [visit.technician.technicianId] : [])))]
  const routes = ids.flatMap((id) => {
    const own = visits.filter((visit) => visit.technician?.technicianId === id)
    const technician = own[0]?.technician
    if (!technician) return []
    const startsAt = times.find((time) => time.technicianId === id)?.startsAt ?? settings.dayStartsAt
    return [planRoute({ technician, on, startsAt: timeOfDay(startsAt), depot, visits: own, byHand }, sense)]
  })
  return { routes, unsent: visits.filter((visit) => visit.technician === null), settings }
}

const idsOf = (route: Route | undefined): VisitId[] => route?.stops.map((stop) => stop.visit.visitId) ?? []

/** Writes the order of a technician's day, so that the warehouse pulls in it and the papers count the same stops. */
async function orderDay(books: OpenBooks, day: DayOfTechnician): Promise<void> {
  await writePlaces(books.tx, books.officeId, idsOf((await readDay(books, day)).routes[0]))
}

/** The one place that keeps the order of a day right: after booking, moving, cancelling, and when a household lies elsewhere. */
export const routesFollowUp: FollowUp<OpenBooks> = async (books, happening) => {
  if (happening.kind === 'sites-changed') await orderDaysOf(books, happening.siteIds)
  if (happening.kind === 'visit-booked') await placeVisit(books, happening.visitId)
  if (happening.kind === 'visit-cancelled') {
    await clearPlace(books.tx, books.officeId, happening.visitId)
    await placeVisit(books, happening.visitId)
  }
  if (happening.kind === 'visit-moved') await moveInOrder(books, happening.visitId, happening.before)
  return ok(undefined)
}

async function moveInOrder(books: OpenBooks, visitId: VisitId, before: DayWanted): Promise<void> {
  const now = await findDayOfVisit(books.read, books.officeId, visitId)
  const stays = now?.on === before.on && now.technicianId === before.technicianId
  if (!stays) await clearPlace(books.tx, books.officeId, visitId)
  if (!stays && before.technicianId !== null)
    await orderDay(books, { on: before.on, technicianId: before.technicianId })
  await placeVisit(books, visitId)
}

async function placeVisit(books: OpenBooks, visitId: VisitId): Promise<void> {
  const day = await findDayOfVisit(books.read, books.officeId, visitId)
  if (day && day.technicianId !== null) await orderDay(books, { on: day.on, technicianId: day.technicianId })
}

/** Sites asked about at once. */
const SITES = 500

async function orderDaysOf(books: OpenBooks, siteIds: readonly SiteId[]): Promise<void> {
  for (let from = 0; from < siteIds.length; from += SITES) {
    const days = await listDaysAhead(books.read, books.officeId, books.today, siteIds.slice(from, from + SITES))
    for (const day of days) await orderDay(books, day)
  }
}

/** Orders every day to come: for books that were written as a whole. */
export async function orderDaysAhead(books: OpenBooks): Promise<void> {
  for (const day of await listDaysAhead(books.read, books.officeId, books.today, 'all')) await orderDay(books, day)
}

/** Makes the order of a day by hand. All visits of the day must be named: who orders it has to have seen it as it is. */
export function orderByHand(
  desk: Desk,
  { on, technicianId, visitIds }: DayOfTechnician & { readonly visitIds: readonly VisitId[] },
): Promise<Result<Record<string, never>>> {
  return desk.write(async (books) => {
    const { routes, settings } = await readDay(books, { on, technicianId })
    const route = routes[0]
    const now = new Set(idsOf(route))
    const date = weekdayAndDate(on, settings.locale)
    if (
      !route ||
      now.size !== visitIds.length ||
      !visitIds.every((id) => now.has(id)) ||
      new Set(visitIds).size < now.size
    )
      return refused('ROUTE_DAY_CHANGED', { date })
    await writePlaces(books.tx, books.officeId, visitIds, true)
    const names = visitIds.map((id) => route.stops.find((stop) => stop.visit.visitId === id)?.visit.household.household)
    await books.record({
      subjectKind: 'technician',
      subjectId: technicianId,
      verb: 'ordered',
      sentence: `The order of ${date} was made by hand for ${route.technician.name}`,
      details: `${names.join('; ')}.`,
    })
    return ok({})
  })
}

/** Forgets the order made by hand, and works it out. */
export function workOutOrder(desk: Desk, day: DayOfTechnician): Promise<Result<Record<string, never>>> {
  return desk.write(async (books) => {
    const { routes, settings } = await readDay(books, day)
    await writePlaces(books.tx, books.officeId, idsOf(routes[0]), false)
    await orderDay(books, day)
    await books.record({
      subjectKind: 'technician',
      subjectId: day.technicianId,
      verb: 'ordered',
      sentence: `The order of ${weekdayAndDate(day.on, settings.locale)} was worked out again`,
    })
    return ok({})
  })
}
