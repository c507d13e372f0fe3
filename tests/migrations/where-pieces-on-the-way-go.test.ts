import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0011-where-pieces-on-the-way-go'

test('STK-42 movements from before are bound for nowhere, and still never change', async () => {
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
    `insert into lots (id, office_id, part_id, code, received_on, cost_cents, recall_note) values (1, 1, 1, 'K-77', '2026-04-01', 900, '')`,
    `insert into places (id, office_id, kind, code, aisle, walk_order) values (1, 1, 'bin', 'A-01', 'A', 1)`,
    `insert into movements (office_id, part_id, lot_id, to_place_id, quantity, reason, moved_on, moved_at, by_whom, note)
     values (1, 1, 1, 1, 12, 'receive', '2026-04-01', '', 'Ilse R.', '')`,
  ])
    await sql.raw(statement).execute(write)
  expect((await upTo((name) => name <= STEP)).error).toBeUndefined()
  const movements = write.selectFrom('movements').select(['quantity', 'bound_for_place_id'])
  expect(await movements.execute()).toEqual([{ quantity: 12, bound_for_place_id: null }])
  expect(await write.selectFrom('balances').select('quantity').execute()).toEqual([{ quantity: 12 }])
  await expect(sql.raw('update movements set bound_for_place_id = 1').execute(write)).rejects.toThrow(/never changes/)
  await close()
})
