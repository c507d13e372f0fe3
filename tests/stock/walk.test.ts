import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { aislesOf, moved, placeOfNewBin, turned, upAndDown, type WalkBin, walkOrders } from '../../core/stock/walk.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { placeIdSchema } from '../../core/units/ids.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const bin = (id: number, name: string): WalkBin => ({ placeId: placeIdSchema.parse(id), name, aisle: name.slice(0, 1) })
const names = (aisles: readonly { bins: readonly WalkBin[] }[]): string =>
  aisles.map((aisle) => aisle.bins.map((each) => each.name).join(' ')).join(' | ')
const WALK = [bin(1, 'A-1'), bin(2, 'A-2'), bin(3, 'B-2'), bin(4, 'A-10'), bin(5, 'B-1'), bin(6, 'C-1')]

test('STK-38 an aisle stands where its first bin is passed, is moved whole, and can be walked from its other end', () => {
  const aisles = aislesOf(WALK)
  expect(names(aisles)).toBe('A-1 A-2 A-10 | B-2 B-1 | C-1')
  expect(names(moved(aisles, 2, 0))).toBe('C-1 | A-1 A-2 A-10 | B-2 B-1')
  expect(names(moved(aisles, 0, 1))).toBe('B-2 B-1 | A-1 A-2 A-10 | C-1')
  expect(names(moved(aisles, 0, 3))).toBe(names(aisles))
  expect(names(aisles.map(turned))).toBe('A-10 A-2 A-1 | B-1 B-2 | C-1')
  expect(names(upAndDown(moved(aisles, 2, 0)))).toBe('C-1 | A-10 A-2 A-1 | B-1 B-2')
})

test('STK-38 every bin keeps a place of its own in the walk, in the order of the aisles, whatever is moved', () => {
  const anyWalk = fc.uniqueArray(fc.integer({ min: 1, max: 60 }), { maxLength: 20 })
  fc.assert(
    fc.property(anyWalk, fc.nat(20), fc.nat(20), (ids, from, to) => {
      const bins = ids.map((id) => bin(id, `${'ABC'[id % 3]}-${id}`))
      const aisles = moved(aislesOf(bins), from, to)
      const orders = walkOrders(aisles)
      expect([...orders.keys()].toSorted()).toEqual(bins.map((each) => each.placeId).toSorted())
      const walked = bins.toSorted((a, b) => (orders.get(a.placeId) ?? 0) - (orders.get(b.placeId) ?? 0))
      expect(walked).toEqual(aisles.flatMap((aisle) => aisle.bins))
      expect(new Set(orders.values()).size).toBe(bins.length)
      // An aisle is walked in one go.
      const turns = walked.filter((each, place) => each.aisle !== walked[place - 1]?.aisle).length
      expect(turns).toBe(new Set(bins.map((each) => each.aisle)).size)
    }),
  )
})

test('STK-38 a new bin comes behind the last of its aisle, the first of an aisle at the end', () => {
  const bins = [
    { aisle: 'A', walkOrder: 10 },
    { aisle: 'A', walkOrder: 20 },
    { aisle: 'B', walkOrder: 30 },
  ]
  expect([placeOfNewBin(bins, 'A'), placeOfNewBin(bins, 'C'), placeOfNewBin([], 'A')]).toEqual([21, 40, 10])
})

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code

