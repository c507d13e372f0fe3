import { describe, expect, test } from 'vitest'
import { readHeaps, readLots } from '../../core/stock/on-hand-on.ts'
import type { OnHand, OnTheWay } from '../../core/stock/stock-contract.ts'
import { type CalendarDate, calendarDate } from '../../core/units/calendar-date.ts'
import { aCountedWarehouse, aRound, countLots } from '../builders/a-counted-warehouse.ts'
import { aPlace, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { wordsOnPages } from '../judges/words-on-pages.ts'

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code
const sentence = (answer: { json: unknown }) => (answer.json as { data?: { sentence?: string } }).data?.sentence

async function onHandOn(office: AnOffice, on: string | null): Promise<Record<string, number>> {
  const { parts, lots, places, heaps } = (await office.ask('stock/onHand', { on })).json as OnHand
  const placeNames = new Map(places.map((place) => [place.placeId, place.name]))
  const partNumbers = new Map(parts.map((part) => [part.partId, part.number]))
  const named = new Map(readLots(lots).map((lot) => [lot.lotId, `${partNumbers.get(lot.partId)} ${lot.lot}`]))
  return Object.fromEntries(
    readHeaps(heaps).map((heap) => [`${named.get(heap.lotId)} in ${placeNames.get(heap.placeId)}`, heap.quantity]),
  )
}

/** Movements of other days, as though they had been written then. */
async function onDay(office: AnOffice, on: string, rows: readonly object[]): Promise<void> {
  const first = await office.database.write.selectFrom('offices').select('id').executeTakeFirstOrThrow()
  const bare = {
    office_id: first.id,
    reason: 'move',
    moved_at: '',
    by_whom: 'test',
    note: '',
    from_place_id: null,
    to_place_id: null,
  }
  for (const row of rows)
    await office.database.write
      .insertInto('movements')
      .values({ ...bare, moved_on: calendarDate(on) as CalendarDate, ...row } as never)
      .execute()
}

describe.each(databases)('where pieces are on $name', ({ open }) => {
  test('STK-40 STK-41 what lay where on any day is told through the door, by part, lot and place', async () => {
    const office = await anOffice(await open())
    const { carbon, early, near, far } = await aCountedWarehouse(office)
    const moved = { part_id: carbon, lot_id: early }
    await onDay(office, '2026-11-10', [{ ...moved, quantity: 4, from_place_id: near, to_place_id: far }])
    await onDay(office, '2026-11-28', [{ ...moved, quantity: 1, from_place_id: far, reason: 'scrap' }])
    await office.ask('stock/scrap', { lotId: early, placeId: near, quantity: 6, note: 'torn' })
    const lots = { 'P-1010 2609-001 in A-02-1': 6, 'P-2075 2611-005 in B-01-1': 4 }
    expect(await onHandOn(office, '2026-10-31')).toEqual({})
    expect(await onHandOn(office, '2026-11-01')).toEqual({ ...lots, 'P-1010 2607-031 in A-02-1': 10 })
    const after = { ...lots, 'P-1010 2607-031 in A-02-1': 6, 'P-1010 2607-031 in B-01-1': 4 }
    // Forward from the first day, then backward from now.
    expect(await onHandOn(office, '2026-11-10')).toEqual(after)
    expect(await onHandOn(office, '2026-11-27')).toEqual(after)
    expect(await onHandOn(office, '2026-11-30')).toEqual({ ...after, 'P-1010 2607-031 in B-01-1': 3 })
    const now = { ...lots, 'P-1010 2607-031 in B-01-1': 3 }
    expect(await onHandOn(office, '2026-12-01')).toEqual(now)
    expect(await onHandOn(office, null)).toEqual(now)
    expect(sentence(await office.ask('stock/onHand', { on: '2026-12-02' }))).toBe(
      'What will be there on Dec 2, 2026 nobody knows yet.',
    )
    const lot = readLots(((await office.ask('stock/onHand', { on: null })).json as OnHand).lots)[0]
    expect(lot).toMatchObject({ lot: '2607-031', expiresOn: '2028-07-31', cost: 600, recalled: false })
  })

  test('STK-42 what is sent is on the way, bound for its place, and arrives there or elsewhere, in one go or several', async () => {
    const office = await anOffice(await open())
    const { early, near, far } = await aCountedWarehouse(office)
    const { write: tx } = office.database
    const send = (own: object) =>
      office.ask('stock/send', { lotId: early, fromPlaceId: near, boundForPlaceId: far, quantity: 4, note: '', ...own })
    expect(code(await send({ quantity: 11 }))).toBe('STOCK_SHORT')
    expect(code(await send({ boundForPlaceId: near }))).toBe('STOCK_SAME_PLACE')
    expect((await send({})).json).toMatchObject({
      sentence: '4 pieces of Carbon block, lot 2607-031, on the way from A-02-1 to B-01-1.',
    })
    expect(await held(tx)).toEqual({ 'A-02-1': 12, 'B-01-1': 4, 'on the way': 4 })
    const [row] = (await office.ask('stock/onTheWay')).json as OnTheWay[]
    expect(row).toMatchObject({ boundFor: 'B-01-1', quantity: 4, sentOn: '2026-12-01', lot: '2607-031' })
    const way = row?.transitPlaceId
    const arrive = (own: object) =>
      office.ask('stock/arrive', {
        lotId: early,
        transitPlaceId: way,
        boundForPlaceId: far,
        toPlaceId: far,
        quantity: 3,
        note: '',
        ...own,
      })
    expect(
      code(await office.ask('stock/move', { lotId: early, fromPlaceId: near, toPlaceId: way, quantity: 1, note: '' })),
    ).toBe('STOCK_SENT_TO_TRANSIT')
    expect(sentence(await arrive({ quantity: 5 }))).toBe(
      'Of lot 2607-031, 4 are on the way to B-01-1; 5 cannot arrive.',
    )
    expect(code(await arrive({ boundForPlaceId: near }))).toBe('STOCK_NOT_ON_THE_WAY')
    expect((await arrive({})).status).toBe(200)
    expect((await office.ask('stock/onTheWay')).json).toMatchObject([{ boundFor: 'B-01-1', quantity: 1 }])
    expect((await arrive({ quantity: 1, toPlaceId: near })).status).toBe(200)
    expect((await office.ask('stock/onTheWay')).json).toEqual([])
    expect(await held(tx)).toEqual({ 'A-02-1': 13, 'B-01-1': 7 })
    const sent = (await send({ quantity: 2 })).json as { movementId: number }
    await office.ask('stock/putRight', { movementId: sent.movementId, note: 'not sent after all' })
    expect((await office.ask('stock/onTheWay')).json).toEqual([])
  })

  test('STK-43 pieces go into quarantine and out of it with a reason, and those of a recalled lot stay', async () => {
    const office = await anOffice(await open())
    const { early, near } = await aCountedWarehouse(office)
    const { write: tx } = office.database
    const aside = await aPlace(tx, 'set aside', 90, 'quarantine' as never)
    const move = (fromPlaceId: number, toPlaceId: number, note: string) =>
      office.ask('stock/move', { lotId: early, fromPlaceId, toPlaceId, quantity: 2, note })
    expect(code(await move(near, aside, ''))).toBe('STOCK_REASON_MISSING')
    expect((await move(near, aside, 'boxes are wet')).status).toBe(200)
    expect(code(await move(aside, near, ''))).toBe('STOCK_REASON_MISSING')
    await tx
      .updateTable('lots')
      .set({ recalled_on: calendarDate('2026-12-01'), recall_note: 'the maker wrote' })
      .where('id', '=', early)
      .execute()
    expect(sentence(await move(aside, near, 'dried'))).toBe('Lot 2607-031 is recalled; it does not go back to A-02-1.')
    await tx.updateTable('lots').set({ recalled_on: null, recall_note: '' }).where('id', '=', early).execute()
    expect((await move(aside, near, 'dried')).status).toBe(200)
    expect(await held(tx)).toEqual({ 'A-02-1': 16, 'B-01-1': 4 })
  })

  test('STK-56 the sheet to count on has the places in the order of the walk and room to write, and no figure of the books', async () => {
    const office = await anOffice(await open())
    await aCountedWarehouse(office)
    await office.database.write.updateTable('balances').set({ quantity: 7777 }).execute()
    const countId = await aRound(office)
    await countLots(office, countId, { '2607-031': 8888 })
    const response = await office.handle(new Request(`http://office/papers/counts/${countId}.pdf`))
    expect([response.status, response.headers.get('content-type')]).toEqual([200, 'application/pdf'])
    const [first = []] = await wordsOnPages(new Uint8Array(await response.arrayBuffer()))
    const words = JSON.stringify(first)
    expect(words.indexOf('A-02-1')).toBeLessThan(words.indexOf('B-01-1'))
    for (const said of ['December', '2607-031', '2609-001', '2611-005', 'Counted']) expect(words).toContain(said)
    for (const hidden of ['7777', '7,777', '8888', '8,888']) expect(words).not.toContain(hidden)
    for (const [address, status] of [
      ['counts/99.pdf', 422],
      ['counts/x.pdf', 404],
    ] as const)
      expect((await office.handle(new Request(`http://office/papers/${address}`))).status).toBe(status)
  })
})
