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
