import { describe, expect, test } from 'vitest'
import type { WriteDb } from '../../core/database/handles.ts'
import type { PullDay, VanPullRow } from '../../core/stock/pull-contract.ts'
import type { PartId, PlaceId } from '../../core/units/ids.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { askAs } from '../builders/ask-as.ts'
import { databases } from '../data/each-database.ts'

const ON = '2026-12-02'

/** One van of three stops that need two filters each; six lie in the near bin where nothing is said, `far` of another lot in the far one. */
async function anOpenPull(office: AnOffice, far: number, pieces = 6) {
  const tx = office.database.write
  const filter = await aPart(tx, 'P-1005', { name: 'Sediment filter' })
  const [near, other] = [await aPlace(tx, 'A-02-1', 10), await aPlace(tx, 'B-01-1', 20)]
  const first = await aLot(tx, { partId: filter, code: 'early', expiresOn: '2027-01-31', placeId: near, pieces })
  const second =
    far > 0
      ? await aLot(tx, { partId: filter, code: 'late', expiresOn: '2028-01-31', placeId: other, pieces: far })
      : null
  const van = await aVan(tx, 'van 1', 'Ilse R.')
  for (const [index, name] of ['Abernathy', 'Bexhill', 'Castellane'].entries()) {
    const siteId = await aHousehold(tx, name)
    const needs = [[filter, 2]] as const
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: ON, from: 480 + 60 * index, needs })
  }
  await office.ask('pull/begin', { on: ON, vanIds: [van.vanId] })
  return { tx, filter, near, other, van, first, second }
}

async function vanOf(office: AnOffice, name = 'van 1'): Promise<VanPullRow> {
  const day = (await office.ask('pull/day', { on: ON })).json as PullDay
  const van = day.vans.find((each) => each.van === name)
  if (!van) throw new Error(`No ${name} that day`)
  return van
}

const linesIn = (van: VanPullRow) =>
  van.lines.map((line) => [line.bin, line.lot, line.quantity, line.pulled, line.totes.map((tote) => tote.stop)])

async function foundOn(office: AnOffice, finding: object, at = 0) {
  const van = await vanOf(office)
  return askAs(office, 'Ines')('pull/found', { pullId: van.pullId, lineId: van.lines[at]?.lineId, finding })
}

/** Of no lot at no place is more promised by open pulls than lies there. */
async function nothingPromisedTwice(tx: WriteDb): Promise<void> {
  const rows = await tx
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', 'p.id', 'l.pull_id')
    .leftJoin('balances as b', (join) => join.onRef('b.lot_id', '=', 'l.lot_id').onRef('b.place_id', '=', 'l.place_id'))
    .select((each) => ['b.quantity as there', each.fn.sum<number>('l.quantity').as('promised')])
    .where('p.state', '=', 'open')
    .groupBy(['l.lot_id', 'l.place_id', 'b.quantity'])
    .execute()
  for (const row of rows) expect(Number(row.promised)).toBeLessThanOrEqual(row.there ?? 0)
}

