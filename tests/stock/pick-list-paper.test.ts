import { describe, expect, test } from 'vitest'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { wordsOnPages } from '../judges/words-on-pages.ts'

describe.each(databases.slice(0, 1))('the pull on paper from $name', ({ open }) => {
  test('PICK-7 a page a van, the bins in the order of the walk with pieces, lot and totes, and what is short', async () => {
    const office = await anOffice(await open())
    const tx = office.database.write
    const [filter, membrane] = [
      await aPart(tx, 'P-1005', { name: 'Sediment filter' }),
      await aPart(tx, 'P-2075', { name: 'Membrane' }),
    ]
    const [far, near] = [await aPlace(tx, 'B-01-1', 20), await aPlace(tx, 'A-02-1', 10)]
    await aLot(tx, { partId: filter, code: '2608-114', expiresOn: '2028-08-31', placeId: far, pieces: 2 })
    await aLot(tx, { partId: filter, code: '2612-001', expiresOn: '2028-12-31', placeId: near, pieces: 2 })
    const siteId = await aHousehold(tx, 'Ashgrove Dental')
    for (const [van, driver] of [
      ['van 1', 'Ilse R.'],
      ['van 2', 'Bram T.'],
    ] as const) {
      const { technicianId } = await aVan(tx, van, driver)
      await aBookedVisit(tx, {
        siteId,
        technicianId,
        on: '2026-12-02',
        needs: [
          [filter, van === 'van 1' ? 3 : 1],
          [membrane, 1],
        ],
      })
    }
    const response = await office.handle(new Request('http://office/papers/pull/2026-12-02.pdf'))
    expect([response.status, response.headers.get('content-type')]).toEqual([200, 'application/pdf'])
    const pages = await wordsOnPages(new Uint8Array(await response.arrayBuffer()))
    expect(pages).toHaveLength(2)
    const [first = '', second = ''] = pages.map((words) => JSON.stringify(words))
    expect(first).toContain('van 1')
    expect(first.indexOf('A-02-1')).toBeLessThan(first.indexOf('B-01-1'))
    expect(first).toContain('2608-114')
    expect(second).toContain('van 2')
    expect(second).toContain('Short')
    expect((await office.handle(new Request('http://office/papers/pull/2026-13-02.pdf'))).status).toBe(404)
  })
})
