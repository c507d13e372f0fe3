import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { someCustomer, someSite } from '../builders/a-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from './each-database.ts'

const page = { search: '', withClosed: false, sort: 'household', descending: false, after: null, limit: 50 }

/** An office whose books hold a day that is in no calendar, so that the ledger's answer does not keep to its contract. */
async function anOfficeWithWrongDay(checkAnswers: boolean): Promise<AnOffice> {
  const sqlite = databases.find(({ name }) => name === 'SQLite')
  if (!sqlite) throw new Error('SQLite is always among the databases')
  const office = await anOffice(await sqlite.open(), '2026-12-01', true, checkAnswers)
  await office.ask('households/create', { customer: someCustomer(), site: someSite() })
  await sql`update sites set due_on = '2026-99-99'`.execute(office.database.write)
  return office
}

test('an answer that does not keep to its contract is caught in tests', async () => {
  const office = await anOfficeWithWrongDay(true)
  await expect(office.ask('households/list', page)).rejects.toThrow(/Output validation failed/)
})

test('in the product the answer goes out as it is, and what is asked is held against the contract as ever', async () => {
  const office = await anOfficeWithWrongDay(false)
  const answered = await office.ask('households/list', page)
  expect(answered).toMatchObject({ status: 200, json: { rows: [{ dueOn: '2026-99-99' }] } })
  expect((await office.ask('households/list', { ...page, limit: -1 })).status).toBe(400)
})
