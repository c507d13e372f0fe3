import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { MIGRATIONS } from '../../migrations/list.ts'

test('IMP-22 a list that was held before lists came in pieces is let go, and what was taken in stays written down', async () => {
  const { write, close } = openSqlite(':memory:')
  await MIGRATIONS['0001-the-first-office']?.up(write)
  await sql`insert into offices (id, name, line1, line2, town, region, postal_code, country, phone, email, founded_at)
    values (1, 'Larkmoor Water', '', '', '', '', '', 'US', '', '', '2021-03-01T09:00:00.000Z')`.execute(write)
  for (const state of ['held', 'taken'])
    await sql`insert into import_files (office_id, name, held_at, content, rows_found, state)
      values (1, ${`${state}.csv`}, '2026-11-01T09:00:00.000Z', 'Name,Town', 1, ${state})`.execute(write)

  await MIGRATIONS['0003-lists-in-pieces']?.up(write)

  const files = await write.selectFrom('import_files').select(['name', 'state', 'content', 'read_as']).execute()
  expect(files).toEqual([
    { name: 'held.csv', state: 'dropped', content: '', read_as: null },
    { name: 'taken.csv', state: 'taken', content: 'Name,Town', read_as: null },
  ])
  expect(await write.selectFrom('import_pieces').selectAll().execute()).toEqual([])
  expect(await write.selectFrom('import_judgements').selectAll().execute()).toEqual([])
  const unknown = sql`update import_files set read_as = 'morse' where id = 1`.execute(write)
  await expect(unknown).rejects.toThrow('CHECK constraint failed')
  await close()
})
