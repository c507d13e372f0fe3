import fc from 'fast-check'
import { expect, test } from 'vitest'
import type { WriteDb } from '../../core/database/handles.ts'
import type { PullDay, PullLineRow } from '../../core/stock/pull-contract.ts'
import type { LotId, PartId, PlaceId } from '../../core/units/ids.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const ON = '2026-12-02'
const PARTS = 3
const few = fc.integer({ min: 0, max: 4 })

/** Pieces of three parts in two lots each, and what four visits of two vans need of them. */
const aDrawnDay = fc.record({
  lots: fc.array(fc.tuple(few, few), { minLength: PARTS, maxLength: PARTS }),
  needs: fc.array(fc.array(few, { minLength: PARTS, maxLength: PARTS }), { minLength: 4, maxLength: 4 }),
})

/** What a hand may do: on which line of which van, and with how many pieces. */
const aDeed = fc.record({
  does: fc.constantFrom('tick', 'short', 'damaged', 'elsewhere', 'scan', 'confirm'),
  van: fc.integer({ min: 0, max: 1 }),
  line: fc.nat(5),
  pieces: fc.integer({ min: 0, max: 4 }),
})

interface Drawn {
  readonly bins: readonly PlaceId[]
  readonly lots: readonly LotId[]
  readonly needs: ReadonlyMap<string, number>
}

async function write(office: AnOffice, drawn: { lots: [number, number][]; needs: number[][] }): Promise<Drawn> {
  const tx = office.database.write
  const bins = [await aPlace(tx, 'A-01-1', 10), await aPlace(tx, 'B-01-1', 20)]
  const [parts, lots]: [PartId[], LotId[]] = [[], []]
  for (const [n, pair] of drawn.lots.entries()) {
    const partId = await aPart(tx, `P-${1000 + n}`)
    parts.push(partId)
    for (const [at, pieces] of pair.entries()) {
      const placeId = bins[at]
      const expiresOn = `2028-0${at + 1}-28`
      if (placeId && pieces > 0) lots.push(await aLot(tx, { partId, code: `${n}-${at}`, expiresOn, placeId, pieces }))
    }
  }
  const vans = [await aVan(tx, 'van 1', 'Ilse R.'), await aVan(tx, 'van 2', 'Bram T.')]
  const needs = new Map<string, number>()
  for (const [index, wanted] of drawn.needs.entries()) {
    const siteId = await aHousehold(tx, `Household ${index}`)
    const own = wanted.flatMap((pieces, n) => {
      const partId = parts[n]
      return partId && pieces > 0 ? [[partId, pieces] as const] : []
    })
    const technicianId = vans[index % 2]?.technicianId ?? null
    const visitId = await aBookedVisit(tx, { siteId, technicianId, on: ON, from: 480 + index * 60, needs: own })
    for (const [partId, pieces] of own) needs.set(`${visitId}/${partId}`, pieces)
  }
  for (const van of vans) await office.ask('pull/begin', { on: ON, vanIds: [van.vanId] })
  return { bins, lots, needs }
}

type Deed = { does: string; van: number; line: number; pieces: number }

async function does(office: AnOffice, drawn: Drawn, deed: Deed): Promise<number> {
  const day = (await office.ask('pull/day', { on: ON })).json as PullDay
  const van = day.vans[deed.van]
  const line: PullLineRow | undefined = van?.lines[deed.line % Math.max(1, van.lines.length)]
  if (!van || !line || van.state !== 'open') return 200
  const at = { pullId: van.pullId, lineId: line.lineId }
  const { pieces } = deed
  const finding = {
    short: { kind: 'short', found: pieces },
    damaged: { kind: 'damaged', damaged: pieces, what: '' },
    elsewhere: {
      kind: 'elsewhere',
      lotId: drawn.lots[deed.line % drawn.lots.length],
      placeId: drawn.bins[pieces % 2],
      quantity: pieces,
    },
  }[deed.does]
  if (finding) return (await office.ask('pull/found', { ...at, finding })).status
  if (deed.does === 'scan')
    return (await office.ask('pull/scan', { ...at, typed: line.lot, hand: null, ticks: 'piece' })).status
  if (deed.does === 'confirm') return (await office.ask('pull/confirm', at)).status
  return (await office.ask('pull/tick', { ...at, pulled: Math.min(pieces, line.quantity) })).status
}

/** Of no heap is more promised than lies there, totes add up, nobody is given more than they need, and no tick exceeds its line. */
async function expectLawful(tx: WriteDb, drawn: Drawn): Promise<void> {
  const lines = await tx
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', 'p.id', 'l.pull_id')
    .select(['l.id', 'l.part_id', 'l.lot_id', 'l.place_id', 'l.quantity', 'l.pulled_quantity', 'p.state'])
    .execute()
  const stops = await tx.selectFrom('pull_line_stops').selectAll().execute()
  const heaps = new Map<string, number>()
  for (const row of await tx.selectFrom('balances').selectAll().execute())
    heaps.set(`${row.lot_id}/${row.place_id}`, row.quantity)
  const given = new Map<string, number>()
  for (const line of lines) {
    const own = stops.filter((stop) => stop.pull_line_id === line.id)
    const inTotes = own.reduce((sum, stop) => sum + stop.quantity, 0)
    expect(line.pulled_quantity ?? 0).toBeLessThanOrEqual(line.quantity)
    expect(inTotes).toBe(line.state === 'open' ? line.quantity : (line.pulled_quantity ?? 0))
    for (const stop of own) {
      const key = `${stop.visit_id}/${line.part_id}`
      given.set(key, (given.get(key) ?? 0) + stop.quantity)
    }
    if (line.state !== 'open') continue
    const key = `${line.lot_id}/${line.place_id}`
    const left = (heaps.get(key) ?? 0) - line.quantity
    expect(left).toBeGreaterThanOrEqual(0)
    heaps.set(key, left)
  }
  for (const [key, pieces] of given) expect(pieces).toBeLessThanOrEqual(drawn.needs.get(key) ?? 0)
}

test('PICK-9 PICK-23 PICK-24 PICK-25 whatever is found, ticked, scanned and loaded, nothing is promised twice and no tote is given more than its stop needs', async () => {
  const [sqlite] = databases
  if (!sqlite) throw new Error('The suite runs on SQLite')
  const deeds = fc.array(aDeed, { minLength: 4, maxLength: 10 })
  await fc.assert(
    fc.asyncProperty(aDrawnDay, deeds, async (day, hands) => {
      const office = await anOffice(await sqlite.open())
      const drawn = await write(office, day)
      await expectLawful(office.database.write, drawn)
      for (const deed of hands) {
        expect([200, 400, 422]).toContain(await does(office, drawn, deed))
        await expectLawful(office.database.write, drawn)
      }
    }),
    { numRuns: 25 },
  )
}, 240_000)