describe.each(databases)('the walk on $name', ({ open }) => {
  test('STK-38 the pull follows the walk as it was drawn; one that was drawn meanwhile is not written over', async () => {
    const office = await anOffice(await open())
    const tx = office.database.write
    const [a, b, c] = [await aPlace(tx, 'A-1', 10), await aPlace(tx, 'B-1', 20), await aPlace(tx, 'C-1', 20)]
    const partId = await aPart(tx, 'P-1005')
    for (const [placeId, code] of [
      [a, '1'],
      [b, '2'],
      [c, '3'],
    ] as const)
      await aLot(tx, { partId, code, expiresOn: `202${code}-12-31`.replace('202', '203'), placeId, pieces: 1 })
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const siteId = await aHousehold(tx, 'Ashgrove Dental')
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: '2026-12-02', needs: [[partId, 3]] })
    const shelf = async () => {
      const day = (await office.ask('pull/day', { on: '2026-12-02' })).json as { vans: { lines: { bin: string }[] }[] }
      return day.vans[0]?.lines.map((line) => line.bin)
    }
    expect(await shelf()).toEqual(['A-1', 'B-1', 'C-1'])
    const walk = (await office.ask('walk/bins')).json as { placeId: number; pieces: number }[]
    expect(walk.map((each) => [each.placeId, each.pieces])).toEqual([
      [a, 1],
      [b, 1],
      [c, 1],
    ])
    const save = (seen: number[], bins: number[]) => office.ask('walk/save', { seen, bins })
    expect((await save([a, b, c], [c, a, b])).json).toMatchObject({ moved: 3 })
    expect(await shelf()).toEqual(['C-1', 'A-1', 'B-1'])
    expect(code(await save([a, b, c], [b, c, a]))).toBe('WALK_CHANGED')
    expect(code(await save([c, a, b], [c, a]))).toBe('WALK_CHANGED')
    expect(code(await save([c, a, b], [c, a, a]))).toBe('WALK_CHANGED')
    expect((await save([c, a, b], [c, a, b])).json).toMatchObject({ moved: 0 })
  })

  test('STK-38 a bin that is added without a place in the walk comes behind its aisle', async () => {
    const office = await anOffice(await open())
    const add = (name: string, aisle: string, walkOrder: number) =>
      office.ask('stock/saveBin', { placeId: null, version: null, kind: 'bin', name, aisle, walkOrder, inUse: true })
    for (const [name, aisle, walkOrder] of [
      ['A-1', 'A', 0],
      ['B-1', 'B', 0],
      ['A-2', 'A', 0],
      ['C-1', 'C', 5],
    ] as const)
      expect((await add(name, aisle, walkOrder)).status).toBe(200)
    const walk = (await office.ask('walk/bins')).json as { name: string }[]
    expect(walk.map((each) => each.name)).toEqual(['C-1', 'A-1', 'A-2', 'B-1'])
  })

  test('STK-37 a delivery is told where to go, from what lies in the bins', async () => {
    const office = await anOffice(await open())
    const tx = office.database.write
    const [filter, other] = [await aPart(tx, 'P-1005'), await aPart(tx, 'P-9')]
    const [a, b, c, d] = [
      await aPlace(tx, 'A-1', 10),
      await aPlace(tx, 'A-2', 20),
      await aPlace(tx, 'B-1', 30),
      await aPlace(tx, 'B-2', 40),
    ]
    const suggest = async (own: object) =>
      (
        (await office.ask('putAway/suggest', { partId: filter, lot: '2608-114', expiresOn: '2028-08-31', ...own }))
          .json as { words: string }[]
      ).map((each) => each.words)
    expect(await suggest({})).toEqual(['A-1: the first free bin of the walk.', 'A-2: free.'])
    await aLot(tx, { partId: filter, code: '2508-001', expiresOn: '2027-08-31', placeId: b, pieces: 3 })
    await aLot(tx, { partId: other, code: 'x', placeId: a, pieces: 9 })
    for (const [part, place] of [
      [other, c],
      [filter, d],
    ] as const)
      await tx
        .insertInto('part_bins')
        .values({ office_id: FIRST_OFFICE, part_id: part, place_id: place, rank: 1 })
        .execute()
    expect(await suggest({})).toEqual([
      'B-2: its usual bin.',
      'A-2: lot 2508-001 of it lies there; 2508-001 expires first and stays in front.',
    ])
    await tx
      .updateTable('places')
      .set({ closed_on: calendarDate('2026-11-01') })
      .where('id', '=', d)
      .execute()
    expect((await suggest({ lot: '2508-001' }))[0]).toBe('A-2: lot 2508-001 lies there already, 3 pieces.')
  })

  test('STK-39 a part’s GTIN adds up and is its own; what stood there before is left alone', async () => {
    const office = await anOffice(await open())
    const tx = office.database.write
    const partId = await aPart(tx, 'P-1005')
    const fields = {
      number: 'P-9',
      name: 'Gasket',
      stageKind: null,
      gtin: '',
      price: 100,
      cost: 50,
      taxFree: false,
      ratedMillilitres: null,
      shelfMonths: null,
      fitMinutes: null,
      perVisitQuantity: 0,
      leastToKeep: null,
      serviceLevelPercent: null,
      vanPar: 0,
      spaceMillilitres: null,
      note: '',
      closedOn: null,
    }
    const save = (gtin: string, own: object = {}) =>
      office.ask('stock/savePart', {
        partId: null,
        version: null,
        fields: { ...fields, gtin, ...own },
        substitutes: [],
        bins: [],
      })
    expect((await save('6291041500214')).json).toMatchObject({
      data: { sentence: 'The GTIN 6291041500214 does not add up: its last figure would be 3.' },
    })
    await tx.updateTable('parts').set({ gtin: '036000241457' }).where('id', '=', partId).execute()
    expect(code(await save('0036000241457'))).toBe('GTIN_TAKEN')
    expect((await save('6291041500213')).status).toBe(200)
    await tx.updateTable('parts').set({ gtin: 'old' }).where('id', '=', partId).execute()
    const old = { partId, version: 1, substitutes: [], bins: [] }
    const again = { ...fields, number: 'P-1005', gtin: 'old' }
    expect((await office.ask('stock/savePart', { ...old, fields: again })).status).toBe(200)
  })
})
