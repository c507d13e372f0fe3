import { describe, expect, test } from 'vitest'
import { type PullDay, scanSaidSchema } from '../../core/stock/pull-contract.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { askAs } from '../builders/ask-as.ts'
import { databases, isRealPostgres } from '../data/each-database.ts'

const ON = '2026-12-02'
/** The example of the GS1 General Specifications. */
const GTIN = '6291041500213'

/** An open pull of one van: three filters with a maker's number in one bin, for one stop. */
async function anOpenPull(office: AnOffice) {
  const tx = office.database.write
  const filter = await aPart(tx, 'P-1005', { name: 'Sediment filter' })
  // Kept in 14 digits, scanned in 13.
  await tx
    .updateTable('parts')
    .set({ gtin: `0${GTIN}` })
    .where('id', '=', filter)
    .execute()
  const bin = await aPlace(tx, 'A-02-1', 10)
  await aPlace(tx, 'C-01-1', 30)
  await aLot(tx, { partId: filter, code: '2608-114', expiresOn: '2028-08-31', placeId: bin, pieces: 3 })
  const tank = await aPart(tx, 'P-3032', { name: 'Tank' })
  const tanks = await aLot(tx, { partId: tank, code: 'T-1', placeId: bin, pieces: 3 })
  const van = await aVan(tx, 'van 1', 'Ilse R.')
  const siteId = await aHousehold(tx, 'Abernathy')
  await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: ON, needs: [[filter, 3]] })
  await office.ask('pull/begin', { on: ON, vanIds: [van.vanId] })
  const { vans } = (await office.ask('pull/day', { on: ON })).json as PullDay
  return { tx, van, tanks, pullId: vans[0]?.pullId, lineId: vans[0]?.lines[0]?.lineId }
}

async function scanned(office: AnOffice, pullId: unknown, typed: string, who = 'Ines', ticks = 'piece') {
  const { json } = await askAs(office, who)('pull/scan', { pullId, typed, hand: null, ticks })
  return scanSaidSchema.parse(json)
}

