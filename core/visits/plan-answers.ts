import type { Desk } from '../answering.ts'
import { findHousehold } from '../customers/customers-store.ts'
import { monthsAwayText } from '../customers/months-away.ts'
import { ok, type Result, refused } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { SiteId } from '../units/ids.ts'
import { NextDueShelf } from './next-due-shelf.ts'
import { readHouseholdsToPlan, readPlanGround } from './plan-facts-store.ts'
import type { HouseholdToPlan } from './plan-household.ts'
import { proposalOfPlan } from './plan-proposal.ts'
import type { HouseholdPlan, PlanWishes } from './plan-shapes.ts'
import { updatePlanWishes } from './plan-store.ts'
import { viewOfPlan } from './plan-view.ts'
import type { ProposedTask } from './propose-tasks.ts'

/** The household's plan, made as it is asked for. */
export async function planOfHousehold(desk: Desk, { siteId }: { siteId: SiteId }): Promise<Result<HouseholdPlan>> {
  const ground = await readPlanGround(desk.read, desk.officeId, desk.today)
  const household = (await readHouseholdsToPlan(desk.read, ground, [siteId]))[0]
  const { locale, currency } = ground.settings
  const manner = { today: desk.today, locale, currency }
  const shelf = new NextDueShelf(desk.today)
  if (household) return ok(viewOfPlan(household, ground.figures, shelf, manner, household.version))
  if (!(await findHousehold(desk.read, desk.officeId, siteId)))
    return refused('RECORD_GONE', { what: 'This household' })
  const closed = viewOfPlan({ ...NOTHING_TO_PLAN, siteId }, ground.figures, shelf, manner, 0)
  return ok({ ...closed, next: CLOSED, sentences: [CLOSED], notPlanned: [], wishesInForce: [] })
}

/** A closed household is in the books, but nobody goes there any more. */
const CLOSED = 'This household is closed, so no visit is planned.'
const NOTHING_TO_PLAN: Omit<HouseholdToPlan, 'siteId'> = {
  stages: [],
  wishes: { avoidMonths: [], membraneNeverEarly: null, align: false },
  neighbourDays: [],
  bookedOn: null,
}

/** What a visit on that day should see to. */
export async function proposalForVisit(
  desk: Desk,
  { siteId, on }: { siteId: SiteId; on: CalendarDate },
): Promise<Result<ProposedTask[]>> {
  const ground = await readPlanGround(desk.read, desk.officeId, desk.today)
  const household = (await readHouseholdsToPlan(desk.read, ground, [siteId]))[0]
  // Nobody goes to a closed household, but its booking sheet can still be opened.
  if (!household)
    return (await findHousehold(desk.read, desk.officeId, siteId))
      ? ok([])
      : refused('RECORD_GONE', { what: 'This household' })
  const { locale, currency } = ground.settings
  const manner = { today: desk.today, locale, currency }
  return ok(proposalOfPlan(household, on, ground.figures, new NextDueShelf(desk.today), manner))
}

/** Saves what people wish of the plan; the household's version tells whether somebody else changed it meanwhile. */
export function savePlanWishes(
  desk: Desk,
  { siteId, version, wishes }: { siteId: SiteId; version: number; wishes: PlanWishes },
): Promise<Result<{ version: number }>> {
  return desk.write(async (books) => {
    const found = (
      await readHouseholdsToPlan(books.read, await readPlanGround(books.read, books.officeId, books.today), [siteId])
    )[0]
    if (!found) return refused('RECORD_GONE', { what: 'This household' })
    if (found.version !== version)
      return refused('RECORD_CHANGED', { what: 'This household', changes: 'it was saved in between' })
    await updatePlanWishes(books.tx, books.officeId, siteId, { ...wishes, months: monthsAwayText(wishes.avoidMonths) })
    await books.record({
      subjectKind: 'site',
      subjectId: siteId,
      siteId,
      verb: 'changed',
      sentence: 'What is wished of the visits was changed',
    })
    const told = await books.happened({ kind: 'plan-wishes-changed', siteId })
    return told.ok ? ok({ version: version + 1 }) : told
  })
}
