import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
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
        needs: van === 'van 1' ? [[filter, 3]] : [[membrane, 1]],
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

  test('PICK-30 bin, part and pieces are set in 14 points and more on Letter and A4, with who cannot be served at the end and a place for initials', async () => {
    const office = await anOffice(await open())
    const tx = office.database.write
    const [filter, membrane] = [
      await aPart(tx, 'P-1005', { name: 'Sediment filter' }),
      await aPart(tx, 'P-2075', { name: 'Membrane' }),
    ]
    const bin = await aPlace(tx, 'A-02-1', 10)
    await aLot(tx, { partId: filter, code: '2608-114', expiresOn: '2028-08-31', placeId: bin, pieces: 40 })
    const { technicianId } = await aVan(tx, 'van 1', 'Ilse R.')
    const needs = [[filter, 7]] as const
    await aBookedVisit(tx, { siteId: await aHousehold(tx, 'Ashgrove'), technicianId, on: '2026-12-02', needs })
    const lacking = await aHousehold(tx, 'Galbraith')
    await aBookedVisit(tx, { siteId: lacking, technicianId, on: '2026-12-02', from: 600, needs: [[membrane, 1]] })
    for (const pageSize of ['letter', 'a4'] as const) {
      await office.database.write
        .insertInto('settings')
        .values({ office_id: FIRST_OFFICE, name: 'pageSize', value: JSON.stringify(pageSize) })
        .onConflict((row) => row.columns(['office_id', 'name']).doUpdateSet({ value: JSON.stringify(pageSize) }))
        .execute()
      const response = await office.handle(new Request('http://office/papers/pull/2026-12-02.pdf'))
      const file = new Uint8Array(await response.arrayBuffer())
      const sizes = await sizesOnPage(file)
      for (const wording of ['A-02-1', '7', 'Sediment filter P-1005'])
        expect(sizes.get(wording)).toBeGreaterThanOrEqual(14)
      const [page = ''] = await wordsOnPages(file)
      expect(page).toContain('page 1 of 1')
      expect(page).toContain('Larkmoor Water · printed December 1, 2026')
      expect(page.indexOf('Visits that cannot be served whole')).toBeGreaterThan(page.indexOf('Sediment filter P-1005'))
      expect(page).toMatch(/Stop 2, Galbraith/)
      expect(page).toContain('Pulled by (initials)')
    }
  })
})

/** The largest size in which each wording of the first page is set, points: read by pdf.js, which had no part in writing it. */
async function sizesOnPage(file: Uint8Array): Promise<Map<string, number>> {
  const document = await getDocument({ data: file.slice(), verbosity: 0 }).promise
  const { items } = await (await document.getPage(1)).getTextContent()
  const sizes = new Map<string, number>()
  for (const item of items)
    if ('str' in item) sizes.set(item.str.trim(), Math.max(sizes.get(item.str.trim()) ?? 0, item.height))
  return sizes
}
