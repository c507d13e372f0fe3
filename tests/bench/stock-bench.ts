import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { openDatabase } from '../../core/database/open-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { balancesOf, tallyUp } from '../../core/stock/ledger.ts'
import { tallyOn } from '../../core/stock/on-hand-answers.ts'
import { readHeaps } from '../../core/stock/on-hand-on.ts'
import { heapsNow } from '../../core/stock/on-hand-store.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { LARGE_WAREHOUSE, writeManyMovements } from './many-movements.ts'
import { longestHold, type Measure, type MeasureLine, middleOf } from './measure.ts'

const today = calendarDate('2026-12-01')
const GOES = 9
/** What the issue asks for, for everything on hand from two million movements; and for the table of parts. */
const [ON_HAND_MS, PARTS_MS] = [100, 50]
/** How long a request may keep everybody else from being answered. */
const HOLD_MS = 50

/**
 * On hand of everything from two million movements: at the store, and through the whole door, against bare SQL over the kept balances; the plain
 * sum of all movements beside it, which the balances save; a day thirty days back; the table of parts; and what to count this week, in the office
 * as it is opened in the program, with threads.
 * PENSTOCK_BENCH_MOVEMENTS keeps the file (it takes minutes to write) for another run.
 */
async function measureStock(): Promise<MeasureLine[]> {
  const kept = process.env.PENSTOCK_BENCH_MOVEMENTS
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  const file = kept ?? join(folder, 'books.sqlite')
  try {
    if (kept === undefined) await writeManyMovements(file, LARGE_WAREHOUSE)
    const raw = new Database(file)
    try {
      return [
        ...(await measureStore(file)),
        ...(await inOffice(file, 'same', measureDoor)),
        ...(await inOffice(file, 'worker', (office) => measureWeek(office, raw))),
        ...(await measureBare(raw)),
      ]
    } finally {
      raw.close()
    }
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

async function measureStore(file: string): Promise<MeasureLine[]> {
  const books = openDatabase(file)
  const asked = { read: books.read, officeId: FIRST_OFFICE, today }
  try {
    const now = await middleOf(GOES, async () => readHeaps(await heapsNow(books.read, FIRST_OFFICE)))
    const back = await middleOf(3, () => tallyOn(asked, addDays(today, -30)))
    const heaps = readHeaps(await heapsNow(books.read, FIRST_OFFICE)).length
    const agrees = await sumAgrees(books, balancesOf(await tallyOn(asked, today)))
    return [
      { name: `stock.on-hand.store.${heaps}-heaps`, value: now, unit: 'ms', floor: ON_HAND_MS },
      { name: 'stock.on-hand.30-days-back.store', value: back, unit: 'ms' },
      { name: 'stock.on-hand.balances-that-are-the-sum', value: agrees ? heaps : 0, unit: 'heaps' },
    ]
  } finally {
    await books.close()
  }
}

/** Whether the kept balances are the sum of all movements, added up here once more. */
async function sumAgrees(books: ReturnType<typeof openDatabase>, kept: readonly unknown[]): Promise<boolean> {
  const tally = tallyUp(new Map(), [])
  let after = 0
  for (;;) {
    const rows = await books.read
      .selectFrom('movements')
      .select(['id', 'lot_id as lotId', 'from_place_id as fromPlaceId', 'to_place_id as toPlaceId', 'quantity'])
      .where('id', '>', after as never)
      .orderBy('id')
      .limit(100_000)
      .execute()
    tallyUp(tally, rows)
    const last = rows.at(-1)
    if (!last) return JSON.stringify(balancesOf(tally)) === JSON.stringify(kept)
    after = last.id
  }
}

async function inOffice(
  file: string,
  threads: 'same' | 'worker',
  measured: (office: Office) => Promise<MeasureLine[]>,
): Promise<MeasureLine[]> {
  const opened = await openOffice({
    database: file,
    clock: { today: () => today, now: () => `${today}T12:00:00.000Z` },
    log: () => {},
    threads,
  })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  try {
    return await measured(opened.value)
  } finally {
    await opened.value.close()
  }
}

async function ask(office: Office, path: string, input?: object): Promise<string> {
  const response = await office.handle(
    new Request(`http://office/rpc/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ json: input }),
    }),
  )
  if (response.status !== 200) throw new Error(`${path}: ${await response.text()}`)
  return response.text()
}

async function measureDoor(office: Office): Promise<MeasureLine[]> {
  const all = await middleOf(GOES, () => ask(office, 'stock/onHand', { on: null }))
  const back = await middleOf(3, () => ask(office, 'stock/onHand', { on: addDays(today, -30) }))
  const parts = await middleOf(GOES, () => ask(office, 'stock/parts'))
  const held = await longestHold(3, () => ask(office, 'stock/onHand', { on: addDays(today, -30) }))
  return [
    { name: 'stock.on-hand.door', value: all, unit: 'ms', floor: ON_HAND_MS },
    { name: 'stock.on-hand.30-days-back.door', value: back, unit: 'ms' },
    { name: 'stock.on-hand.30-days-back.longest-hold', value: held, unit: 'ms', floor: HOLD_MS },
    { name: 'stock.parts.door', value: parts, unit: 'ms', floor: PARTS_MS },
  ]
}

/** What to count this week after something was written, so that it is reckoned anew each time; and asked once more while nothing is. */
async function measureWeek(office: Office, raw: Database.Database): Promise<MeasureLine[]> {
  const touch = raw.prepare("update parts set note = note || '.' where id = 1")
  const anew = () => {
    touch.run()
    return ask(office, 'counts/week')
  }
  const reckoned = await middleOf(3, anew)
  const held = await longestHold(5, anew)
  const again = await middleOf(GOES, () => ask(office, 'counts/week'))
  return [
    { name: 'stock.what-to-count.door', value: reckoned, unit: 'ms' },
    { name: 'stock.what-to-count.door.again', value: again, unit: 'ms', floor: HOLD_MS },
    { name: 'stock.what-to-count.longest-hold', value: held, unit: 'ms', floor: HOLD_MS },
  ]
}

const BARE =
  'select lot_id, place_id, quantity from balances where office_id = 1 and quantity > 0 order by lot_id, place_id'
const SUM = `select lot_id, place_id, sum(quantity) from (
    select lot_id, to_place_id as place_id, quantity from movements where office_id = 1 and to_place_id is not null
    union all select lot_id, from_place_id, -quantity from movements where office_id = 1 and from_place_id is not null)
  group by lot_id, place_id having sum(quantity) <> 0`

async function measureBare(raw: Database.Database): Promise<MeasureLine[]> {
  const bare = raw.prepare(BARE)
  const sum = raw.prepare(SUM)
  const begun = performance.now()
  sum.all()
  const plain = performance.now() - begun
  return [
    { name: 'stock.on-hand.bare-sql', value: await middleOf(GOES, () => bare.all()), unit: 'ms' },
    { name: 'stock.on-hand.plain-sum-of-movements', value: plain, unit: 'ms' },
  ]
}

export const measures: readonly Measure[] = [{ name: 'stock', run: measureStock }]
