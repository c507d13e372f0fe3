import { describe, expect, test } from 'vitest'
import type { PullDay } from '../../core/stock/pull-contract.ts'
import { timeOfDay } from '../../core/units/time-of-day.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const ON = '2026-12-02'

/** Two vans with a visit each; both want two filters, three are there. The second household has our word. */
async function aShortDay(office: AnOffice) {
  const tx = office.database.write
  const filter = await aPart(tx, 'P-1005', { name: 'Carbon block' })
  const ring = await aPart(tx, 'P-9001', { name: 'O-ring', perVisit: 1, vanPar: 3, space: 100 })
  const bin = await aPlace(tx, 'A-02-1', 10)
  await aLot(tx, { partId: filter, code: 'F', expiresOn: '2027-01-31', placeId: bin, pieces: 3 })
  await aLot(tx, { partId: ring, code: 'R', placeId: bin, pieces: 20 })
  const [one, two] = [await aVan(tx, 'van 1', 'Ilse R.'), await aVan(tx, 'van 2', 'Bram T.')]
  const [ashgrove, fenwick] = [await aHousehold(tx, 'Ashgrove, Pell'), await aHousehold(tx, 'Fenwick, Oda')]
  const visit = (siteId: typeof ashgrove, technicianId: typeof one.technicianId) =>
    aBookedVisit(tx, { siteId, technicianId, on: ON, needs: [[filter, 2]] })
  const loses = await visit(ashgrove, one.technicianId)
  const wins = await visit(fenwick, two.technicianId)
  await tx.updateTable('visits').set({ promised: 1 }).where('id', '=', wins).execute()
  return { tx, filter, ring, bin, one, two, loses, wins }
}

async function vanOf(office: AnOffice, name: string) {
  const day = (await office.ask('pull/day', { on: ON })).json as PullDay
  const van = day.vans.find((each) => each.van === name)
  if (!van) throw new Error(`The test expects ${name}`)
  return van
}

