import { sql } from 'kysely'
import { afterEach, describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import type { HouseholdRules } from '../../core/due/rules-shapes.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { newStage, someCustomer, someSite, someUnit } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const toClose: Office[] = []
afterEach(async () => {
  for (const office of toClose.splice(0)) await office.close()
})

type Ask = AnOffice['ask']

async function aUnit(ask: Ask, stages: readonly ReturnType<typeof newStage>[], site = someSite()) {
  const { siteId } = (await ask('households/create', { customer: someCustomer(), site })).json as { siteId: number }
  const made = await ask('installations/create', { siteId, fields: someUnit({ fittedOn: null }), stages })
  return { siteId, made, installationId: (made.json as { installationId: number }).installationId }
}

async function storedDues(office: { database: AnOffice['database'] }) {
  const rows = await office.database.read
    .selectFrom('stages')
    .select(['due_on', 'due_rule'])
    .where('office_id', '=', FIRST_OFFICE)
    .orderBy('position')
    .execute()
  return rows.map(({ due_on, due_rule }) => `${due_on} ${due_rule}`)
}

describe.each(databases)('due dates that follow on $name', ({ open }) => {
  test('DUE-29 a date set by hand ends by itself: nobody touches the household, only the day turns', async () => {
    const database = await open()
    const begun = await anOffice(database)
    const held = newStage('carbon', '2026-05-01', {
      ownDueOn: calendarDate('2027-09-01'),
      ownDueNote: 'the kitchen is rebuilt',
      ownDueEndsOn: calendarDate('2027-01-31'),
    })
    const { siteId } = await aUnit(begun.ask, [held])
    expect(await storedDues(begun)).toEqual(['2027-09-01 own-date'])
    const { units } = (await begun.ask('due/rules', { siteId })).json as HouseholdRules
    expect(units[0]?.stages[0]?.own).toEqual({
      dueOn: '2027-09-01',
      note: 'the kitchen is rebuilt',
      endsOn: '2027-01-31',
      endWords: 'until January 31, 2027, then the rules speak again',
    })
    // The same books on later days; the first question of a day is enough, whatever it asks.
    let today = '2027-01-31'
    const later = await openOffice({
      database: { ...database, close: async () => {} },
      clock: { today: () => calendarDate(today), now: () => `${today}T12:00:00.000Z` },
      log: () => {},
      threads: 'same',
    })
    if (!later.ok) throw new Error(later.problem.sentence)
    toClose.push(later.value)
    const towns = () => later.value.handle(new Request('http://office/rpc/due/towns', { method: 'POST' }))
    await towns()
    expect(await storedDues(begun)).toEqual(['2027-09-01 own-date'])
    today = '2027-02-01'
    await Promise.all([towns(), towns()])
    expect(await storedDues(begun)).toEqual(['2026-11-01 months'])
    const household = await database.read.selectFrom('sites').select('due_on').executeTakeFirstOrThrow()
    expect(household.due_on).toBe('2026-11-01')
  })

  test('DUE-29 books that were closed when it ended are right as soon as they are opened', async () => {
    const database = await open()
    const begun = await anOffice(database)
    await aUnit(begun.ask, [
      newStage('carbon', '2026-05-01', {
        ownDueOn: calendarDate('2027-09-01'),
        ownDueEndsOn: calendarDate('2027-01-31'),
      }),
    ])
    const later = await openOffice({
      database: { ...database, close: async () => {} },
      clock: { today: () => calendarDate('2027-03-15'), now: () => '2027-03-15T12:00:00.000Z' },
      log: () => {},
      threads: 'same',
    })
    if (!later.ok) throw new Error(later.problem.sentence)
    toClose.push(later.value)
    expect(await storedDues(begun)).toEqual(['2026-11-01 months'])
  })

  test('DUE-27 a recall moves every stage that the lot is fitted at, and taking it back moves them back', async () => {
    const office = await anOffice(await open())
    const { write } = office.database
    await aUnit(office.ask, [newStage('sediment', '2026-05-01'), newStage('carbon', '2026-05-01')])
    const { id: partId } = await write
      .insertInto('parts')
      .values({
        ...{ office_id: FIRST_OFFICE, number: 'C-10', name: 'Carbon block', stage_kind: 'carbon', gtin: '' },
        ...{ price_cents: cents(2400), cost_cents: cents(900), note: '' },
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    const { id: lotId } = await write
      .insertInto('lots')
      .values({
        ...{ office_id: FIRST_OFFICE, part_id: partId, code: 'K-77', expires_on: null, recall_note: '' },
        ...{ received_on: calendarDate('2026-04-01'), cost_cents: cents(900), recalled_on: null },
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    await write
      .updateTable('stages')
      .set({ fitted_lot_id: lotId, part_id: partId })
      .where('kind', '=', 'carbon')
      .execute()
    const recalled = await office.ask('recall/recallLot', { lotId, why: 'the maker wrote', notice: '' })
    expect(recalled.status).toBe(200)
    expect(await storedDues(office)).toEqual(['2026-11-01 months', '2026-11-01 months'])
    await write
      .updateTable('stages')
      .set({ fitted_on: calendarDate('2026-09-01') })
      .where('kind', '=', 'carbon')
      .execute()
    expect((await office.ask('recall/freeLot', { lotId, why: '' })).status).toBe(200)
    expect((await storedDues(office))[1]).toBe('2027-03-01 months')
    await office.ask('recall/recallLot', { lotId, why: 'the maker wrote again', notice: '' })
    expect((await storedDues(office))[1]).toBe('2026-12-01 recall')
  })

  test('DUE-20 months away that are written on a household move what goes by the household', async () => {
    const office = await anOffice(await open())
    const { siteId } = await aUnit(
      office.ask,
      [newStage('carbon', '2026-05-15'), newStage('tank', '2026-05-15')],
      someSite({ people: 6, monthsAway: '6,7,8' }),
    )
    expect(await storedDues(office)).toEqual(['2027-02-15 months', '2027-05-15 sanitise'])
    const rules = (await office.ask('due/rules', { siteId })).json as HouseholdRules
    expect(rules).toMatchObject({ monthsAway: [6, 7, 8], monthsAwayWords: 'June to August' })
    expect(rules.units[0]?.stages[0]?.reason).toBe('6 months in use, away June to August, family of six')
  })

  test('DUE-33 nothing was changed or fitted on a day that has not come', async () => {
    const office = await anOffice(await open())
    const { made } = await aUnit(office.ask, [newStage('carbon', '2026-12-02')])
    expect(made.json).toMatchObject({
      data: { code: 'UNIT_DATE_AHEAD', sentence: 'Carbon was changed on December 2, 2026: that day has not come.' },
    })
    const { siteId, installationId } = await aUnit(office.ask, [newStage('carbon', '2026-05-01')])
    const fields = someUnit({ fittedOn: calendarDate('2026-12-24') })
    expect((await office.ask('installations/create', { siteId, fields, stages: [] })).json).toMatchObject({
      data: { code: 'UNIT_DATE_AHEAD' },
    })
    // A date that came with a list stands in nobody's way, and is pointed out.
    await office.database.write
      .updateTable('stages')
      .set({ fitted_on: calendarDate('2027-05-01') })
      .where('installation_id', '=', installationId as never)
      .execute()
    const sheet = (await office.ask('due/household', { siteId })).json as {
      units: { installationId: number; fields: object; stages: object[] }[]
    }
    const [unit] = sheet.units
    const seen = { fields: unit?.fields, stages: unit?.stages }
    const saved = await office.ask('installations/save', {
      installationId,
      fields: { ...unit?.fields, note: 'key at the neighbour' },
      stages: unit?.stages,
      seen,
    })
    expect(saved.status).toBe(200)
    const { units } = (await office.ask('due/rules', { siteId })).json as HouseholdRules
    expect(units[0]?.stages[0]?.remarks[0]).toContain('a day that has not come')
  })

  test('DUE-28 a closed household still shows its rules, and says that nothing is asked of it', async () => {
    const office = await anOffice(await open())
    const { siteId } = await aUnit(office.ask, [newStage('carbon', '2026-05-01')])
    await office.ask('households/close', { siteId, reason: 'sold the house' })
    expect(await storedDues(office)).toEqual(['null not-dated'])
    const { units } = (await office.ask('due/rules', { siteId })).json as HouseholdRules
    expect(units[0]?.remarks[0]).toContain('The household is closed')
    expect(units[0]?.stages[0]).toMatchObject({ dueOn: '2026-11-01', rule: 'months' })
  })

  test('DUE-29 a date set by hand that would have ended already is refused', async () => {
    const office = await anOffice(await open())
    const over = { ownDueOn: calendarDate('2027-09-01'), ownDueEndsOn: calendarDate('2026-11-30') }
    const { made } = await aUnit(office.ask, [newStage('carbon', '2026-05-01', over)])
    expect(made.json).toMatchObject({ data: { code: 'UNIT_OWN_DATE_OVER' } })
  })

  test('DUE-32 odd households do not stop the others: everything is reckoned in one go', async () => {
    const office = await anOffice(await open())
    await aUnit(office.ask, [])
    await aUnit(office.ask, [newStage('carbon', null)])
    await aUnit(office.ask, [newStage('other', '2026-05-01')])
    const sound = await aUnit(office.ask, [newStage('carbon', '2026-05-01')])
    await office.database.write
      .updateTable('stages')
      .set({ fitted_on: calendarDate('9999-12-31') })
      .where('kind', '=', 'other')
      .execute()
    await office.ask('settings/change', { name: 'largeHouseholdPeople', from: 5, to: 7 })
    const dues = await storedDues(office)
    expect(dues).toContain('null not-dated')
    const { units } = (await office.ask('due/rules', { siteId: sound.siteId })).json as HouseholdRules
    // Six of seven people: 7.2 months, rounded to 7.
    expect(units[0]?.stages[0]).toMatchObject({ dueOn: '2026-12-01', rule: 'months' })
    expect(dues).toContain('2026-12-01 months')
  })
})

describe('a day that cannot be begun', () => {
  test('DUE-29 keeps nobody from the books: it is logged and tried again with the next request', async () => {
    const sqlite = databases.find(({ name }) => name === 'SQLite')
    if (!sqlite) throw new Error('SQLite is always among the databases')
    const database = await sqlite.open()
    const begun = await anOffice(database)
    await aUnit(begun.ask, [
      newStage('carbon', '2026-05-01', {
        ownDueOn: calendarDate('2027-09-01'),
        ownDueEndsOn: calendarDate('2027-01-31'),
      }),
    ])
    await sql`create trigger in_the_way before update of due_on on stages begin select raise(abort, 'in the way'); end`.execute(
      database.write,
    )
    const lines: string[] = []
    const later = await openOffice({
      database: { ...database, close: async () => {} },
      clock: { today: () => calendarDate('2027-03-15'), now: () => '2027-03-15T12:00:00.000Z' },
      log: (line) => lines.push(line),
      threads: 'same',
    })
    if (!later.ok) throw new Error(later.problem.sentence)
    toClose.push(later.value)
    const towns = () => later.value.handle(new Request('http://office/rpc/due/towns', { method: 'POST' }))
    expect((await towns()).status).toBe(200)
    expect(lines[0]).toContain('The day is not begun yet: ')
    expect(lines[0]).toContain('in the way')
    await sql`drop trigger in_the_way`.execute(database.write)
    await towns()
    expect(await storedDues(begun)).toEqual(['2026-11-01 months'])
  })
})
