import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import type { DueFilter, DueRow, HouseholdSheet } from '../../core/due/due-contract.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { gallonsToMillilitres } from '../../core/units/measures.ts'
import { cents } from '../../core/units/money.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const month: DueFilter = { withinDays: 28, towns: [], stages: [], letters: 'any', search: '' }

async function addHousehold(
  office: AnOffice,
  name: string,
  town: string,
  stages: ReturnType<typeof newStage>[],
  people = 6,
): Promise<number> {
  const added = await office.ask('households/create', {
    customer: someCustomer({ sortName: name, letterName: name }),
    site: someSite({ town, people }),
  })
  const { siteId } = added.json as { siteId: number }
  const unit = await office.ask('installations/create', { siteId, fields: someUnit(), stages })
  expect(unit.status).toBe(200)
  return siteId
}

async function dueRows(office: AnOffice, filter: Partial<DueFilter> = {}, more: object = {}): Promise<DueRow[]> {
  const answered = await office.ask('due/list', {
    ...month,
    ...filter,
    sort: 'dueOn',
    descending: false,
    after: null,
    limit: 50,
    ...more,
  })
  expect(answered.status).toBe(200)
  return (answered.json as { rows: DueRow[] }).rows
}

async function sheet(office: AnOffice, siteId: number): Promise<HouseholdSheet> {
  return (await office.ask('due/household', { siteId })).json as HouseholdSheet
}

/** Three households: late, due in three weeks, due next year. Today is December 1, 2026. */
async function threeHouseholds(office: AnOffice) {
  const late = await addHousehold(office, 'Abernathy-Vance, Corinne', 'Tollard Mill', [
    newStage('sediment', '2026-05-09'),
    newStage('carbon', '2026-05-09'),
    newStage('membrane', '2026-08-01'),
    newStage('post-carbon', '2026-05-09'),
  ])
  const soon = await addHousehold(
    office,
    'Bexhill-Moreno, Idris',
    'Pell Harbor',
    [newStage('carbon', '2025-12-20'), newStage('tank', '2026-03-01')],
    2,
  )
  const far = await addHousehold(
    office,
    'Castellane, Wilhelmina',
    'Tollard Mill',
    [newStage('carbon', '2026-11-20')],
    2,
  )
  return { late, soon, far }
}

