import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0009-who-says-a-lot-is-recalled'

test('STK-70 a recall from before it was kept who says so began with its day, and has no notice', async () => {
  const { write, close } = openSqlite(':memory:')
  const upTo = (isTaken: (name: string) => boolean) =>
    new Migrator({
      db: write,
      provider: {
        getMigrations: async () => Object.fromEntries(Object.entries(MIGRATIONS).filter(([name]) => isTaken(name))),
      },
    }).migrateToLatest()
  expect((await upTo((name) => name < STEP)).error).toBeUndefined()
  for (const statement of [
    `insert into offices (id, name, line1, line2, town, region, postal_code, country, phone, email, founded_at)
     values (1, 'Larkmoor Water', '4 Sluice Yard', '', 'Tollard Mill', 'XX', '00142', 'US', '', '', '2021-03-01T09:00:00.000Z')`,
    `insert into parts (id, office_id, number, name, gtin, price_cents, cost_cents, note) values (1, 1, 'CB-10', 'Carbon block', '', 2400, 900, '')`,
    `insert into lots (office_id, part_id, code, received_on, cost_cents, recalled_on, recall_note) values (1, 1, 'K-77', '2026-04-01', 900, '2026-11-03', 'the maker wrote')`,
    `insert into lots (office_id, part_id, code, received_on, cost_cents, recall_note) values (1, 1, 'K-78', '2026-04-01', 900, '')`,
  ])
    await sql.raw(statement).execute(write)
  expect((await upTo((name) => name <= STEP)).error).toBeUndefined()
  expect(
    await write.selectFrom('lots').select(['code', 'recall_notice', 'recalled_at']).orderBy('id').execute(),
  ).toEqual([
    { code: 'K-77', recall_notice: '', recalled_at: '2026-11-03T00:00:00.000Z' },
    { code: 'K-78', recall_notice: '', recalled_at: null },
  ])
  await close()
})
