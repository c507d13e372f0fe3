import { describe, expect, test } from 'vitest'
import type { PullDay } from '../../core/stock/pull-contract.ts'
import type { VisitId } from '../../core/units/ids.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases, isRealPostgres } from '../data/each-database.ts'

const ON = '2026-12-02'

/** Two vans of one visit each, both in want of three pieces; five lie in two lots, one more of a consumable at each visit. */
async function aDay(office: AnOffice) {
  const tx = office.database.write
  const filter = await aPart(tx, 'P-1005')
  const ring = await aPart(tx, 'P-9001', { perVisit: 1 })
  const [bin, far] = [await aPlace(tx, 'A-02-1', 10), await aPlace(tx, 'B-01-1', 20)]
  await aLot(tx, { partId: filter, code: 'late', expiresOn: '2028-01-31', placeId: bin, pieces: 3 })
  await aLot(tx, { partId: filter, code: 'early', expiresOn: '2027-01-31', placeId: far, pieces: 2 })
  await aLot(tx, { partId: ring, code: 'R', placeId: bin, pieces: 10 })
  const [one, two] = [await aVan(tx, 'van 1', 'Ilse R.'), await aVan(tx, 'van 2', 'Bram T.')]
  const siteId = await aHousehold(tx, 'Abernathy-Vance, Corinne')
  const visit = (technicianId: typeof one.technicianId, from: number) =>
    aBookedVisit(tx, { siteId, technicianId, on: ON, from, needs: [[filter, 3]] })
  const visits: VisitId[] = [await visit(one.technicianId, 480), await visit(two.technicianId, 600)]
  return { tx, filter, ring, bin, one, two, visits }
}

async function dayOf(office: AnOffice): Promise<PullDay> {
  return (await office.ask('pull/day', { on: ON })).json as PullDay
}

async function tickAll(office: AnOffice, van: string) {
  const row = (await dayOf(office)).vans.find((each) => each.van === van)
  for (const line of row?.lines ?? [])
    await office.ask('pull/tick', { pullId: row?.pullId, lineId: line.lineId, pulled: line.quantity })
  return row?.pullId
}