describe.each(databases)('scans on $name', ({ open }) => {
  test('PICK-20 PICK-21 a scan is looked up in the books, ticks, and says who scanned', async () => {
    const office = await anOffice(await open())
    const { tx, pullId, tanks } = await anOpenPull(office)
    expect(await scanned(office, pullId, 'A-02-1')).toMatchObject({
      kind: 'hand',
      sentence: 'At A-02-1: 3 of Sediment filter, lot 2608-114.',
    })
    expect(await scanned(office, pullId, GTIN)).toMatchObject({
      kind: 'ticked',
      sentence: '1 of 3: Sediment filter, lot 2608-114. Tote 1.',
    })
    expect((await scanned(office, pullId, 'C-01-1')).sentence).toBe('Nothing on this list lies in C-01-1.')
    expect((await scanned(office, pullId, 't-1')).code).toBe('PULL_SCAN_OTHER_PART')
    expect((await scanned(office, pullId, '++T-1')).code).toBe('PULL_SCAN_OTHER_PART')
    expect((await scanned(office, pullId, 'P-3032+')).code).toBe('PULL_SCAN_OTHER_PART')
    expect((await scanned(office, pullId, 'P-1005+T-1')).code).toBe('PULL_SCAN_LOT_UNKNOWN')
    await tx
      .updateTable('lots')
      .set({ recalled_on: '2026-12-01' as never })
      .where('id', '=', tanks)
      .execute()
    expect((await scanned(office, pullId, 'T-1')).code).toBe('PULL_LOT_RECALLED')
    const { vans } = (await office.ask('pull/day', { on: ON })).json as PullDay
    expect(vans[0]?.lines[0]).toMatchObject({ pulled: 1, pulledBy: 'Ines', pulledAt: '2026-12-01T12:00:00.000Z' })
  })

  test('PICK-20 two who scan the same list at once are both counted, and never more than is asked for', async () => {
    const office = await anOffice(await open())
    const { pullId } = await anOpenPull(office)
    const people = ['Ines', 'Otto', 'Ines', 'Otto']
    const asks = people.map((who) => () => scanned(office, pullId, 'P-1005', who))
    const said = isRealPostgres ? await Promise.all(asks.map((ask) => ask())) : []
    if (!isRealPostgres) for (const ask of asks) said.push(await ask())
    expect(said.map((each) => each.code ?? each.kind).sort()).toEqual(['PULL_SCAN_OVER', 'ticked', 'ticked', 'ticked'])
    const { vans } = (await office.ask('pull/day', { on: ON })).json as PullDay
    expect(vans[0]?.lines[0]?.pulled).toBe(3)
  })

  test('PICK-28 a second time says who put it on the van and how long ago, and a scan then ticks nothing', async () => {
    const office = await anOffice(await open())
    const { tx, pullId } = await anOpenPull(office)
    await scanned(office, pullId, GTIN, 'Ines', 'line')
    expect(await askAs(office, 'Ines')('pull/confirm', { pullId })).toMatchObject({ status: 200, json: { pieces: 3 } })
    const sentence = 'This pull was put on van 1 already, just now, by Ines.'
    expect(await askAs(office, 'Otto')('pull/confirm', { pullId })).toMatchObject({
      status: 422,
      json: { data: { code: 'PULL_CONFIRMED', sentence } },
    })
    expect(await scanned(office, pullId, GTIN, 'Otto')).toMatchObject({ kind: 'no', sentence })
    expect(await held(tx)).toEqual({ 'A-02-1': 3, 'van 1': 3 })
  })

  test('PICK-21 a lot that was recalled or whose date was put right is not ticked by hand and not put on the van', async () => {
    const office = await anOffice(await open())
    const { tx, pullId, lineId } = await anOpenPull(office)
    await scanned(office, pullId, GTIN)
    await tx
      .updateTable('lots')
      .set({ expires_on: ON as never })
      .where('code', '=', '2608-114')
      .execute()
    expect(await office.ask('pull/tick', { pullId, lineId, pulled: 2 })).toMatchObject({ status: 200 })
    await tx
      .updateTable('lots')
      .set({ expires_on: '2026-12-01' as never })
      .where('code', '=', '2608-114')
      .execute()
    const bad = { status: 422, json: { data: { code: 'PULL_LOT_EXPIRED' } } }
    expect(await office.ask('pull/tick', { pullId, lineId, pulled: 3 })).toMatchObject(bad)
    expect(await office.ask('pull/confirm', { pullId })).toMatchObject(bad)
    expect(await held(tx)).toEqual({ 'A-02-1': 6 })
    expect(await office.ask('pull/tick', { pullId, lineId, pulled: null })).toMatchObject({ status: 200 })
  })

  test('PICK-11 a pull that was left open is come back to, also on the morning of its day', async () => {
    const books = await open()
    const { pullId } = await anOpenPull(await anOffice(books))
    const morning = await anOffice(books, ON, false)
    expect((await morning.ask('pull/nextDay')).json).toMatchObject({ on: ON, visits: 1 })
    expect(await morning.ask('pull/takeBack', { pullId })).toMatchObject({ status: 200 })
    expect((await morning.ask('pull/nextDay')).json).not.toMatchObject({ on: ON })
  })

  test('PICK-27 what a later pull of the day brings is not said to be lacking any more', async () => {
    const office = await anOffice(await open())
    const { tx, van, pullId } = await anOpenPull(office)
    await scanned(office, pullId, GTIN)
    await office.ask('pull/confirm', { pullId })
    const lacking = () => tx.selectFrom('pull_shortages').select(['pull_id', 'quantity']).execute()
    expect(await lacking()).toEqual([{ pull_id: pullId, quantity: 2 }])
    expect(await office.ask('pull/begin', { on: ON, vanIds: [van.vanId] })).toMatchObject({ status: 200 })
    const { vans } = (await office.ask('pull/day', { on: ON })).json as PullDay
    await scanned(office, vans[0]?.pullId, '2608-114', 'Ines', 'line')
    await office.ask('pull/confirm', { pullId: vans[0]?.pullId })
    expect(await lacking()).toEqual([])
    expect(await held(tx)).toEqual({ 'A-02-1': 3, 'van 1': 3 })
  })
})
