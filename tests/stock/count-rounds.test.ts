import { describe, expect, test } from 'vitest'
import type { ComparedLine } from '../../core/stock/count-contract.ts'
import { aCountedWarehouse, aRound, countLots, roundOf } from '../builders/a-counted-warehouse.ts'
import { aBookedVisit, aHousehold, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code
const sentence = (answer: { json: unknown }) => (answer.json as { data?: { sentence?: string } }).data?.sentence

async function compared(office: AnOffice, countId: number) {
  return (await office.ask('counts/compare', { countId })).json as {
    lines: ComparedLine[]
    agree: number
    over: number
    under: number
    sentence: string
  }
}

async function approve(office: AnOffice, countId: number, note = '') {
  return office.ask('counts/approve', { countId, version: (await roundOf(office, countId)).version, note })
}

describe.each(databases)('rounds of counting on $name', ({ open }) => {
  test('STK-48 a round is counted blind: nothing of what the books say leaves before everything is counted', async () => {
    const office = await anOffice(await open())
    await aCountedWarehouse(office)
    const countId = await aRound(office)
    const seen = await office.ask('counts/round', { countId })
    const round = await roundOf(office, countId)
    expect(round.rows.map((row) => [row.place, row.lot, row.counted])).toEqual([
      ['A-02-1', '2607-031', null],
      ['A-02-1', '2609-001', null],
      ['B-01-1', '2611-005', null],
    ])
    // Ten, six and four lie there; no figure of the answer, but the keys, says so.
    const figures = JSON.stringify(seen.json).match(/"(quantity|booksSaid|pieces|value|cost|difference|onHand)":/g)
    expect(figures).toBeNull()
    expect(sentence(await office.ask('counts/compare', { countId }))).toBe(
      '3 lots are of this round still to be counted.',
    )
    await countLots(office, countId, { '2607-031': 9, '2609-001': 6 })
    const half = await office.ask('counts/round', { countId })
    expect(JSON.stringify(half.json)).not.toMatch(/"(booksSaid|difference|willBe)":/)
    expect(code(await office.ask('counts/compare', { countId }))).toBe('COUNT_NOT_FINISHED')
    expect(code(await approve(office, countId))).toBe('COUNT_NOT_FINISHED')
  })

  test('STK-49 a count of minus three is refused, every other is kept at once, and taken up by whoever goes on', async () => {
    const office = await anOffice(await open())
    await aCountedWarehouse(office)
    const countId = await aRound(office)
    const [line] = (await roundOf(office, countId)).rows
    const write = (own: object) =>
      office.ask('counts/writeDown', { countId, lineId: line?.lineId, seen: null, counted: 9, note: '', ...own })
    expect(sentence(await write({ counted: -3 }))).toBe('A count of -3 is not a number of pieces.')
    expect(code(await write({ counted: 2.5 }))).toBe('STOCK_COUNT_NOT_WHOLE')
    expect((await write({ note: 'behind the others' })).status).toBe(200)
    expect((await roundOf(office, countId)).rows[0]).toMatchObject({
      counted: 9,
      countedBy: 'the office',
      note: 'behind the others',
    })
    // A second pair of hands counts the same lot, and has not seen the first count.
    expect(sentence(await write({ counted: 8 }))).toBe('the office wrote down 9 for lot 2607-031 in A-02-1 meanwhile.')
    expect((await write({ counted: 9 })).status).toBe(200)
    expect((await write({ seen: 9, counted: 8 })).status).toBe(200)
    expect((await write({ seen: 8, counted: null })).status).toBe(200)
    expect(code(await write({ seen: 8, counted: 7 }))).toBe('COUNT_TAKEN_AWAY')
    expect((await roundOf(office, countId)).counted).toBe(0)
  })

  test('STK-51 an approved round is one movement a difference, all in one piece; what agrees moves nothing', async () => {
    const office = await anOffice(await open())
    const { carbon } = await aCountedWarehouse(office)
    const countId = await aRound(office)
    await countLots(office, countId, { '2607-031': 7, '2609-001': 6, '2611-005': 5 })
    const before = await compared(office, countId)
    expect(before.sentence).toBe('1 of 3 counts agree with the books, 2 differ.')
    expect([before.over, before.under]).toEqual([600, -1800])
    expect(before.lines.map((line) => [line.booksSaid, line.counted, line.difference, line.willBe])).toEqual([
      [10, 7, -3, 7],
      [6, 6, 0, 6],
      [4, 5, 1, 5],
    ])
    const { version } = await roundOf(office, countId)
    await countLots(office, countId, { '2607-031': 8 })
    expect(code(await office.ask('counts/approve', { countId, version, note: '' }))).toBe('RECORD_CHANGED')
    expect((await approve(office, countId, 'checked by the owner')).json).toMatchObject({
      sentence: 'The round December is approved: 2 differences in 3 counts.',
      movements: 2,
      warnings: [],
    })
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 14, 'B-01-1': 5 })
    const { movements } = (await office.ask('stock/movements', { partId: carbon, before: null })).json as {
      movements: { reason: string; quantity: number; note: string; by: string }[]
    }
    expect(movements[0]).toMatchObject({
      reason: 'count',
      quantity: 2,
      by: 'the office',
      note: 'counted 8 by the office; checked by the owner',
    })
    expect(sentence(await approve(office, countId))).toBe('This round was approved by the office on Dec 1, 2026.')
    expect((await compared(office, countId)).lines.map((line) => line.difference)).toEqual([-2, 0, 1])
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 14, 'B-01-1': 5 })
  })

  test('STK-50 what moved between the count and its approval is kept; what cannot be is counted again first', async () => {
    const office = await anOffice(await open())
    const { near, far, early, late } = await aCountedWarehouse(office)
    const countId = await aRound(office)
    await countLots(office, countId, { '2607-031': 8, '2609-001': 1, '2611-005': 4 })
    const move = (lotId: number, quantity: number) =>
      office.ask('stock/move', { lotId, fromPlaceId: near, toPlaceId: far, quantity, note: '' })
    await move(early, 3)
    await move(late, 3)
    const [first, second] = (await compared(office, countId)).lines
    expect(first).toMatchObject({ booksSaid: 10, counted: 8, difference: -2, movedSince: -3, willBe: 5 })
    expect(second).toMatchObject({ booksSaid: 6, counted: 1, movedSince: -3, willBe: -2 })
    expect(sentence(await approve(office, countId))).toBe(
      'Lot 2609-001 in A-02-1: 1 were counted, but 3 left by the books since.',
    )
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 10, 'B-01-1': 10 })
    const again = await office.ask('counts/countAgain', { countId, lineIds: [second?.lineId] })
    expect(again.json).toEqual({ sentence: '1 lot of December to be counted again.' })
    await countLots(office, countId, { '2609-001': 2 })
    expect((await approve(office, countId)).json).toMatchObject({ movements: 2 })
    // 8 counted less 3 that left since; 2 counted when 3 lay there by the books.
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 7, 'B-01-1': 10 })
  })

  test('STK-51 a round that is dropped, or of which a part is left out, leaves the rest of the books alone', async () => {
    const office = await anOffice(await open())
    await aCountedWarehouse(office)
    const first = await aRound(office)
    expect(code(await office.ask('counts/leaveOut', { countId: first }))).toBe('COUNT_EMPTY')
    await countLots(office, first, { '2607-031': 0 })
    expect((await office.ask('counts/drop', { countId: first })).json).toEqual({
      sentence: 'The round December is dropped. The books are as they were.',
    })
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 16, 'B-01-1': 4 })
    const second = await aRound(office)
    await countLots(office, second, { '2607-031': 0 })
    expect((await office.ask('counts/leaveOut', { countId: second })).json).toEqual({ left: 2 })
    expect((await approve(office, second)).json).toMatchObject({ movements: 1 })
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 6, 'B-01-1': 4 })
    const rounds = (await office.ask('counts/rounds')).json as { name: string; state: string; lines: number }[]
    expect(rounds.map((round) => [round.state, round.lines])).toEqual([
      ['approved', 1],
      ['dropped', 3],
    ])
  })

  test('STK-52 pieces of a lot that should not be there are counted; an unknown lot only when it is said to be new', async () => {
    const office = await anOffice(await open())
    const { membrane, near, carbon } = await aCountedWarehouse(office)
    const countId = await aRound(office, { of: 'aisle', aisle: 'A' })
    const found = {
      countId,
      placeId: near,
      partId: membrane,
      lot: '2611-005',
      expiresOn: null,
      newLot: false,
      counted: 2,
      note: '',
    }
    const add = (own: object) => office.ask('counts/addFound', { ...found, ...own })
    expect(code(await add({ counted: -1 }))).toBe('STOCK_COUNT_NOT_WHOLE')
    expect((await add({})).status).toBe(200)
    expect(code(await add({}))).toBe('COUNT_LINE_HERE')
    expect(sentence(await add({ lot: '2612-1' }))).toBe('No lot 2612-1 of Membrane was ever in the books.')
    expect(code(await add({ lot: '2612-1', newLot: true }))).toBe('STOCK_EXPIRY_MISSING')
    expect((await add({ lot: '2612-1', newLot: true, expiresOn: '2029-01-31', counted: 1 })).status).toBe(200)
    expect(code(await add({ partId: carbon, lot: ' ' }))).toBe('STOCK_LOT_NAMELESS')
    await countLots(office, countId, { '2607-031': 10, '2609-001': 6 })
    expect((await approve(office, countId)).json).toMatchObject({ movements: 2 })
    expect(await held(office.database.write)).toEqual({ 'A-02-1': 19, 'B-01-1': 4 })
  })

  test('STK-53 what one open round counts, another leaves out, and two do not share a name', async () => {
    const office = await anOffice(await open())
    const { near, far, membrane } = await aCountedWarehouse(office)
    const countId = await aRound(office, { of: 'place', placeId: far })
    const begin = (name: string, scope: object) => office.ask('counts/begin', { name, scope })
    expect(code(await begin('December', { of: 'all' }))).toBe('COUNT_NAME_TAKEN')
    expect(code(await begin('aisle B', { of: 'aisle', aisle: 'B' }))).toBe('COUNT_NOTHING_THERE')
    const rest = await aRound(office, { of: 'all' }, 'the rest')
    expect((await roundOf(office, rest)).rows.map((row) => row.place)).toEqual(['A-02-1', 'A-02-1'])
    const found = { partId: membrane, lot: '2611-005', expiresOn: null, newLot: false, counted: 2, note: '' }
    expect(sentence(await office.ask('counts/addFound', { ...found, countId: rest, placeId: far }))).toBe(
      'Lot 2611-005 in B-01-1 is being counted in the round December already.',
    )
    expect((await office.ask('counts/addFound', { ...found, countId, placeId: near })).status).toBe(200)
    expect(code(await office.ask('counts/round', { countId: 99 }))).toBe('COUNT_GONE')
  })

  test('STK-54 a count that leaves less than a pull holds names the pull', async () => {
    const office = await anOffice(await open())
    const { carbon, near, early } = await aCountedWarehouse(office)
    const { write: tx } = office.database
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const siteId = await aHousehold(tx, 'Ashgrove Dental')
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: '2026-12-02', needs: [[carbon, 8]] })
    await office.ask('pull/begin', { on: '2026-12-02', vanIds: [van.vanId] })
    const countId = await aRound(office, { of: 'place', placeId: near })
    await countLots(office, countId, { '2607-031': 5, '2609-001': 6 })
    expect((await compared(office, countId)).lines[0]).toMatchObject({
      lotId: early,
      promised: 8,
      willBe: 5,
      pulls: ['van 1 for Dec 2: 8 pieces'],
    })
    expect((await approve(office, countId)).json).toMatchObject({
      warnings: ['Carbon block, lot 2607-031 in A-02-1: 3 of 8 promised pieces not there. van 1 for Dec 2: 8 pieces.'],
    })
    expect(await held(tx)).toEqual({ 'A-02-1': 11, 'B-01-1': 4 })
  })

  test('STK-46 STK-47 the week’s list is drawn from the books: what was counted lately is not on it, what a pull missed is', async () => {
    const office = await anOffice(await open())
    const { near, late, carbon } = await aCountedWarehouse(office)
    const { write: tx } = office.database
    const week = async () =>
      (await office.ask('counts/week')).json as {
        heaps: { lot: string; why: string; lastCountedOn: string | null }[]
        waiting: number
        counted: number
      }
    // Came in a month ago and nobody uses them: nothing is due yet.
    expect(await week()).toMatchObject({ heaps: [], waiting: 0, counted: 0 })
    await tx
      .updateTable('lots')
      .set({ received_on: '2026-03-01' as never })
      .execute()
    expect((await week()).heaps.map((heap) => heap.lot)).toEqual(['2607-031', '2609-001', '2611-005'])
    await office.ask('stock/count', { lotId: late, placeId: near, seen: 6, counted: 6, note: '' })
    expect((await week()).heaps.map((heap) => heap.lot)).toEqual(['2607-031', '2611-005'])
    const countId = await aRound(office, { of: 'week' })
    expect((await roundOf(office, countId)).rows[0]?.why).toContain('Never counted; its lot came in 9 months ago.')
    expect(await week()).toMatchObject({ heaps: [], counted: 3 })
    await countLots(office, countId, { '2607-031': 10, '2611-005': 3 })
    await approve(office, countId)
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const pull = {
      office_id: 1,
      pull_on: '2026-12-02',
      van_id: van.vanId,
      state: 'confirmed',
      begun_at: '',
      by_whom: '',
      confirmed_at: null,
    }
    const { id: pull_id } = await tx
      .insertInto('pulls')
      .values(pull as never)
      .returning('id')
      .executeTakeFirstOrThrow()
    const finding = {
      office_id: 1,
      pull_id,
      kind: 'short',
      part_id: carbon,
      lot_id: late,
      place_id: near,
      quantity: 1,
      by_whom: '',
      note: '',
    }
    await tx
      .insertInto('pull_findings')
      .values({ ...finding, found_at: '2026-12-02T07:00:00.000Z' } as never)
      .execute()
    expect((await week()).heaps).toMatchObject([
      {
        lot: '2609-001',
        why: 'A pull found fewer here than the books say, on Dec 2, 2026.',
        lastCountedOn: '2026-12-01',
      },
    ])
  })

  test('STK-57 whoever sits at the window is written beside the count and the movement', async () => {
    const office = await anOffice(await open())
    const { early, near, far, carbon } = await aCountedWarehouse(office)
    const countId = await aRound(office)
    const [line] = (await roundOf(office, countId)).rows
    const asked = (who: string, path: string, input: object) =>
      office.handle(
        new Request(`http://office/rpc/${path}`, {
          method: 'POST',
          headers: { 'content-type': 'application/json', 'penstock-who': who },
          body: JSON.stringify({ json: input }),
        }),
      )
    const write = { countId, lineId: line?.lineId, seen: null, counted: 9, note: '' }
    await asked(encodeURIComponent('Łucja B.'), 'counts/writeDown', write)
    expect((await roundOf(office, countId)).rows[0]?.countedBy).toBe('Łucja B.')
    const move = { lotId: early, fromPlaceId: near, toPlaceId: far, quantity: 1, note: '' }
    for (const who of ['Ilse%20R.', '%E0%A4%A', '%20']) await asked(who, 'stock/move', move)
    const { movements } = (await office.ask('stock/movements', { partId: carbon, before: null })).json as {
      movements: { by: string }[]
    }
    expect(movements.slice(0, 3).map((movement) => movement.by)).toEqual(['the office', 'the office', 'Ilse R.'])
  })
})
