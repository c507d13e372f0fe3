import { implement } from '@orpc/server'
import type { z } from 'zod'
import { answer, type Desk } from '../answering.ts'
import { findHousehold, listContacts } from '../customers/customers-store.ts'
import { unitsOfSite } from '../installations/installations-store.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { addDays, daysBetween } from '../units/calendar-date.ts'
import type { SiteId } from '../units/ids.ts'
import { type DueFilter, type DueRow, dueContract, type HouseholdSheet } from './due-contract.ts'
import { type DueSpan, lettersOfSites, listTowns, stagesOfSites } from './due-list-store.ts'
import { dueCount, dueSites } from './due-stretches-answers.ts'
import { householdReason } from './household-reason.ts'
import { eventsOfSite, historyOfSite, invoicesOfSite, readingsOfUnit } from './household-sheet-store.ts'
import { nextVisitInWords, plannedVisitInWords, seenToNext } from './next-visit.ts'
import { nextPlannedVisits } from './planned-next-store.ts'
import { householdMeasurements, restoreReading, strikeReading, takeReading } from './readings-answers.ts'
import { householdRules } from './rules-answers.ts'
import { type KeptStage, reasonOn, trainStageOn } from './stage-today.ts'

type ListInput = z.infer<NonNullable<(typeof dueContract.list)['~orpc']['inputSchema']>>

async function list(desk: Desk, input: ListInput) {
  const { read, officeId, today } = desk
  const { sort, descending, after, limit, ...filter } = input
  const span = await spanOf(desk, filter)
  const sites = await dueSites(desk, { filter, span, sort, descending, after, limit })
  const siteIds = sites.map((site) => site.siteId)
  const stages = await stagesOfSites(read, officeId, siteIds)
  const { letters, booked } = await lettersOfSites(read, officeId, siteIds)
  const { measures, graceDays } = await readSettings(read, officeId)
  const plans = await nextPlannedVisits(read, officeId, siteIds)
  const rows = sites.flatMap(({ no_mail, moved_on, dueOn, ...site }): DueRow[] => {
    if (dueOn === null) return []
    const own = stages.get(site.siteId) ?? []
    const ringed = new Set(seenToNext(own, plans.get(site.siteId), today, graceDays))
    const train = own.map((stage) => trainStageOn(today, stage, measures, ringed.has(stage)))
    const reason = householdReason(own.map((stage) => ({ ...stage, reason: reasonOn(today, stage, measures) })))
    const daysLate = Math.max(0, daysBetween(dueOn, today))
    const letter = letters.get(site.siteId) ?? null
    return [
      {
        ...site,
        dueOn,
        daysLate,
        reason,
        train,
        letter,
        bookedOn: booked.get(site.siteId) ?? null,
        noMail: no_mail === 1,
        moved: moved_on !== null,
      },
    ]
  })
  const last = rows.length === limit ? rows.at(-1) : undefined
  return ok({ rows, next: last ? { key: last[sort], id: last.siteId } : null })
}

async function count(desk: Desk, filter: DueFilter) {
  return ok(await dueCount(desk, { filter, span: await spanOf(desk, filter) }))
}

async function spanOf({ read, officeId, today }: Desk, filter: DueFilter): Promise<DueSpan> {
  const { graceDays } = await readSettings(read, officeId)
  return { today, until: addDays(today, filter.withinDays), lateBefore: addDays(today, -graceDays) }
}

/** Everything about one household. */
export async function householdSheet(desk: Desk, { siteId }: { siteId: SiteId }): Promise<Result<HouseholdSheet>> {
  const { read, officeId } = desk
  const found = await findHousehold(read, officeId, siteId)
  if (!found) return refused('RECORD_GONE', { what: 'This household' })
  const { letters, booked } = await lettersOfSites(read, officeId, [siteId])
  return ok({
    ...found,
    contacts: await listContacts(read, officeId, found.customerId),
    units: await unitsOnSheet(desk, siteId),
    letter: letters.get(siteId) ?? null,
    bookedOn: booked.get(siteId) ?? null,
    history: await historyOfSite(read, officeId, siteId),
    invoices: await invoicesOfSite(read, officeId, siteId),
    events: await eventsOfSite(read, officeId, siteId),
  })
}

async function unitsOnSheet(desk: Desk, siteId: SiteId): Promise<HouseholdSheet['units']> {
  const { read, officeId, today } = desk
  const { measures, graceDays, locale } = await readSettings(read, officeId)
  const kept = new Map<number, KeptStage>(
    (await stagesOfSites(read, officeId, [siteId])).get(siteId)?.map((stage) => [stage.stageId, stage]),
  )
  const units = await unitsOfSite(read, officeId, siteId, today)
  const plan = (await nextPlannedVisits(read, officeId, [siteId])).get(siteId)
  return Promise.all(
    units.map(async (unit) => {
      const stages = unit.stages
        .flatMap((stage) => kept.get(stage.stageId) ?? [])
        .map((stage) => ({ ...stage, reason: reasonOn(today, stage, measures) }))
      const ringed = new Set(seenToNext(stages, plan, today, graceDays))
      return {
        installationId: unit.installationId,
        fields: unit.fields,
        stages: unit.stages,
        train: stages.map((stage) => trainStageOn(today, stage, measures, ringed.has(stage))),
        nextVisit:
          plan && plan.latestOn >= today
            ? plannedVisitInWords([...ringed], stages, plan, today, locale)
            : nextVisitInWords(stages, today, graceDays, locale),
        readings: await readingsOfUnit(read, officeId, unit.installationId),
      }
    }),
  )
}

const door = implement(dueContract).$context<Desk>()
export const dueAnswers = door.router({
  list: door.list.handler(answer(list)),
  count: door.count.handler(answer(count)),
  towns: door.towns.handler(answer(async (desk) => ok(await listTowns(desk.read, desk.officeId)))),
  household: door.household.handler(answer(householdSheet)),
  rules: door.rules.handler(answer(householdRules)),
  measurements: door.measurements.handler(answer(householdMeasurements)),
  takeReading: door.takeReading.handler(answer(takeReading)),
  strikeReading: door.strikeReading.handler(answer(strikeReading)),
  restoreReading: door.restoreReading.handler(answer(restoreReading)),
})