describe.each(databases)('pulls on $name', ({ open }) => {
  test('PICK-3 PICK-7 PICK-8 PICK-10 the day is planned from the books, by van and walk, with shortages by visit', async () => {
    const office = await anOffice(await open())
    await aDay(office)
    const day = await dayOf(office)
    expect(day.vans.map((van) => [van.van, van.state, van.stops])).toEqual([
      ['van 1', 'not-begun', 1],
      ['van 2', 'not-begun', 1],
    ])
    const lines = (index: number) => day.vans[index]?.lines.map((line) => [line.bin, line.lot, line.quantity])
    expect(lines(0)).toEqual([
      ['A-02-1', 'late', 1],
      ['A-02-1', 'R', 1],
      ['B-01-1', 'early', 2],
    ])
    expect(lines(1)).toEqual([])
    expect(day.vans[1]?.shortages.map((each) => [each.part.number, each.quantity, each.totes[0]?.household])).toEqual([
      ['P-1005', 1, 'Abernathy-Vance, Corinne'],
    ])
    expect(day.vans[1]?.losers.map((each) => [each.stop, each.couldHave, each.reason])).toEqual([
      [1, 3, 'Part P-1005 P-1005 is 1 short. Served instead: Abernathy-Vance, Corinne. None is on order.'],
    ])
    expect((await office.ask('pull/nextDay')).json).toEqual({ on: ON, visits: 2, vans: 2 })
  })

  test('PICK-11 a tick stays; confirming moves what was ticked, frees the rest, and is done once', async () => {
    const office = await anOffice(await open())
    const { tx, one } = await aDay(office)
    expect(await office.ask('pull/begin', { on: ON, vanIds: [one.vanId] })).toMatchObject({ status: 200 })
    const open1 = (await dayOf(office)).vans[0]
    const [first, second] = open1?.lines ?? []
    const tick = (lineId: unknown, pulled: number) => office.ask('pull/tick', { pullId: open1?.pullId, lineId, pulled })
    expect(await office.ask('pull/confirm', { pullId: open1?.pullId })).toMatchObject({
      status: 422,
      json: { data: { code: 'PULL_NOTHING_TICKED' } },
    })
    expect(await tick(first?.lineId, 9)).toMatchObject({ status: 422, json: { data: { code: 'PULL_TICK_TOO_MANY' } } })
    await tick(first?.lineId, 1)
    await tick(second?.lineId, 1)
    expect((await dayOf(office)).vans[0]?.lines.map((line) => line.pulled)).toEqual([1, 1, null])
    expect((await office.ask('pull/confirm', { pullId: open1?.pullId })).json).toMatchObject({ pieces: 2, released: 2 })
    expect(await held(tx)).toEqual({ 'A-02-1': 11, 'B-01-1': 2, 'van 1': 2 })
    expect(await office.ask('pull/confirm', { pullId: open1?.pullId })).toMatchObject({
      status: 422,
      json: { data: { code: 'PULL_CONFIRMED' } },
    })
    expect(await held(tx)).toMatchObject({ 'van 1': 2 })
    const after = (await dayOf(office)).vans[0]
    expect([after?.state, after?.more, after?.lines.length]).toEqual(['ready', 2, 2])
  })

  test('PICK-12 a pull that was taken back promises nothing and cannot be ticked', async () => {
    const office = await anOffice(await open())
    const { one } = await aDay(office)
    await office.ask('pull/begin', { on: ON, vanIds: [one.vanId] })
    const [open1] = (await dayOf(office)).vans
    expect(await office.ask('stock/parts')).toMatchObject({ json: [{ number: 'P-1005', promised: 3 }, {}] })
    expect(await office.ask('pull/takeBack', { pullId: open1?.pullId })).toMatchObject({ status: 200 })
    expect(await office.ask('stock/parts')).toMatchObject({ json: [{ number: 'P-1005', promised: 0 }, {}] })
    expect(
      await office.ask('pull/tick', { pullId: open1?.pullId, lineId: open1?.lines[0]?.lineId, pulled: 1 }),
    ).toMatchObject({ status: 422, json: { data: { code: 'PULL_TAKEN_BACK' } } })
    expect(await office.ask('pull/begin', { on: ON, vanIds: [one.vanId] })).toMatchObject({ status: 200 })
  })

  test('PICK-9 what van 1 was promised, van 2 does not get, not even when both press at the same time', async () => {
    const office = await anOffice(await open())
    const { tx, filter, bin, one, two } = await aDay(office)
    await aLot(tx, { partId: filter, code: 'third', placeId: bin, pieces: 1 })
    const asks = [one.vanId, two.vanId, one.vanId, two.vanId].map((vanId) =>
      office.ask('pull/begin', { on: ON, vanIds: [vanId] }),
    )
    const answers = isRealPostgres ? await Promise.all(asks) : await inTurn(asks)
    expect(answers.map((answer) => answer.status).sort()).toEqual([200, 200, 422, 422])
    const promised = await tx
      .selectFrom('pull_lines as l')
      .innerJoin('pulls as p', 'p.id', 'l.pull_id')
      .innerJoin('balances as b', (join) =>
        join.onRef('b.lot_id', '=', 'l.lot_id').onRef('b.place_id', '=', 'l.place_id'),
      )
      .select((each) => ['l.lot_id as lot', 'b.quantity as there', each.fn.sum<number>('l.quantity').as('promised')])
      .where('p.state', '=', 'open')
      .groupBy(['l.lot_id', 'b.quantity'])
      .execute()
    expect(promised).toHaveLength(4)
    for (const row of promised) expect(Number(row.promised)).toBeLessThanOrEqual(row.there)
  })

  test('PICK-9 what lies on a van for a visit to come is promised to it', async () => {
    const office = await anOffice(await open())
    const { tx, filter, one } = await aDay(office)
    await office.ask('pull/begin', { on: ON, vanIds: [one.vanId] })
    await office.ask('pull/confirm', { pullId: await tickAll(office, 'van 1') })
    const siteId = await aHousehold(tx, 'Castellane, Wilhelmina')
    await aBookedVisit(tx, { siteId, technicianId: one.technicianId, on: '2026-12-03', needs: [[filter, 1]] })
    const next = (await office.ask('pull/day', { on: '2026-12-03' })).json as PullDay
    expect(next.vans[0]?.aboard).toEqual([])
    expect(next.vans[0]?.lines.map((line) => line.bin)).toEqual(['A-02-1', 'A-02-1'])
  })

  test('PICK-13 a visit that is called off or moved gives back what was promised to it', async () => {
    const office = await anOffice(await open())
    const { tx, one, visits } = await aDay(office)
    await office.ask('pull/begin', { on: ON, vanIds: [one.vanId] })
    const [visitId] = visits
    if (!visitId) throw new Error('The test expects a visit')
    await office.desk().write(async (books) => {
      await books.tx.updateTable('visits').set({ state: 'cancelled' }).where('id', '=', visitId).execute()
      const site = await books.tx
        .selectFrom('visits')
        .select('site_id')
        .where('id', '=', visitId)
        .executeTakeFirstOrThrow()
      return books.happened({ kind: 'visit-cancelled', visitId, siteId: site.site_id })
    })
    expect(await tx.selectFrom('pull_lines').select('id').execute()).toEqual([])
    const day = await dayOf(office)
    expect(day.vans.find((van) => van.van === 'van 2')?.shortages).toEqual([])
  })

  test('PICK-11 nothing is pulled for a day that is past, and for a van without visits there is nothing', async () => {
    const office = await anOffice(await open())
    const { tx, one } = await aDay(office)
    const idle = await aVan(tx, 'van 9', 'Otto K.')
    expect(await office.ask('pull/begin', { on: '2026-11-30', vanIds: [one.vanId] })).toMatchObject({
      json: { data: { code: 'PULL_DATE_PAST' } },
    })
    expect(await office.ask('pull/begin', { on: ON, vanIds: [idle.vanId] })).toMatchObject({
      json: { data: { code: 'PULL_NOTHING_TO_PULL' } },
    })
  })
})

async function inTurn<T>(asks: readonly Promise<T>[]): Promise<T[]> {
  const answers: T[] = []
  for (const ask of asks) answers.push(await ask)
  return answers
}
