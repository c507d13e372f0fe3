import type { OpenBooks } from '../answering.ts'
import type { FollowUp } from '../happenings.ts'
import { ok } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, SiteId } from '../units/ids.ts'
import { keptPlanOf } from './kept-plan.ts'
import { NextDueShelf } from './next-due-shelf.ts'
import { type PlanGround, readHouseholdsToPlan, readPlanGround } from './plan-facts-store.ts'
import {
  listStalePlans,
  markAllStale,
  markStale,
  markStaleWith,
  replacePlans,
  sitesAlignedWith,
  sitesOfInstallations,
} from './plan-store.ts'

/** Up to so many households are planned at once where they change; more are marked, and planned in the background. */
const AT_ONCE = 20

/** Households to a question, so that no list of ids grows beyond what a database takes. */
const SITES_AT_ONCE = 500

/** Plans households anew inside the open transaction; those closed or gone lose their plan. */
export async function replanSites(books: OpenBooks, siteIds: readonly SiteId[], ground?: PlanGround): Promise<void> {
  const { read, tx, dialect, officeId, today } = books
  const on = ground ?? (await readPlanGround(read, officeId, today))
  const households = await readHouseholdsToPlan(read, on, siteIds)
  const shelf = shelfOf(today)
  const plans = households.map((household) => keptPlanOf(household, on.figures, shelf))
  await replacePlans(tx, dialect, officeId, siteIds, plans, today)
}

/** Plans every household that has no plan which stands, inside the open transaction: for books that are written whole. */
export async function replanAll(books: OpenBooks): Promise<void> {
  const ground = await readPlanGround(books.read, books.officeId, books.today)
  const stale = await listStalePlans(books.read, books.officeId, books.today)
  for (let from = 0; from < stale.length; from += SITES_AT_ONCE)
    await replanSites(books, stale.slice(from, from + SITES_AT_ONCE), ground)
}

let kept: NextDueShelf | null = null

/** The tables of the day: they rest on nothing but it and the rule they are named by, so they are kept until it is over. */
export function shelfOf(today: CalendarDate): NextDueShelf {
  if (kept?.today !== today || kept.isFull) kept = new NextDueShelf(today)
  return kept
}

/** Plans follow whatever they rest on: a few households at once, many by a mark. Comes after the due dates. */
export const planFollowUp: FollowUp<OpenBooks> = async (books, happening) => {
  const { tx, officeId, today } = books
  switch (happening.kind) {
    case 'sites-changed':
      await changed(books, happening.siteIds)
      break
    case 'installations-changed':
      await changed(books, await sitesOf(books, happening.installationIds))
      break
    case 'reading-taken':
    case 'plan-wishes-changed':
    case 'visit-booked':
    case 'visit-moved':
    case 'visit-cancelled':
      await changed(books, [happening.siteId])
      break
    case 'visit-recorded':
      await changed(books, [happening.visit.siteId])
      break
    case 'visit-corrected':
      await changed(books, [...new Set([happening.before.siteId, happening.after.siteId])])
      break
    case 'part-changed':
      await markStaleWith(tx, officeId, { partId: happening.partId })
      break
    case 'lot-recalled':
      await markStaleWith(tx, officeId, { lotId: happening.lotId })
      break
    case 'day-begun':
      await markStaleWith(tx, officeId, { ownDateEndedBefore: today })
      break
    case 'due-rules-changed':
    case 'plan-figures-changed':
      await markAllStale(tx, officeId)
      break
    default:
      break
  }
  return ok(undefined)
}

async function changed(books: OpenBooks, siteIds: readonly SiteId[]): Promise<void> {
  const { tx, read, officeId } = books
  if (siteIds.length <= AT_ONCE) {
    await replanSites(books, siteIds)
    await markStale(tx, officeId, await sitesAlignedWith(read, officeId, siteIds))
    return
  }
  for (let from = 0; from < siteIds.length; from += SITES_AT_ONCE)
    await markStale(tx, officeId, siteIds.slice(from, from + SITES_AT_ONCE))
}

async function sitesOf(books: OpenBooks, installationIds: readonly InstallationId[]): Promise<SiteId[]> {
  const found = new Set<SiteId>()
  for (let from = 0; from < installationIds.length; from += SITES_AT_ONCE) {
    const some = installationIds.slice(from, from + SITES_AT_ONCE)
    for (const siteId of await sitesOfInstallations(books.read, books.officeId, some)) found.add(siteId)
  }
  return [...found]
}
