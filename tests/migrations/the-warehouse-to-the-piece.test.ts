import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0008-the-warehouse-to-the-piece'

test('PICK-6 stages, parts, vans and orders from before stay as they were: substitutes allowed, room not minded, nothing given up', async () => {
  const { write, close } = openSqlite(':memory:')
  const upTo = (last: string) =>
    new Migrator({
      db: write,
      provider: {
        getMigrations: async () => Object.fromEntries(Object.entries(MIGRATIONS).filter(([name]) => name <= last)),
      },
    }).migrateToLatest()
  const before = Object.keys(MIGRATIONS)
    .filter((name) => name < STEP)
    .sort()
    .at(-1)
  expect((await upTo(before ?? '')).error).toBeUndefined()
  for (const statement of [
    `insert into offices (id, name, line1, line2, town, region, postal_code, country, phone, email, founded_at)
     values (1, 'Larkmoor Water', '4 Sluice Yard', '', 'Tollard Mill', 'XX', '00142', 'US', '', '', '2021-03-01T09:00:00.000Z')`,
    `insert into customers (id, office_id, reference, kind, sort_name, letter_name, salutation, phone, phone_note, email, mail_line1,
     mail_line2, mail_town, mail_region, mail_postal_code, mail_country, note, created_on)
     values (1, 1, 'R-1', 'person', 'Ashgrove', 'Ashgrove', '', '', '', '', '', '', '', '', '', '', '', '2021-03-01')`,
    `insert into sites (id, office_id, customer_id, line1, line2, town, region, postal_code, country, access_note, water_source)
     values (1, 1, 1, '', '', 'Saltgrass', 'XX', '', 'US', '', 'mains')`,
    `insert into installations (id, office_id, site_id, name, note) values (1, 1, 1, 'unit', '')`,
    `insert into stages (office_id, installation_id, position, kind, label) values (1, 1, 1, 'carbon', '')`,
    `insert into parts (id, office_id, number, name, gtin, price_cents, cost_cents, note) values (1, 1, 'CB-10', 'Carbon block', '', 2400, 900, '')`,
    `insert into suppliers (id, office_id, name, account, line1, line2, town, region, postal_code, country, phone, email, lead_time_days, minimum_order_cents, note)
     values (1, 1, 'Orrin Supply', '', '', '', '', '', '', '', '', '', 7, 0, '')`,
    `insert into purchase_orders (id, office_id, supplier_id, number, state, drafted_on, note) values (1, 1, 1, 'PO-1', 'sent', '2026-11-01', '')`,
    `insert into purchase_order_lines (office_id, order_id, part_id, position, quantity, price_cents, reason) values (1, 1, 1, 1, 24, 900, '')`,
  ])
    await sql.raw(statement).execute(write)
  expect((await upTo(STEP)).error).toBeUndefined()
  expect(await write.selectFrom('stages').select('own_part_only').execute()).toEqual([{ own_part_only: 0 }])
  expect(await write.selectFrom('parts').select(['number', 'space_ml']).execute()).toEqual([
    { number: 'CB-10', space_ml: null },
  ])
  expect(await write.selectFrom('purchase_orders').select(['cancelled_on', 'cancelled_reason']).execute()).toEqual([
    { cancelled_on: null, cancelled_reason: '' },
  ])
  expect(await write.selectFrom('purchase_order_lines').select(['quantity', 'given_up_quantity']).execute()).toEqual([
    { quantity: 24, given_up_quantity: 0 },
  ])
  await expect(sql`update purchase_order_lines set given_up_quantity = -1`.execute(write)).rejects.toThrow(/check/i)
  await expect(sql`update parts set space_ml = 0`.execute(write)).rejects.toThrow(/check/i)
  await close()
})