describe.each(databases)('whole visits on $name', ({ open }) => {
  test('PICK-8 PICK-15 PICK-16 a visit that loses gets nothing and the reason; what there is goes to it when that is asked for', async () => {
    const office = await anOffice(await open())
    const { filter, one, two, loses } = await aShortDay(office)
    const before = await vanOf(office, 'van 1')
    expect(before.losers).toMatchObject([
      {
        household: 'Ashgrove, Pell',
        reason: 'Carbon block P-1005 is 1 short. Served instead: Fenwick, Oda, has our word. None is on order.',
        lacks: [{ missing: 1, servedInstead: [{ household: 'Fenwick, Oda', quantity: 2 }] }],
        pulledAllTheSame: 0,
        couldHave: 2,
      },
    ])
    expect(before.lines.map((line) => [line.part.number, line.quantity, line.forPar])).toEqual([['P-9001', 3, true]])
    const begun = await office.ask('pull/begin', { on: ON, vanIds: [one.vanId, two.vanId], evenIfShort: [loses] })
    expect(begun.json).toMatchObject([{ van: 'van 1' }, { van: 'van 2' }])
    const after = await vanOf(office, 'van 1')
    expect(after.lines.map((line) => [line.part.number, line.quantity, line.forPar, line.totes.length])).toEqual([
      ['P-1005', 1, false, 1],
      ['P-9001', 1, false, 1],
      ['P-9001', 3, true, 0],
    ])
    expect(after.losers).toMatchObject([{ pulledAllTheSame: 2, couldHave: 0, lacks: [{ missing: 1 }] }])
    expect(after.shortages).toMatchObject([{ part: { partId: filter }, quantity: 1 }])
    expect([after.more, (await vanOf(office, 'van 2')).lines.map((line) => line.quantity)]).toEqual([0, [2, 1, 3]])
  })

  test('PICK-31 what the office counts decides who goes without, at the next look; back to the usual value the first one does again', async () => {
    const office = await anOffice(await open())
    const { tx, loses } = await aShortDay(office)
    await tx
      .updateTable('visits')
      .set({ window_from: timeOfDay(420) })
      .where('id', '=', loses)
      .execute()
    const without = async () => {
      const { vans } = (await office.ask('pull/day', { on: ON })).json as PullDay
      return vans.flatMap((van) => van.losers.map((loser) => loser.household))
    }
    const word = (from: number, to: number | null) =>
      office.ask('settings/change', { name: 'shortOurWordPoints', from, to })
    expect(await without()).toEqual(['Ashgrove, Pell'])
    // Our word counts nothing: of equals the earlier in the day is served.
    expect((await word(300, 0)).status).toBe(200)
    expect(await without()).toEqual(['Fenwick, Oda'])
    expect((await word(0, null)).status).toBe(200)
    expect(await without()).toEqual(['Ashgrove, Pell'])
  })

  test('PICK-17 PICK-18 vans are topped up within their room, a van’s own par before the part’s, and not twice', async () => {
    const office = await anOffice(await open())
    const { tx, ring, two } = await aShortDay(office)
    const saved = await office.ask('stock/saveVan', {
      vanId: two.vanId,
      version: 1,
      name: 'van 2',
      technicianId: two.technicianId,
      roomMillilitres: 450,
      pars: [{ partId: ring, par: 6 }],
      inUse: true,
    })
    expect(saved).toMatchObject({ status: 200 })
    const planned = await vanOf(office, 'van 2')
    expect(planned.lines.map((line) => [line.part.number, line.quantity, line.forPar])).toEqual([
      ['P-1005', 2, false],
      ['P-9001', 1, false],
      ['P-9001', 3, true],
    ])
    expect(planned.room).toEqual({ has: 450, taken: 400 })
    expect(planned.parLeftOut).toMatchObject([{ part: { number: 'P-9001' }, quantity: 3, why: 'no-room' }])
    await office.ask('pull/begin', { on: ON, vanIds: [two.vanId] })
    const open2 = await vanOf(office, 'van 2')
    expect([open2.more, open2.room]).toEqual([0, { has: 450, taken: 400 }])
    for (const line of open2.lines)
      await office.ask('pull/tick', { pullId: open2.pullId, lineId: line.lineId, pulled: line.quantity })
    expect((await office.ask('pull/confirm', { pullId: open2.pullId })).json).toMatchObject({ pieces: 6 })
    expect(await held(tx)).toMatchObject({ 'van 2': 6 })
    expect((await vanOf(office, 'van 2')).more).toBe(0)
  })

  test('PICK-6 a stage that takes its own part only is not served with another', async () => {
    const office = await anOffice(await open())
    const { tx, filter, bin, loses } = await aShortDay(office)
    const other = await aPart(tx, 'P-1006', { name: 'Carbon block, long' })
    await aLot(tx, { partId: other, code: 'O', placeId: bin, pieces: 5 })
    const office_id = 1 as never
    await tx
      .insertInto('part_substitutes')
      .values({ office_id, part_id: filter, substitute_id: other, rank: 1 })
      .execute()
    const site = await tx.selectFrom('visits').select('site_id').where('id', '=', loses).executeTakeFirstOrThrow()
    const unit = await office.ask('installations/create', {
      siteId: site.site_id,
      fields: {
        name: 'Under the sink',
        fittedOn: null,
        recoveryPercent: null,
        people: null,
        drunkPerDay: null,
        ownMonths: null,
        note: '',
      },
      stages: [
        {
          stageId: null,
          kind: 'carbon',
          label: '',
          partId: filter,
          ownPartOnly: true,
          changedOn: null,
          ownMonths: null,
          ownDueOn: null,
          ownDueNote: '',
          ownDueEndsOn: null,
        },
      ],
    })
    expect(unit.status).toBe(200)
    const stage = await tx.selectFrom('stages').select(['id', 'own_part_only']).executeTakeFirstOrThrow()
    expect(stage.own_part_only).toBe(1)
    expect((await vanOf(office, 'van 1')).losers).toEqual([])
    await tx
      .updateTable('visit_tasks')
      .set({ stage_id: stage.id, kind: 'change' })
      .where('visit_id', '=', loses)
      .execute()
    expect((await vanOf(office, 'van 1')).losers).toMatchObject([])
    expect((await vanOf(office, 'van 2')).lines.find((line) => line.insteadOf !== null)?.part.number).toBe('P-1006')
    expect((await vanOf(office, 'van 1')).lines.every((line) => line.insteadOf === null)).toBe(true)
  })
})
