import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0006-what-the-readings-tell'

test('DUE-31 readings and own dates from before stay as they were: no meter, not struck out, without an end', async () => {
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
    `insert into stages (office_id, installation_id, position, kind, label, own_due_on, own_due_note, own_due_until)
     values (1, 1, 1, 'carbon', '', '2027-01-01', 'back from abroad', '2026-01-01')`,
    `insert into readings (office_id, installation_id, taken_on, tds_in_mg_l, tds_out_mg_l, note) values (1, 1, '2026-05-01', 400, 40, '')`,
  ])
    await sql.raw(statement).execute(write)
  expect((await upTo(STEP)).error).toBeUndefined()
  const readings = await write
    .selectFrom('readings')
    .select(['tds_in_mg_l', 'meter_ml', 'struck_on', 'struck_reason'])
    .execute()
  expect(readings).toEqual([{ tds_in_mg_l: 400, meter_ml: null, struck_on: null, struck_reason: '' }])
  const stages = await write.selectFrom('stages').select(['own_due_on', 'own_due_until', 'own_due_ends_on']).execute()
  expect(stages).toEqual([{ own_due_on: '2027-01-01', own_due_until: '2026-01-01', own_due_ends_on: null }])
  await expect(sql`update readings set meter_ml = -1`.execute(write)).rejects.toThrow(/check/i)
  await expect(sql`update readings set struck_on = 'soon'`.execute(write)).rejects.toThrow(/check/i)
  await close()
})
