import { spawn } from 'node:child_process'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { sql } from 'kysely'
import { afterEach, describe, expect, test } from 'vitest'
import { openDatabase } from '../../core/database/open-books.ts'
import { openPostgres } from '../../core/database/open-postgres.ts'
import { balancesOf, onHand, tallyUp } from '../../core/stock/ledger.ts'
import { readHeaps, readMovements } from '../../core/stock/on-hand-on.ts'
import { heapsNow, movementsOfDays } from '../../core/stock/on-hand-store.ts'
import type { PullDay } from '../../core/stock/pull-contract.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { officeIdSchema } from '../../core/units/ids.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { aCrowdedWarehouse, aSession, type CrowdedWarehouse, type Told } from '../builders/a-warehouse-session.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { addressOf, databases, isRealPostgres } from '../data/each-database.ts'

const OFFICE = officeIdSchema.parse(1)
const EVERY_DAY = { after: calendarDate('2000-01-01'), until: calendarDate('2026-12-31') }
const socketFolder = process.env.PENSTOCK_TEST_POSTGRES

/** Offices of their own on the books of the first: each with its own connections. */
async function moreSessions(first: AnOffice, count: number): Promise<AnOffice[]> {
  if (socketFolder === undefined) throw new Error('Sessions of their own need a server')
  const { rows } = await sql<{ name: string }>`select current_database() as name`.execute(first.database.write)
  const address = addressOf(socketFolder, rows[0]?.name ?? '')
  return Promise.all(Array.from({ length: count }, () => anOffice(openPostgres(address), '2026-12-01', false, false)))
}

/** Whatever happened: never below zero, balances the sum of the movements, each yes one movement, each no a sentence. */
async function expectBooksToHold({ database: { read, write } }: AnOffice, told: readonly Told[]): Promise<void> {
  const movements = await write.selectFrom('movements').selectAll().orderBy('id').execute()
  const kept = readHeaps(await heapsNow(read, OFFICE))
  const order = (a: { lotId: number; placeId: number }, b: { lotId: number; placeId: number }) =>
    a.lotId - b.lotId || a.placeId - b.placeId
  kept.sort(order)
  const byHand = onHand(
    movements.map((row) => ({
      lotId: row.lot_id,
      fromPlaceId: row.from_place_id,
      toPlaceId: row.to_place_id,
      quantity: row.quantity,
    })),
  )
  expect(kept).toEqual(byHand)
  expect(balancesOf(tallyUp(new Map(), readMovements(await movementsOfDays(read, OFFICE, EVERY_DAY))))).toEqual(kept)
  const balances = await write.selectFrom('balances').select('quantity').execute()
  expect(balances.every((row) => row.quantity >= 0)).toBe(true)
  for (const { what, note, status, code, sentence, moved } of told) {
    expect([200, 422], `${what}: ${code} ${sentence}`).toContain(status)
    if (status === 422) expect(code === '' || sentence.length < 10 ? `${what} without a sentence` : '').toBe('')
    if (/^(move|send|arrive|scrap|return|put right|count)$/.test(what))
      expect([what, note, movements.filter((row) => row.note === note).length]).toEqual([what, note, moved ? 1 : 0])
  }
  const pulled = told.filter((one) => one.what === 'confirm' && one.status === 200)
  const sum = (rows: readonly { quantity: number }[]) => rows.reduce((all, row) => all + row.quantity, 0)
  // A pull that was put right since is not counted twice either: its counter-movement has another reason.
  expect(sum(movements.filter((row) => row.reason === 'pull'))).toBe(pulled.reduce((all, one) => all + one.pieces, 0))
  const recorded = told.filter((one) => one.what.startsWith('record') && one.status === 200)
  expect(new Set(recorded.map((one) => one.what)).size).toBe(recorded.length)
  expect(sum(movements.filter((row) => row.reason === 'fit'))).toBe(recorded.length)
  const corrected = movements.map((row) => row.corrects_id).filter((id) => id !== null)
  expect(new Set(corrected).size).toBe(corrected.length)
}

const busy = (told: readonly Told[]): number => told.filter((one) => one.code === 'DATABASE_BUSY').length

/** A van each for one visit of tomorrow that wants the only piece there is. */
async function aLastPiece(office: AnOffice) {
  const { write: tx } = office.database
  const partId = await aPart(tx, 'P-2075')
  const bin = await aPlace(tx, 'A-01', 10)
  await aLot(tx, { partId, code: 'L', placeId: bin, pieces: 1 })
  const vans = [await aVan(tx, 'van 1', 'Ilse R.'), await aVan(tx, 'van 2', 'Bram T.')]
  const siteId = await aHousehold(tx, 'Ashgrove Dental')
  for (const { technicianId } of vans)
    await aBookedVisit(tx, { siteId, technicianId, on: '2026-12-02', needs: [[partId, 1]] })
  return vans
}

async function openPullOf(office: AnOffice) {
  const day = (await office.ask('pull/day', { on: '2026-12-02' })).json as PullDay
  const van = day.vans.find((each) => each.state === 'open')
  return { pullId: van?.pullId, line: van?.lines[0] }
}

