import { spawn } from 'node:child_process'
import { once } from 'node:events'
import { copyFileSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { setTimeout as pause } from 'node:timers/promises'
import { fileURLToPath } from 'node:url'
import Database from 'better-sqlite3'
import { sql } from 'kysely'
import { afterAll, beforeAll, expect, test } from 'vitest'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { migrateBooks } from '../../core/database/migrate.ts'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import { piecesOf } from '../../core/stock/pull-shapes.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { anOffice } from '../builders/an-office.ts'

const DAYS = 14
const PARTS = 12
const folder = mkdtempSync(join(tmpdir(), 'penstock-killed-'))
const whole = join(folder, 'whole.sqlite')
afterAll(() => rmSync(folder, { recursive: true, force: true }))

/** A van's pull for each of some days, every line ticked, none put on the van yet. */
beforeAll(async () => {
  const books = openSqlite(whole)
  await migrateBooks(books, null)
  const office = await anOffice(books)
  const tx = books.write
  const place = await aPlace(tx, 'A-01-1', 10)
  const van = await aVan(tx, 'van 1', 'Ilse R.')
  const siteId = await aHousehold(tx, 'Abernathy')
  const parts = []
  for (let n = 0; n < PARTS; n += 1) {
    const partId = await aPart(tx, `P-${1000 + n}`)
    await aLot(tx, { partId, code: `L-${n}`, placeId: place, pieces: DAYS * 2 })
    parts.push(partId)
  }
  for (let ahead = 1; ahead <= DAYS; ahead += 1) {
    const on = addDays(calendarDate('2026-12-01'), ahead)
    const needs = parts.map((partId) => [partId, 2] as const)
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on, needs })
    expect(await office.ask('pull/begin', { on, vanIds: [van.vanId] })).toMatchObject({ status: 200 })
  }
  await sql`update pull_lines set pulled_quantity = quantity`.execute(tx)
  await office.close()
}, 240_000)

/** Lets another process put pulls on the van and kills it when the moment has come after it began the so-manieth; the pulls that it said were done. */
async function killedAfter(file: string, nth: number, moment: () => Promise<unknown>): Promise<number[]> {
  const script = fileURLToPath(new URL('../builders/confirm-apart.ts', import.meta.url))
  const child = spawn(process.execPath, [script, file], { stdio: ['ignore', 'pipe', 'inherit'] })
  const gone = once(child, 'exit')
  const done: number[] = []
  let begun = 0
  for await (const line of createInterface(child.stdout)) {
    const [what, id] = line.split(' ')
    if (what === 'put') done.push(Number(id))
    if (what !== 'putting') continue
    begun += 1
    if (begun < nth) continue
    await moment()
    child.kill('SIGKILL')
    break
  }
  // A quick machine may have put all of them by then.
  expect([
    [null, 'SIGKILL'],
    [0, null],
  ]).toContainEqual(await gone)
  return done
}

interface PullInBooks {
  readonly id: number
  readonly state: string
  readonly moved: number
}

async function pullsIn(books: OpenDatabase): Promise<PullInBooks[]> {
  const rows = await sql<PullInBooks>`
    select p.id, p.state, coalesce((select sum(m.quantity) from movements m where m.pull_id = p.id), 0) as moved
    from pulls p order by p.id`.execute(books.write)
  return rows.rows
}

/** SQLite finds no fault, no row points nowhere, and every balance is the sum of its movements. */
async function expectWhole(books: OpenDatabase): Promise<void> {
  expect((await sql<{ integrity_check: string }>`pragma integrity_check`.execute(books.write)).rows).toEqual([
    { integrity_check: 'ok' },
  ])
  expect((await sql`pragma foreign_key_check`.execute(books.write)).rows).toEqual([])
  const strays = await sql`
    select b.lot_id from balances b where b.quantity <> (
      select coalesce(sum(case when m.to_place_id = b.place_id then m.quantity else 0 end), 0)
           - coalesce(sum(case when m.from_place_id = b.place_id then m.quantity else 0 end), 0)
      from movements m where m.lot_id = b.lot_id)`.execute(books.write)
  expect(strays.rows).toEqual([])
}

