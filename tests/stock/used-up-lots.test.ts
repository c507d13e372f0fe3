import { describe, expect, test } from 'vitest'
import type { PartDetail } from '../../core/stock/stock-contract.ts'
import { aLot, aPart, aPlace } from '../builders/a-warehouse.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

describe.each(databases)('lots that are used up on $name', ({ open }) => {
  test('STK-71 are still named behind those that lie somewhere, so that a recall of one can begin at its part', async () => {
    const office = await anOffice(await open())
    const { write } = office.database
    const partId = await aPart(write, 'P-1010')
    const placeId = await aPlace(write, 'A-02-1', 10)
    const goneId = await aLot(write, { partId, code: '2501-001', expiresOn: '2027-01-31', placeId, pieces: 4 })
    await aLot(write, { partId, code: '2607-031', expiresOn: '2028-07-31', placeId, pieces: 10 })
    const scrapped = await office.ask('stock/scrap', { lotId: goneId, placeId, quantity: 4, note: 'fell down' })
    expect(scrapped.status).toBe(200)
    const { lots } = (await office.ask('stock/part', { partId })).json as PartDetail
    expect(lots.map(({ lot, heaps }) => [lot, heaps.length])).toEqual([
      ['2607-031', 1],
      ['2501-001', 0],
    ])
  })
})
