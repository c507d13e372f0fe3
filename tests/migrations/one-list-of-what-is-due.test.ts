import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

test('DUE-16 what is due is kept in order by household, and no longer by stage', async () => {
  const { write, close } = openSqlite(':memory:')
  const migrator = new Migrator({ db: write, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } })
  const lists = async () => {
    const { rows } = await sql<{ name: string }>`
      select name from sqlite_master where type = 'index' and name in ('stages_due', 'sites_due') order by name`.execute(
      write,
    )
    return rows.map(({ name }) => name)
  }
  expect((await migrator.migrateTo(stepOf('0012'))).error).toBeUndefined()
  expect(await lists()).toEqual(['sites_due', 'stages_due'])
  expect((await migrator.migrateToLatest()).error).toBeUndefined()
  expect(await lists()).toEqual(['sites_due'])
  await close()
})

/** The whole name of the step with that number. */
function stepOf(number: string): string {
  return Object.keys(MIGRATIONS).find((name) => name.startsWith(`${number}-`)) ?? ''
}
