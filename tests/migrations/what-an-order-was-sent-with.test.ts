import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0010-what-an-order-was-sent-with'

test('ORD-76 orders that were sent before have no paper kept, and each order keeps one at most', async () => {
  const { write, close } = openSqlite(':memory:')
  const upTo = (last: string) =>
    new Migrator({
      db: write,
      provider: {
        getMigrations: async () => Object.fromEntries(Object.entries(MIGRATIONS).filter(([name]) => name <= last)),
      },
    }).migrateToLatest()
  expect((await upTo('0009-who-says-a-lot-is-recalled')).error).toBeUndefined()
  for (const statement of [
    `insert into offices (id, name, line1, line2, town, region, postal_code, country, phone, email, founded_at)
     values (1, 'Larkmoor Water', '4 Sluice Yard', '', 'Tollard Mill', 'XX', '00142', 'US', '', '', '2021-03-01T09:00:00.000Z')`,
    `insert into suppliers (id, office_id, name, account, line1, line2, town, region, postal_code, country, phone, email, lead_time_days, minimum_order_cents, note)
     values (1, 1, 'Orrin Supply', '', '', '', '', '', '', '', '', '', 7, 0, '')`,
    `insert into purchase_orders (id, office_id, supplier_id, number, state, drafted_on, note) values (1, 1, 1, 'PO-1', 'sent', '2026-11-01', '')`,
  ])
    await sql.raw(statement).execute(write)
  expect((await upTo(STEP)).error).toBeUndefined()
  expect(await write.selectFrom('sent_orders').select('order_id').execute()).toEqual([])
  const keep = sql`insert into sent_orders values (1, 1, 'Larkmoor Water', '4 Sluice Yard', 'Orrin Supply', '', '', '', null, 'USD', 'en-US', 'letter', 'us-10', '2026-11-01T09:00:00.000Z', 'office')`
  await keep.execute(write)
  await expect(keep.execute(write)).rejects.toThrow(/unique/i)
  await close()
})
