import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

const STEP = '0012-what-falls-due-by-unit'

test('ORD-2 the index of what falls due of each part is made anew with the unit, and holds what the books held', async () => {
  const { write, close } = openSqlite(':memory:')
  const upTo = (isTaken: (name: string) => boolean) =>
    new Migrator({
      db: write,
      provider: {
        getMigrations: async () => Object.fromEntries(Object.entries(MIGRATIONS).filter(([name]) => isTaken(name))),
      },
    }).migrateToLatest()
  const made = async () => {
    const { rows } = await sql<{ sql: string }>`select sql from sqlite_master where name = 'stages_in_want'`.execute(
      write,
    )
    return rows[0]?.sql ?? ''
  }
  expect((await upTo((name) => name < STEP)).error).toBeUndefined()
  expect(await made()).not.toContain('installation_id')
  expect((await upTo((name) => name <= STEP)).error).toBeUndefined()
  expect(await made()).toContain('installation_id')
  // The conditions are still those that the questions are asked with
  expect(await made()).toContain("removed_on is null and due_on is not null and part_id is not null and kind <> 'tank'")
  await close()
})
