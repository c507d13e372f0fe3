import { describe, expect, test } from 'vitest'
import { expectedUse } from '../../core/orders/expected-use-answers.ts'
import type { Worth } from '../../core/stock/worth-shapes.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

async function aStock(office: AnOffice) {
  const tx = office.database.write
  const filter = await aPart(tx, 'P-1005', { name: 'Sediment filter' })
  const bin = await aPlace(tx, 'A-02-1', 10)
  const van = await aPlace(tx, 'van 1', 0, 'van')
  await aLot(tx, { partId: filter, code: 'L-1', expiresOn: '2026-12-20', placeId: bin, pieces: 30 })
  await aLot(tx, { partId: filter, code: 'L-2', placeId: van, pieces: 5 })
}

const shown = async (office: AnOffice, on: string | null = null, restAfterDays = 180) =>
  (await office.ask('worth/show', { on, restAfterDays })).json as Worth

describe.each(databases)('the page of worth on $name', ({ open }) => {
  test('STK-60 STK-61 STK-65 is read from the books', async () => {
    const office = await anOffice(await open())
    await aStock(office)
    const worth = await shown(office)
    expect(worth).toMatchObject({ on: '2026-12-01', isToday: true, value: 21_000, inBins: 18_000, onVans: 3000 })
    expect(worth.parts).toMatchObject([{ number: 'P-1005', pieces: 35, usable: 35, restDays: 30, rests: false }])
    expect(worth.expiring).toMatchObject([{ lot: 'L-1', pieces: 30, value: 18_000, willBeUsed: 0, atRisk: 18_000 }])
    expect(worth.sentences[0]).toBe('The stock has cost $210.00: $180.00 in bins and $30.00 on vans.')
    expect((await shown(office, null, 30)).resting).toBe(21_000)
  })

  test('STK-62 what is to come of a part is what visits are booked for and what pulls have promised', async () => {
    const office = await anOffice(await open())
    await aStock(office)
    const tx = office.database.write
    const { id: partId } = await tx.selectFrom('parts').select('id').executeTakeFirstOrThrow()
    const van = await aVan(tx, 'van 7', 'Bram T.')
    const siteId = await aHousehold(tx, 'Abernathy-Vance, Corinne')
    const visit = (on: string, pieces: number) =>
      aBookedVisit(tx, { siteId, technicianId: van.technicianId, on, needs: [[partId, pieces]] })
    await visit('2026-12-01', 2)
    await visit('2026-12-05', 20)
    await visit('2026-12-28', 4)
    const use = async () => Array.from((await expectedUse(office.desk()))(partId))
    const booked = (day: number) => ({ 0: 2, 4: 20, 27: 4 })[day] ?? 0
    expect(await use()).toEqual(Array.from({ length: 84 }, (_, day) => booked(day)))
    await office.ask('pull/begin', { on: '2026-12-01', vanIds: [van.vanId] })
    expect((await use())[0]).toBe(2)
    // 22 of the 30 that expire on the twentieth are used by then, and 35 are enough for all 26 that are known of
    const worth = await shown(office)
    expect(worth.expiring).toMatchObject([{ pieces: 30, willBeUsed: 22, atRisk: 8 * 600 }])
    expect(worth.parts[0]?.coverDays).toBe(84 + Math.floor((9 * 84) / 26))
  })

  test('STK-66 is shown for a day that is past, and refused for one to come', async () => {
    const office = await anOffice(await open())
    await aStock(office)
    expect(await shown(office, '2026-10-31')).toMatchObject({ isToday: false, value: 0 })
    expect(await shown(office, '2026-11-01')).toMatchObject({ isToday: false, value: 21_000, expiring: [] })
    expect(await office.ask('worth/show', { on: '2026-12-02', restAfterDays: 180 })).toMatchObject({
      status: 422,
      json: { data: { code: 'STOCK_DATE_TO_COME' } },
    })
  })
})

test('STK-65 the page to carry says the same', async () => {
  const [database] = databases
  if (!database) throw new Error('There is a database')
  const office = await anOffice(await database.open())
  await aStock(office)
  const response = await office.handle(new Request('http://office/papers/worth/2026-12-01.pdf'))
  expect(response.headers.get('content-type')).toBe('application/pdf')
  const pdf = await readPdf(new Uint8Array(await response.arrayBuffer()))
  const text = wordsOn(pdf.pages[0])
  for (const words of ['The stock has cost $210.00', 'Sediment filter', 'A-02-1', 'Likely left', 'Dec 20, 2026'])
    expect(text).toContain(words)
})
