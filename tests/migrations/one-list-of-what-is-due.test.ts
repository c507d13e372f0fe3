import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { migrateBooks } from '../../core/database/migrate.ts'
import { openSqlite } from '../../core/database/open-sqlite.ts'

test('DUE-16 what is due is kept in order by household, and no longer by stage', async () => {
  const books = openSqlite(':memory:')
  await migrateBooks(books, null)
  const { rows } = await sql<{ name: string }>`
    select name from sqlite_master where type = 'index' and name in ('stages_due', 'sites_due')`.execute(books.write)
  expect(rows).toEqual([{ name: 'sites_due' }])
  await books.close()
})
