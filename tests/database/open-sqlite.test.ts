import { mkdtempSync, rmSync, statSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { sql } from 'kysely'
import { expect, test } from 'vitest'
import { openSqlite } from '../../core/database/open-sqlite.ts'

test('a statement that stays prepared sees the rows and the tables as they are now', async () => {
  const { write, close } = openSqlite(':memory:')
  const all = () => sql`select * from doors`.execute(write).then(({ rows }) => rows)
  await sql`create table doors (id integer primary key, street text)`.execute(write)
  await sql`insert into doors (street) values (${'Weirside Lane'})`.execute(write)
  expect(await all()).toEqual([{ id: 1, street: 'Weirside Lane' }])
  await sql`insert into doors (street) values (${'Sluice Yard'})`.execute(write)
  expect(await all()).toEqual([
    { id: 1, street: 'Weirside Lane' },
    { id: 2, street: 'Sluice Yard' },
  ])
  await sql`alter table doors add column town text not null default 'Pell Harbor'`.execute(write)
  await sql`delete from doors where id = ${1}`.execute(write)
  expect(await all()).toEqual([{ id: 2, street: 'Sluice Yard', town: 'Pell Harbor' }])
  await sql`drop table doors`.execute(write)
  await sql`create table doors (street text, number integer)`.execute(write)
  await sql`insert into doors values (${'Mill Row'}, ${7})`.execute(write)
  expect(await all()).toEqual([{ street: 'Mill Row', number: 7 }])
  await close()
})

test('more questions than are kept prepared are all answered, the first of them again', async () => {
  const { write, close } = openSqlite(':memory:')
  const ask = (n: number) => sql<{ n: number }>`select ${sql.raw(String(n))} as n`.execute(write)
  for (let n = 0; n < 250; n += 1) expect((await ask(n)).rows).toEqual([{ n }])
  expect((await ask(0)).rows).toEqual([{ n: 0 }])
  await close()
})

test('what a very large transaction wrote is there at once, and its log is folded into the file once the answer is out', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-log-'))
  const file = join(folder, 'books.sqlite')
  const { write, close } = openSqlite(file)
  try {
    await sql`create table doors (id integer primary key, street text not null)`.execute(write)
    const size = () => statSync(file).size
    const fill = (rows: number) =>
      write.transaction().execute(async (tx) => {
        const counted = sql`with recursive n(n) as (select 1 union all select n + 1 from n where n < ${rows}) select n from n`
        await sql`insert into doors (street) select 'Weirside Lane, the house by the old mill, number ' || n from (${counted})`.execute(
          tx,
        )
      })
    const before = size()
    await fill(100_000)
    expect(size()).toBe(before)
    const other = new Database(file, { readonly: true })
    expect(other.prepare('select count(*) as doors from doors').get()).toEqual({ doors: 100_000 })
    other.close()
    await new Promise((resolve) => setImmediate(resolve))
    expect(size()).toBeGreaterThan(6_000_000)
    // An ordinary one is folded by itself, as SQLite does once the log is long.
    const folded = size()
    for (let go = 0; go < 20; go += 1) await fill(15_000)
    expect(size()).toBeGreaterThan(folded)
    // Closed before its turn came, nothing is lost.
    await fill(30_000)
    await close()
    const after = new Database(file, { readonly: true })
    expect(after.prepare('select count(*) as doors from doors').get()).toEqual({ doors: 430_000 })
    after.close()
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
})