describe.each(databases)('what is found at the bin, on $name', ({ open }) => {
  test('PICK-23 fewer are there: the books are counted, another lot is promised, and the pieces in the totes stay', async () => {
    const office = await anOffice(await open())
    const { tx } = await anOpenPull(office, 10)
    expect(await foundOn(office, { kind: 'short', found: 3 })).toMatchObject({
      status: 200,
      json: {
        sentence: '3 of 6 found: Sediment filter, lot early, A-02-1. The books say 3 there now.',
        instead: [{ bin: 'B-01-1', lot: 'late', quantity: 3 }],
        without: [],
        putBack: 0,
      },
    })
    const van = await vanOf(office)
    expect(linesIn(van)).toEqual([
      ['A-02-1', 'early', 3, 3, [1, 2]],
      ['B-01-1', 'late', 3, null, [2, 3]],
    ])
    expect(van.lines[0]?.pulledBy).toBe('Ines')
    expect(await held(tx)).toEqual({ 'A-02-1': 3, 'B-01-1': 10 })
    const found = await tx.selectFrom('pull_findings').select(['kind', 'quantity', 'by_whom']).execute()
    expect(found).toEqual([{ kind: 'short', quantity: 3, by_whom: 'Ines' }])
    await nothingPromisedTwice(tx)
  })

  test('PICK-23 PICK-24 when nothing else is there, a visit that cannot be served whole goes without, with the reason', async () => {
    const office = await anOffice(await open())
    const { tx } = await anOpenPull(office, 0)
    const { json } = await foundOn(office, { kind: 'short', found: 4 })
    expect(json).toMatchObject({
      instead: [],
      without: [{ part: { number: 'P-1005' }, quantity: 2, why: expect.stringMatching(/\.$/) }],
    })
    const van = await vanOf(office)
    expect(van.lines.map((line) => [line.quantity, line.pulled])).toEqual([[4, 4]])
    expect(van.shortages.map((each) => each.quantity)).toEqual([2])
    await askAs(office, 'Ines')('pull/confirm', { pullId: van.pullId })
    expect(await held(tx)).toEqual({ 'van 1': 4 })
    const shortages = await tx.selectFrom('pull_shortages').select(['pull_id', 'quantity']).execute()
    expect(shortages).toEqual([{ pull_id: van.pullId, quantity: 2 }])
  })

  test('PICK-24 spoilt pieces go to quarantine with the reason, and good ones are promised in their place', async () => {
    const office = await anOffice(await open())
    const { tx } = await anOpenPull(office, 1)
    const van = await vanOf(office)
    await askAs(office, 'Ines')('pull/tick', { pullId: van.pullId, lineId: van.lines[0]?.lineId, pulled: 5 })
    expect(await foundOn(office, { kind: 'damaged', damaged: 1, what: 'cracked housing' })).toMatchObject({
      json: {
        sentence: '1 of Sediment filter, lot early, from A-02-1 set aside in quarantine.',
        instead: [{ bin: 'B-01-1', quantity: 1 }],
        without: [],
      },
    })
    expect(linesIn(await vanOf(office)).map(([bin, , quantity, pulled]) => [bin, quantity, pulled])).toEqual([
      ['A-02-1', 5, 5],
      ['B-01-1', 1, null],
    ])
    expect(await held(tx)).toEqual({ 'A-02-1': 5, 'B-01-1': 1, quarantine: 1 })
    const moved = await tx
      .selectFrom('movements')
      .select(['reason', 'note', 'by_whom'])
      .where('reason', '=', 'move')
      .execute()
    expect(moved).toEqual([{ reason: 'move', note: 'damaged: cracked housing', by_whom: 'Ines' }])
    await nothingPromisedTwice(tx)
  })

  test('PICK-24 where the bin holds more of the lot, the line asks for as many as before', async () => {
    const office = await anOffice(await open())
    const { tx, filter, near } = await anOpenPull(office, 0)
    await moreOf(tx, filter, near, 4)
    await foundOn(office, { kind: 'damaged', damaged: 2, what: '' })
    const van = await vanOf(office)
    expect(van.lines.reduce((sum, line) => sum + line.quantity, 0)).toBe(6)
    expect(van.shortages).toEqual([])
    await nothingPromisedTwice(tx)
  })

  test('PICK-25 pieces that lie in another bin are ticked from there, and the books move them', async () => {
    const office = await anOffice(await open())
    const { tx, first, other } = await anOpenPull(office, 0)
    expect(await foundOn(office, { kind: 'elsewhere', lotId: first, placeId: other, quantity: 2 })).toMatchObject({
      json: { sentence: '2 of Sediment filter taken from B-01-1, lot early, instead of lot early in A-02-1.' },
    })
    expect(linesIn(await vanOf(office))).toEqual([
      ['A-02-1', 'early', 4, null, [1, 2]],
      ['B-01-1', 'early', 2, 2, [3]],
    ])
    expect(await held(tx)).toEqual({ 'A-02-1': 4, 'B-01-1': 2 })
    await nothingPromisedTwice(tx)
  })

  test('PICK-25 another lot that lies there is ticked in its place; one that is promised, past its date or of another part is not', async () => {
    const office = await anOffice(await open())
    const { tx, second, other, filter } = await anOpenPull(office, 5)
    const old = await aLot(tx, { partId: filter, code: 'old', expiresOn: '2026-12-01', placeId: other, pieces: 3 })
    const ring = await aPart(tx, 'P-9001')
    const rings = await aLot(tx, { partId: ring, code: 'R', placeId: other, pieces: 3 })
    const take = (lotId: unknown, quantity: number) =>
      foundOn(office, { kind: 'elsewhere', lotId, placeId: other, quantity })
    expect(await take(old, 1)).toMatchObject({ status: 422, json: { data: { code: 'PULL_LOT_EXPIRED' } } })
    expect(await take(rings, 1)).toMatchObject({ status: 422, json: { data: { code: 'PULL_FOUND_OTHER_PART' } } })
    expect(await take(second, 7)).toMatchObject({ status: 422, json: { data: { code: 'PULL_FOUND_TOO_MANY' } } })
    expect(await take(second, 6)).toMatchObject({ status: 200 })
    expect(linesIn(await vanOf(office))).toEqual([['B-01-1', 'late', 6, 6, [1, 2, 3]]])
    expect(await held(tx)).toEqual({ 'A-02-1': 6, 'B-01-1': 6 + 3 + 3 })
    await nothingPromisedTwice(tx)
  })

  test('PICK-23 what another van was promised from an empty bin is planned anew, too', async () => {
    const office = await anOffice(await open())
    const { tx, filter, other } = await anOpenPull(office, 0, 8)
    const two = await aVan(tx, 'van 2', 'Bram T.')
    const siteId = await aHousehold(tx, 'Galbraith')
    await aBookedVisit(tx, { siteId, technicianId: two.technicianId, on: ON, from: 900, needs: [[filter, 2]] })
    await office.ask('pull/begin', { on: ON, vanIds: [two.vanId] })
    expect(linesIn(await vanOf(office, 'van 2'))).toEqual([['A-02-1', 'early', 2, null, [1]]])
    await aLot(tx, { partId: filter, code: 'fresh', expiresOn: '2029-01-31', placeId: other, pieces: 9 })
    await foundOn(office, { kind: 'short', found: 1 })
    expect(linesIn(await vanOf(office, 'van 2'))).toEqual([['B-01-1', 'fresh', 2, null, [1]]])
    expect(linesIn(await vanOf(office)).map(([bin, , quantity]) => [bin, quantity])).toEqual([
      ['A-02-1', 1],
      ['B-01-1', 5],
    ])
    expect(await held(tx)).toEqual({ 'A-02-1': 1, 'B-01-1': 9 })
    await nothingPromisedTwice(tx)
  })

  test('PICK-26 a line that was changed meanwhile is not touched unseen, and found is booked once', async () => {
    const office = await anOffice(await open())
    await anOpenPull(office, 10)
    const van = await vanOf(office)
    const [line] = van.lines
    const at = { pullId: van.pullId, lineId: line?.lineId }
    const seen = { quantity: 6, pulled: null }
    await askAs(office, 'Ines')('pull/tick', { ...at, pulled: 2, seen })
    expect(await askAs(office, 'Otto')('pull/tick', { ...at, pulled: 6, seen })).toMatchObject({
      status: 422,
      json: {
        data: {
          code: 'PULL_LINE_CHANGED',
          sentence: 'This line was changed meanwhile by Ines: 2 of 6 are ticked.',
        },
      },
    })
    expect(await askAs(office, 'Otto')('pull/tick', { ...at, pulled: 2, seen })).toMatchObject({ status: 200 })
    expect((await vanOf(office)).lines[0]).toMatchObject({ pulled: 2, pulledBy: 'Ines' })
    const finding = { kind: 'short', found: 4 }
    expect(await office.ask('pull/found', { ...at, finding })).toMatchObject({ status: 200 })
    expect(await office.ask('pull/found', { ...at, finding })).toMatchObject({
      status: 422,
      json: { data: { code: 'PULL_LINE_GONE' } },
    })
    const findings = (await office.ask('pull/findings', { pullId: van.pullId })).json
    expect(findings).toMatchObject([{ kind: 'short', quantity: 2, place: 'A-02-1', lot: 'early' }])
  })
})

/** A delivery of another lot of the same date into the same bin, promised to nobody. */
async function moreOf(tx: WriteDb, partId: PartId, placeId: PlaceId, pieces: number): Promise<void> {
  await aLot(tx, { partId, code: 'more', expiresOn: '2027-01-31', placeId, pieces })
}
