import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

test('what an order brought is found along a list of its own, and not by going through every movement', async () => {
  const { write, close } = openSqlite(':memory:')
  const migrator = new Migrator({ db: write, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } })
  const way = async () => {
    const { rows } = await sql<{ detail: string }>`
      explain query plan select id from movements where office_id = 1 and order_line_id = 7`.execute(write)
    return rows.map(({ detail }) => detail).join(' ')
  }
  expect((await migrator.migrateTo(stepOf('0013'))).error).toBeUndefined()
  expect(await way()).not.toContain('movements_of_orders')
  expect((await migrator.migrateToLatest()).error).toBeUndefined()
  expect(await way()).toContain('movements_of_orders (office_id=? AND order_line_id=?)')
  await close()
})

/** The whole name of the step with that number. */
function stepOf(number: string): string {
  return Object.keys(MIGRATIONS).find((name) => name.startsWith(`${number}-`)) ?? ''
}