describe.each(databases)('many sessions on $name', ({ open }) => {
  const acts = isRealPostgres ? 40 : 25

  test('STK-41 STK-55 whatever they do, the books hold', { timeout: 240_000 }, async () => {
    const office = await anOffice(await open())
    const house = await aCrowdedWarehouse(office.database.write)
    const atOnce = isRealPostgres && office.database.dialect === 'postgres'
    const told: Told[] = []
    if (atOnce) {
      const others = await moreSessions(office, 7)
      const sessions = [office, ...others].map((each, at) => aSession(each.ask, house, at + 1, acts))
      told.push(...(await Promise.all(sessions)).flat())
    } else {
      // One connection: the sessions are told apart, but act in turn. SQLite has its processes below; PGlite has no second session.
      for (let seed = 1; seed <= 8; seed += 1) told.push(...(await aSession(office.ask, house, seed, acts)))
    }
    await expectBooksToHold(office, told)
    expect(told.filter((one) => one.status === 200).length).toBeGreaterThan(acts)
    expect(told.filter((one) => one.status === 422).length).toBeGreaterThan(acts)
    expect(busy(told)).toBe(0)
    const did = new Set(told.filter((one) => one.status === 200).map((one) => one.what.split(' ')[0]))
    expect(['move', 'count', 'return', 'begin', 'tick', 'confirm', 'record'].filter((what) => !did.has(what))).toEqual(
      [],
    )
  })

  test.runIf(isRealPostgres)(
    'STK-55 the last piece is promised once, and put on its van once',
    { timeout: 120_000 },
    async () => {
      const office = await anOffice(await open())
      const vans = await aLastPiece(office)
      const sessions = office.database.dialect === 'postgres' ? [office, ...(await moreSessions(office, 5))] : [office]
      const begun = await Promise.all(
        sessions.flatMap((each) =>
          vans.map(({ vanId }) => each.ask('pull/begin', { on: '2026-12-02', vanIds: [vanId] })),
        ),
      )
      expect(begun.filter((answer) => answer.status === 200)).toHaveLength(1)
      for (const { status, json } of begun)
        if (status === 422) expect((json as { data: { code: string } }).data.code).toBe('PULL_NOTHING_TO_PULL')
      const { pullId, line } = await openPullOf(office)
      await office.ask('pull/tick', { pullId, lineId: line?.lineId, pulled: 1 })
      const put = await Promise.all(sessions.flatMap((each) => [1, 2].map(() => each.ask('pull/confirm', { pullId }))))
      expect(put.filter((answer) => answer.status === 200)).toHaveLength(1)
      for (const { status, json } of put)
        if (status === 422) expect((json as { data: { code: string } }).data.code).toBe('PULL_CONFIRMED')
      const moved = await office.database.write
        .selectFrom('movements')
        .select('id')
        .where('reason', '=', 'pull')
        .execute()
      expect(moved).toHaveLength(1)
    },
  )

  test('STK-49 STK-51 two who approve the same round write it into the books once', async () => {
    const office = await anOffice(await open())
    await aCrowdedWarehouse(office.database.write)
    const { countId } = (await office.ask('counts/begin', { name: 'December', scope: { of: 'all' } })).json as {
      countId: number
    }
    const round = async () =>
      (await office.ask('counts/round', { countId })).json as { version: number; rows: { lineId: number }[] }
    const { rows } = await round()
    for (const { lineId } of rows)
      await office.ask('counts/writeDown', { countId, lineId, seen: null, counted: 7, note: '' })
    const { version } = await round()
    const atOnce = isRealPostgres && office.database.dialect === 'postgres'
    const sessions = atOnce ? [office, ...(await moreSessions(office, 3))] : [office, office]
    const approve = (each: AnOffice) => each.ask('counts/approve', { countId, version, note: '' })
    const answers: { status: number; json: unknown }[] = []
    if (atOnce) answers.push(...(await Promise.all(sessions.map(approve))))
    else for (const each of sessions) answers.push(await approve(each))
    expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1)
    const counts = await office.database.write
      .selectFrom('movements')
      .select('id')
      .where('reason', '=', 'count')
      .execute()
    expect(counts).toHaveLength(rows.length)
    const kept = readHeaps(await heapsNow(office.database.read, OFFICE))
    expect(kept.every((heap) => heap.quantity === 7)).toBe(true)
  })
})

const folders: string[] = []
afterEach(() => {
  for (const folder of folders.splice(0)) rmSync(folder, { recursive: true, force: true })
})

function inAProcess(file: string, house: CrowdedWarehouse, seed: number, acts: number): Promise<Told[]> {
  const script = fileURLToPath(new URL('../builders/session-in-a-process.ts', import.meta.url))
  const child = spawn(process.execPath, [script, file, String(seed), String(acts)], {
    stdio: ['pipe', 'pipe', 'inherit'],
    env: { ...process.env, NODE_OPTIONS: '' },
  })
  child.stdin.end(JSON.stringify(house))
  const said: Buffer[] = []
  child.stdout.on('data', (chunk: Buffer) => said.push(chunk))
  return new Promise((done, failed) => {
    child.on('error', failed)
    child.on('close', (code) => {
      const text = Buffer.concat(said).toString('utf8')
      if (code === 0) done(JSON.parse(text) as Told[])
      else failed(new Error(`A session ended with ${code}: ${text}`))
    })
  })
}

test('STK-41 STK-55 three processes on one SQLite file keep the books whole', { timeout: 240_000 }, async () => {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-sessions-'))
  folders.push(folder)
  const file = join(folder, 'books.sqlite')
  const office = await anOffice(openDatabase(file))
  const house = await aCrowdedWarehouse(office.database.write)
  const told = (await Promise.all([1, 2, 3].map((seed) => inAProcess(file, house, seed, 30)))).flat()
  await expectBooksToHold(office, told)
  expect(told.filter((one) => one.status === 200).length).toBeGreaterThan(10)
  expect(busy(told)).toBe(0)
})
