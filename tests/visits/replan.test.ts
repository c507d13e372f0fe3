import { describe, expect, test } from 'vitest'
import type { DueRow, HouseholdSheet } from '../../core/due/due-contract.ts'
import type { Happening } from '../../core/happenings.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { HouseholdPlan } from '../../core/visits/plan-shapes.ts'
import { WORKS } from '../../core/works.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { aPartInStock, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases, type EachDatabase } from '../data/each-database.ts'

async function told<Output>(office: AnOffice, path: string, input?: unknown): Promise<Output> {
  const { status, json } = await office.ask(path, input)
  expect(status, `${path}: ${JSON.stringify(json)}`).toBe(200)
  return json as Output
}

/** A family of six, filters every six months: late on the day of the test; the membrane and the tank later. */
async function aHome(office: AnOffice, name = 'Abernathy-Vance, Corinne'): Promise<number> {
  const { siteId } = await told<{ siteId: number }>(office, 'households/create', {
    customer: someCustomer({ sortName: name }),
    site: someSite(),
  })
  const stages = [
    newStage('sediment', '2026-05-09'),
    newStage('carbon', '2026-05-09'),
    newStage('membrane', '2026-05-09'),
    newStage('tank', '2026-05-09'),
  ]
  await told(office, 'installations/create', { siteId, fields: someUnit(), stages })
  return siteId
}

async function anOfficeWithHome(open: EachDatabase['open']) {
  const office = await anOffice(await open())
  const siteId = await aHome(office)
  const db = office.database.write
  const kept = async () => ({
    plan: await db
      .selectFrom('site_plans')
      .selectAll()
      .where('site_id', '=', siteId as never)
      .executeTakeFirst(),
    visits: await db
      .selectFrom('planned_visits')
      .selectAll()
      .where('site_id', '=', siteId as never)
      .orderBy('latest_on')
      .execute(),
    changes: await db
      .selectFrom('planned_changes')
      .selectAll()
      .where('site_id', '=', siteId as never)
      .execute(),
  })
  const plan = () => told<HouseholdPlan>(office, 'visits/plan', { siteId })
  const work = (goesOn: () => boolean = () => true) =>
    WORKS['plan-visits']?.run({ ...office.desk(), progress: async () => goesOn() }, {})
  return { office, siteId, db, kept, plan, work }
}