describe.each(databases)('what is due on $name', ({ open }) => {
  test('DUE-15 the list gives each household with its earliest date, why, and how late', async () => {
    const office = await anOffice(await open())
    const { late, soon } = await threeHouseholds(office)
    const rows = await dueRows(office)
    expect(rows.map((row) => [row.siteId, row.dueOn, row.daysLate, row.reason])).toEqual([
      [late, '2026-11-09', 22, 'all filters: 6 months, family of six'],
      [soon, '2026-12-20', 0, 'carbon: 12 months, household of two'],
    ])
    expect(rows[0]?.train.map((stage) => [stage.kind, stage.daysLate])).toEqual([
      ['sediment', 22],
      ['carbon', 22],
      ['membrane', 0],
      ['post-carbon', 22],
    ])
    expect((await office.ask('due/count', month)).json).toEqual({ total: 2, late: 1 })
    expect((await office.ask('due/towns')).json).toEqual(['Pell Harbor', 'Tollard Mill'])
  })

  test('DUE-16 the list is narrowed by time, town, stage, letter and any part of what is known', async () => {
    const office = await anOffice(await open())
    const { late, soon, far } = await threeHouseholds(office)
    const ids = async (filter: Partial<DueFilter>) => (await dueRows(office, filter)).map((row) => row.siteId)
    expect(await ids({ withinDays: 0 })).toEqual([late])
    expect(await ids({ withinDays: 400 })).toEqual([late, soon, far])
    expect(await ids({ towns: ['Pell Harbor'] })).toEqual([soon])
    expect(await ids({ stages: ['post-carbon'] })).toEqual([late])
    expect(await ids({ stages: ['tank'] })).toEqual([])
    expect(await ids({ search: 'moreno' })).toEqual([soon])
    expect(await ids({ search: '555-0142' })).toEqual([late, soon])
    expect(await ids({ search: 'ab' })).toEqual([late])
    expect(await ids({ search: '50 %' })).toEqual([])
    expect(await ids({ letters: 'first' })).toEqual([])
    expect(await ids({ letters: 'none' })).toEqual([late, soon])
    expect(await ids({ letters: 'booked' })).toEqual([])
  })

  test('DUE-16 pages follow one another without a gap, in every order and both ways', async () => {
    const office = await anOffice(await open())
    for (let at = 0; at < 7; at += 1)
      await addHousehold(office, `Holt, ${'ABACABA'[at]}`, `Town ${at % 2}`, [
        newStage('carbon', `2026-0${4 + (at % 2)}-10`),
      ])
    for (const sort of ['dueOn', 'household', 'town'])
      for (const descending of [false, true]) {
        const whole = (await dueRows(office, {}, { sort, descending })).map((row) => row.siteId)
        const paged: number[] = []
        let after: unknown = null
        do {
          const answered = await office.ask('due/list', { ...month, sort, descending, after, limit: 3 })
          const page = answered.json as { rows: DueRow[]; next: unknown }
          paged.push(...page.rows.map((row) => row.siteId))
          after = page.next
        } while (after !== null)
        expect(paged).toEqual(whole)
        expect(new Set(paged).size).toBe(7)
      }
  })

  test('DUE-17 due dates follow whatever they rest on', async () => {
    const office = await anOffice(await open())
    const { far } = await threeHouseholds(office)
    const dueOn = async () => (await sheet(office, far)).units[0]?.train[0]?.dueOn
    expect(await dueOn()).toBe('2027-11-20')
    const seen = await sheet(office, far)
    const { customer, site } = seen
    expect(
      (
        await office.ask('households/save', {
          siteId: far,
          customer,
          site: { ...site, people: 6 },
          seen: { customer, site },
        })
      ).status,
    ).toBe(200)
    expect(await dueOn()).toBe('2027-05-20')
    const unit = seen.units[0]
    if (!unit) throw new Error('the unit is gone')
    const stages = unit.stages.map((stage) => ({ ...stage, ownDueOn: '2026-12-05', ownDueNote: 'asked for it' }))
    const saved = await office.ask('installations/save', {
      installationId: unit.installationId,
      fields: unit.fields,
      stages,
      seen: { fields: unit.fields, stages: unit.stages },
    })
    expect(saved.status).toBe(200)
    expect((await dueRows(office, { search: 'castellane' }))[0]).toMatchObject({
      dueOn: '2026-12-05',
      reason: 'carbon: set by hand: asked for it',
    })
    expect((await office.ask('households/close', { siteId: far, reason: 'sold the house' })).status).toBe(200)
    expect(await dueRows(office, { search: 'castellane' })).toEqual([])
    expect(await dueOn()).toBeNull()
    await office.ask('households/reopen', { siteId: far })
    expect(await dueOn()).toBe('2026-12-05')
  })

  test('DUE-11 a date set by hand is over once the stage was changed', async () => {
    const office = await anOffice(await open())
    const siteId = await addHousehold(office, 'Fenwick', 'Pell Harbor', [
      newStage('carbon', '2026-05-09', { ownDueOn: calendarDate('2027-02-01') }),
    ])
    expect((await sheet(office, siteId)).units[0]?.train[0]?.dueOn).toBe('2027-02-01')
    await office.database.write
      .updateTable('stages')
      .set({ fitted_on: calendarDate('2026-12-01') })
      .execute()
    await office.desk().write((books) => books.happened({ kind: 'due-rules-changed' }))
    const after = (await sheet(office, siteId)).units[0]
    expect([after?.train[0]?.dueOn, after?.stages[0]?.ownDueOn]).toEqual(['2027-06-01', null])
  })

  test('DUE-5 a change of the part and of its rating moves the date', async () => {
    const office = await anOffice(await open())
    const { id: partId } = await office.database.write
      .insertInto('parts')
      .values({
        office_id: FIRST_OFFICE,
        number: 'P-1',
        name: 'Carbon block',
        gtin: '',
        price_cents: cents(100),
        cost_cents: cents(50),
        note: '',
        rated_ml: gallonsToMillilitres(300),
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    const siteId = await addHousehold(office, 'Galbraith', 'Nether Quay', [
      newStage('carbon', '2026-09-01', { partId }),
    ])
    const first = (await sheet(office, siteId)).units[0]?.train[0]
    expect(first).toMatchObject({ dueOn: '2026-11-03', reason: '433 of 300 gal' })
    await office.database.write.updateTable('parts').set({ rated_ml: null }).execute()
    await office.desk().write((books) => books.happened({ kind: 'part-changed', partId }))
    expect((await sheet(office, siteId)).units[0]?.train[0]).toMatchObject({
      dueOn: '2027-03-01',
      reason: '6 months, family of six',
    })
  })

  test('DUE-18 the household lies open on one sheet: customer, units, next visit, log', async () => {
    const office = await anOffice(await open())
    const { late } = await threeHouseholds(office)
    const open1 = await sheet(office, late)
    expect(open1).toMatchObject({
      reference: 'AV-0001',
      closedOn: null,
      customer: { phone: '555-0142' },
      site: { people: 6 },
      history: [],
      invoices: [],
    })
    expect(open1.units[0]).toMatchObject({
      nextVisit: 'change all filters; it was due on Nov 9, by Dec 9 at the latest.',
    })
    expect(open1.units[0]?.train.map((stage) => stage.ringed)).toEqual([true, true, false, true])
    expect(open1.events.map((event) => event.sentence)).toEqual([
      'The unit under the kitchen sink was added',
      'Abernathy-Vance, Corinne was added to the households',
    ])
    expect(await office.ask('due/household', { siteId: 999 })).toMatchObject({
      status: 422,
      json: { data: { code: 'RECORD_GONE' } },
    })
  })
})

describe.each(databases)('what a day begins with asks $name along its index', ({ open, name }) => {
  test('DUE-29 dates set by hand that have ended are found along an index of their own', async () => {
    const office = await anOffice(await open())
    const query = sql`select installation_id from stages where office_id = 1 and own_due_ends_on < '2026-12-29' and removed_on is null and due_rule = 'own-date'`
    const column = name === 'SQLite' ? 'detail' : 'QUERY PLAN'
    if (name !== 'SQLite') await sql`set enable_seqscan = off`.execute(office.database.write)
    const ask = sql.raw(name === 'SQLite' ? 'explain query plan' : 'explain')
    const { rows } = await sql<Record<string, string>>`${ask} ${query}`.execute(office.database.write)
    expect(rows.map((row) => row[column]).join('\n')).toContain('stages_own_end')
  })
})

describe.each(databases)('the due list asks $name along its index', ({ open, name }) => {
  test('DUE-16 the first page is one walk along the due dates', async () => {
    const office = await anOffice(await open())
    const query = sql`select t.id from sites as t where t.office_id = 1 and t.closed_on is null and t.due_on is not null and t.due_on <= '2026-12-29' order by t.due_on, t.id limit 50`
    if (name === 'SQLite') {
      const { rows } = await sql<{ detail: string }>`explain query plan ${query}`.execute(office.database.write)
      expect(rows.map((row) => row.detail).join('\n')).toMatch(/USING (COVERING )?INDEX sites_due/)
      expect(rows.map((row) => row.detail).join('\n')).not.toContain('TEMP B-TREE')
    } else {
      await sql`set enable_seqscan = off`.execute(office.database.write)
      const { rows } = await sql<{ 'QUERY PLAN': string }>`explain ${query}`.execute(office.database.write)
      expect(rows.map((row) => row['QUERY PLAN']).join('\n')).toContain('sites_due')
    }
  })
})