/** Whatever was done by then is done whole, and going on loses and doubles nothing. Returns the pulls that were on the van. */
async function expectNothingHalfDone(file: string, said: readonly number[]): Promise<number[]> {
  const books = openSqlite(file)
  await expectWhole(books)
  const pulls = await pullsIn(books)
  for (const { id, state, moved } of pulls) expect([id, moved]).toEqual([id, state === 'confirmed' ? PARTS * 2 : 0])
  const done = pulls.filter((pull) => pull.state === 'confirmed').map((pull) => pull.id)
  // What was said to be done is done; what was done last may not have been heard any more.
  expect(done.slice(0, said.length)).toEqual(said)
  const office = await anOffice(books, '2026-12-01', false)
  for (const { id, state } of pulls) {
    const { status, json } = await office.ask('pull/confirm', { pullId: id })
    if (state === 'open') expect([status, json]).toMatchObject([200, { pieces: PARTS * 2 }])
    else expect([status, json]).toMatchObject([422, { data: { code: 'PULL_CONFIRMED' } }])
  }
  await expectWhole(books)
  expect((await pullsIn(books)).map((pull) => [pull.state, pull.moved])).toEqual(
    pulls.map(() => ['confirmed', PARTS * 2]),
  )
  const lines = await books.read.selectFrom('pull_lines').select('quantity').execute()
  expect(piecesOf(lines)).toBe(DAYS * PARTS * 2)
  await office.close()
  return done
}

/** How many are begun before the kill, and how long after the last of them, in milliseconds: with SQLite's own crash tests in mind. */
const KILLS: readonly (readonly [number, number])[] = [
  [1, 0],
  [3, 1],
  [5, 3],
  [7, 6],
  [9, 10],
  [11, 16],
]

test.each(KILLS)(
  'PICK-28 killed at the %i. pull after %i ms, every pull is on the van or not, and going on loses and doubles nothing',
  async (nth, milliseconds) => {
    const file = join(folder, `killed-${nth}.sqlite`)
    copyFileSync(whole, file)
    await expectNothingHalfDone(file, await killedAfter(file, nth, () => pause(milliseconds)))
  },
  240_000,
)

/** The fifth movement of a pull takes so long that there is time to kill whoever writes it. */
const HELD_UP = `create trigger held_up after insert on movements
  when (select count(*) from movements where pull_id = new.pull_id) = 5
  begin select count(*) from ${[...'abcdefgh'].map((name) => `movements ${name}`).join(', ')}
    where ${[...'abcdefgh'].map((name) => `${name}.quantity`).join(' + ')} < 0; end`

/** Until another process holds the books for writing, and goes on holding them. */
async function untilHeld(file: string): Promise<void> {
  const raw = new Database(file, { timeout: 0 })
  for (let held = 0; held < 5; ) {
    try {
      raw.exec('begin immediate; rollback')
      held = 0
    } catch {
      held += 1
    }
    await pause(50)
  }
  raw.close()
}

test('PICK-28 killed inside the transaction, with five of twelve lines moved, nothing of that pull is on the van', async () => {
  const file = join(folder, 'killed-inside.sqlite')
  copyFileSync(whole, file)
  const raw = new Database(file)
  raw.exec(HELD_UP)
  raw.close()
  const said = await killedAfter(file, 1, () => untilHeld(file))
  expect(said).toEqual([])
  const after = new Database(file)
  expect(after.prepare('select count(*) as moved from movements where pull_id is not null').get()).toEqual({ moved: 0 })
  after.exec('drop trigger held_up')
  after.close()
  expect(await expectNothingHalfDone(file, said)).toEqual([])
}, 240_000)