describe.each(databases)('plans in the books on $name', ({ open }) => {
  test('PLAN-12 a household is planned with the change that made it, and the books keep what the screen says', async () => {
    const { kept, plan } = await anOfficeWithHome(open)
    const [shown, books] = [await plan(), await kept()]
    expect(books.plan).toMatchObject({
      next_visit_on: shown.visits[0]?.visitOn,
      latest_on: shown.visits[0]?.latestOn,
      visits: shown.visits.length,
      total_cents: shown.totalCents,
      saves_own_dates_cents: shown.savesOwnDatesCents,
      proved: 1,
      stale: 0,
    })
    expect(
      books.visits.map(({ visit_on, latest_on, minutes, cents }) => [visit_on, latest_on, minutes, cents]),
    ).toEqual(
      shown.visits.slice(0, books.visits.length).map((one) => [one.visitOn, one.latestOn, one.minutes, one.cents]),
    )
    expect(books.visits.length).toBeGreaterThan(1)
    expect(books.visits.length).toBeLessThan(shown.visits.length)
    const first = books.changes.filter((change) => change.latest_on === shown.visits[0]?.latestOn)
    expect(first.map(({ stage_id, kind }) => [Number(stage_id), kind]).sort()).toEqual(
      shown.visits[0]?.changes.map(({ stageId, because }) => [Number(stageId), because]).sort(),
    )
  })

  test('PLAN-12 what changes the household plans it anew in the same piece; a closed one has no plan', async () => {
    const { office, siteId, kept } = await anOfficeWithHome(open)
    const before = await kept()
    const sheet = await told<HouseholdSheet>(office, 'due/household', { siteId })
    const [unit] = sheet.units
    if (!unit) throw new Error('No unit')
    await told(office, 'installations/save', {
      installationId: unit.installationId,
      fields: unit.fields,
      stages: unit.stages.map((stage) => ({ ...stage, changedOn: '2026-11-30' })),
      seen: { fields: unit.fields, stages: unit.stages },
    })
    const after = await kept()
    expect(after.plan?.next_visit_on).not.toBe(before.plan?.next_visit_on)
    await told(office, 'households/close', { siteId, reason: 'moved away' })
    expect(await kept()).toEqual({ plan: undefined, visits: [], changes: [] })
  })

  test('PLAN-9 booking a visit begins the plan with it, and cancelling takes that back', async () => {
    const { office, siteId, kept, db } = await anOfficeWithHome(open)
    const { technicianId } = await aTechnicianWithVan(db)
    const before = await kept()
    const proposal = await told<{ stageId: number; care: string; proposed: boolean }[]>(office, 'visits/proposal', {
      siteId,
      on: '2026-12-02',
    })
    expect(proposal.filter(({ proposed }) => proposed).length).toBeGreaterThan(1)
    const { visitId, version } = await told<{ visitId: number; version: number }>(office, 'visits/book', {
      siteId,
      technicianId,
      on: '2026-12-02',
      windowFrom: 480,
      windowUntil: 600,
      tasks: proposal
        .filter(({ proposed }) => proposed)
        .map(({ stageId, care }) => ({ kind: care, stageId, description: '', minutes: 0 })),
      ownMinutes: null,
      note: '',
      promised: true,
      setAside: [],
      daySeen: null,
    })
    expect((await kept()).plan).toMatchObject({ next_visit_on: '2026-12-02', latest_on: '2026-12-02' })
    await told(office, 'visits/cancel', { visitId, version, why: 'asked for another day' })
    expect((await kept()).plan?.latest_on).toBe(before.plan?.latest_on)
  })

  test('PLAN-7 wishes are saved with the household, planned at once, and never over somebody else’s change', async () => {
    const { office, siteId, plan } = await anOfficeWithHome(open)
    const shown = await plan()
    const wished = { avoidMonths: [1, 12], membraneNeverEarly: true, align: false }
    const saved = await told<{ version: number }>(office, 'visits/planWishes', {
      siteId,
      version: shown.version,
      wishes: wished,
    })
    expect(saved.version).toBe(shown.version + 1)
    const after = await plan()
    expect(after.wishes).toEqual(wished)
    expect(after.wishesInForce[0]).toBe('Kept free of visits where that can be: December and January.')
    expect(await office.ask('visits/planWishes', { siteId, version: shown.version, wishes: wished })).toMatchObject({
      status: 422,
      json: { data: { code: 'RECORD_CHANGED' } },
    })
    expect(await office.ask('visits/plan', { siteId: 999 })).toMatchObject({ json: { data: { code: 'RECORD_GONE' } } })
  })

  test('PLAN-12 a figure that plans rest on makes all of them stale, and the background plans them again', async () => {
    const { office, kept, work } = await anOfficeWithHome(open)
    await aHome(office, 'Ashgrove, Theodora')
    expect(await told(office, 'visits/plansToMake')).toEqual({ count: 0 })
    const before = await kept()
    await told(office, 'settings/change', { name: 'callCostCents', from: 6400, to: 15_000 })
    expect(await told(office, 'visits/plansToMake')).toEqual({ count: 2 })
    expect(await work()).toEqual({ ok: true, value: { planned: 2 } })
    expect(await told(office, 'visits/plansToMake')).toEqual({ count: 0 })
    expect(Number((await kept()).plan?.total_cents)).toBeGreaterThan(Number(before.plan?.total_cents))
    // A figure that nothing here rests on leaves them standing.
    await told(office, 'settings/change', { name: 'paceDays', from: 91, to: 60 })
    expect(await told(office, 'visits/plansToMake')).toEqual({ count: 0 })
  })

  test('PLAN-13 stopped, what is planned stays; households that nobody has planned are found', async () => {
    const { office, db, work } = await anOfficeWithHome(open)
    for (const table of ['planned_changes', 'planned_visits', 'site_plans'] as const)
      await db.deleteFrom(table).execute()
    expect(await told(office, 'visits/plansToMake')).toEqual({ count: 1 })
    expect(await work(() => false)).toMatchObject({
      ok: false,
      problem: {
        code: 'WORK_STOPPED_HALF_WAY',
        nextStep: 'What was done until then stays. Start it again for the rest.',
      },
    })
    expect(await told(office, 'visits/plansToMake')).toEqual({ count: 0 })
  })

  test('DUE-19 PLAN-10 the train rings what the plan sees to next; a home without stages stops nobody', async () => {
    const { office, siteId, plan, work } = await anOfficeWithHome(open)
    await told(office, 'households/create', { customer: someCustomer({ sortName: 'Ivanek, Pola' }), site: someSite() })
    expect(await work()).toMatchObject({ ok: true })
    const next = (await plan()).visits[0]?.changes.map(({ stageId }) => stageId) ?? []
    const ringed = (train: DueRow['train']) => train.filter((stage) => stage.ringed).map(({ stageId }) => stageId)
    const sheet = await told<HouseholdSheet>(office, 'due/household', { siteId })
    expect(ringed(sheet.units[0]?.train ?? []).sort()).toEqual([...next].sort())
    expect(sheet.units[0]?.nextVisit).toMatch(/^change .+; it was due on Nov 9, by Dec 9 at the latest\.$/)
    const list = await told<{ rows: DueRow[] }>(office, 'due/list', {
      withinDays: 60,
      towns: [],
      stages: [],
      letters: 'any',
      search: '',
      sort: 'dueOn',
      descending: false,
      after: null,
      limit: 50,
    })
    expect(ringed(list.rows.find((row) => row.siteId === siteId)?.train ?? []).sort()).toEqual([...next].sort())
  })

  test('PLAN-12 a changed part, a recalled lot and a date set by hand that has ended mark the households they concern', async () => {
    const { office, siteId, db, work } = await anOfficeWithHome(open)
    await aHome(office, 'Ashgrove, Theodora')
    const { vanPlaceId } = await aTechnicianWithVan(db)
    const { partId, lotId } = await aPartInStock(db, 'P-1005', 'Sediment filter, 10 in', vanPlaceId)
    const [stage] = (await told<HouseholdSheet>(office, 'due/household', { siteId })).units[0]?.stages ?? []
    if (!stage) throw new Error('No stage')
    const ofStage = db.updateTable('stages').where('id', '=', stage.stageId as never)
    await ofStage.set({ part_id: partId, fitted_lot_id: lotId, own_due_ends_on: calendarDate('2026-12-10') }).execute()
    const stale = () => told<{ count: number }>(office, 'visits/plansToMake')
    const happens = async (happening: Happening) =>
      expect(await office.desk().write((books) => books.happened(happening))).toEqual({ ok: true, value: undefined })
    for (const happening of [{ kind: 'part-changed', partId } as const, { kind: 'lot-recalled', lotId } as const]) {
      await happens(happening)
      expect(await stale()).toEqual({ count: 1 })
      await work()
    }
    await happens({ kind: 'day-begun' })
    expect(await stale()).toEqual({ count: 0 })
    await ofStage.set({ own_due_ends_on: calendarDate('2026-11-30') }).execute()
    await db
      .updateTable('site_plans')
      .set({ planned_on: calendarDate('2026-11-28') })
      .execute()
    await happens({ kind: 'day-begun' })
    expect(await stale()).toEqual({ count: 1 })
  })
})
