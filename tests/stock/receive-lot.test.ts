import { describe, expect, test } from 'vitest'
import type { Moved } from '../../core/stock/stock-contract.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { aLot, aPart, aPlace, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code

async function aDelivery(office: AnOffice) {
  const tx = office.database.write
  const partId = await aPart(tx, 'P-1005', { shelfMonths: 24 })
  const bin = await aPlace(tx, 'A-02-1', 10)
  const usual = {
    partId,
    lot: '2608-114',
    expiresOn: '2028-08-31',
    quantity: 40,
    placeId: bin,
    cost: null,
    note: '',
    furtherDelivery: false,
  }
  const receive = (own: object) => office.ask('stock/receive', { ...usual, ...own })
  const lines = () =>
    tx
      .selectFrom('receipt_lines')
      .select(['receipt_id', 'order_line_id', 'accepted', 'damaged', 'price_cents'])
      .orderBy('id')
      .execute()
  return { tx, partId, bin, receive, lines }
}

describe.each(databases)('receiving without an order on $name', ({ open }) => {
  test('STK-36 damaged pieces of a delivery go into quarantine, on the same receipt and the same line', async () => {
    const office = await anOffice(await open())
    const { tx, receive, lines } = await aDelivery(office)
    const done = (await receive({ quantity: 38, damaged: 2, cost: 550 })).json as Moved
    expect(done).toMatchObject({
      sentence: '38 pieces of Part P-1005, lot 2608-114, received into A-02-1. 2 damaged and set aside in quarantine.',
      further: [expect.any(Number)],
    })
    expect((await tx.selectFrom('lots').select('id').executeTakeFirstOrThrow()).id).toBe(done.lotId)
    expect(await held(tx)).toEqual({ 'A-02-1': 38, quarantine: 2 })
    const [receipt] = await tx.selectFrom('receipts').select('id').execute()
    expect(await lines()).toEqual([
      { receipt_id: receipt?.id, order_line_id: null, accepted: 38, damaged: 2, price_cents: 550 },
    ])
    const movements = await tx.selectFrom('movements').select(['receipt_id', 'note']).orderBy('id').execute()
    expect(movements).toEqual([
      { receipt_id: receipt?.id, note: '' },
      { receipt_id: receipt?.id, note: 'came damaged' },
    ])
  })

  test('STK-36 a delivery that came damaged altogether touches no bin; the next finds the same quarantine', async () => {
    const office = await anOffice(await open())
    const { tx, receive, lines } = await aDelivery(office)
    await aPlace(tx, 'quarantine', 0)
    expect((await receive({ quantity: 0, damaged: 3, note: 'wet' })).json).toMatchObject({
      sentence: '3 pieces of Part P-1005, lot 2608-114, damaged and set aside in quarantine 2.',
    })
    await receive({ quantity: 1, damaged: 1, furtherDelivery: true })
    expect(await held(tx)).toEqual({ 'A-02-1': 1, 'quarantine 2': 4 })
    expect((await lines()).map((line) => [line.accepted, line.damaged, line.price_cents])).toEqual([
      [0, 3, 600],
      [1, 1, 600],
    ])
    for (const own of [{ quantity: 0 }, { damaged: -1 }, { damaged: 0.5 }, { quantity: -2, damaged: 4 }])
      expect(code(await receive({ ...own, lot: 'other' }))).toBe('STOCK_PIECES_NOT_WHOLE')
  })

  test('STK-36 more of a recalled lot goes into quarantine or nowhere', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin, receive } = await aDelivery(office)
    const lotId = await aLot(tx, { partId, code: '2608-114', expiresOn: '2028-08-31', placeId: bin, pieces: 5 })
    await tx
      .updateTable('lots')
      .set({ recalled_on: calendarDate('2026-11-20') })
      .where('id', '=', lotId)
      .execute()
    const further = { furtherDelivery: true, quantity: 2 }
    expect(code(await receive(further))).toBe('STOCK_LOT_RECALLED')
    expect((await receive({ ...further, quantity: 0, damaged: 2 })).status).toBe(200)
    expect(await held(tx)).toEqual({ 'A-02-1': 5, quarantine: 2 })
  })
})
