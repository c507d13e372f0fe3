import { describe, expect, test } from 'vitest'
import { labelsAddress, orderOfAddress } from '../../core/stock/label-order.ts'
import type { LabelPreview, LabelSource } from '../../core/stock/labels-contract.ts'
import { aLot, aPart, aPlace } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { aLotOf, aSentOrder, aStockedSupplier, receive, theOrder } from '../builders/an-order.ts'
import { databases } from '../data/each-database.ts'
import { barsOnPages } from '../judges/bars-on-page.ts'
import { readPdf, wordsOn } from '../judges/read-pdf.ts'

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code

async function aStore(office: AnOffice) {
  const tx = office.database.write
  const filter = await aPart(tx, 'P-1005', { name: 'Sediment filter' })
  const membrane = await aPart(tx, 'P_2075%', { name: 'Membrane' })
  const bin = await aPlace(tx, 'A-02-1', 10)
  const other = await aPlace(tx, 'B-01-1', 20)
  const old = await aLot(tx, { partId: filter, code: '2508-001', expiresOn: '2027-08-31', placeId: bin, pieces: 3 })
  const lot = await aLot(tx, { partId: filter, code: '2608-114', expiresOn: '2028-08-31', placeId: bin, pieces: 40 })
  await aLot(tx, { partId: membrane, code: '2610-007', placeId: other, pieces: 5 })
  const find = async (kind: string, words: string) =>
    ((await office.ask('labels/find', { kind, words })).json as { sources: LabelSource[] }).sources
  const preview = (own: object) => office.ask('labels/preview', { wanted: [], beginWith: 1, partBars: 'own', ...own })
  return { tx, filter, membrane, bin, other, old, lot, find, preview }
}

describe.each(databases)('labels on $name', ({ open }) => {
  test('STK-35 lots that lie somewhere, parts and bins are found by all words, which are no patterns', async () => {
    const office = await anOffice(await open())
    const { filter, bin, lot, old, find } = await aStore(office)
    expect(await find('lot', 'SEDIMENT 2608')).toEqual([
      { kind: 'lot', id: lot, title: 'P-1005', lot: '2608-114', line: 'Sediment filter', pieces: 40 },
    ])
    expect((await find('lot', '')).map((each) => each.lot)).toEqual(['2610-007', '2608-114', '2508-001'])
    expect((await find('part', '_2075%')).map((each) => each.title)).toEqual(['P_2075%'])
    expect(await find('part', 'p-1')).toMatchObject([{ id: filter, pieces: 43 }])
    expect((await find('part', '%filter')).length + (await find('part', "'")).length).toBe(0)
    expect(await find('bin', 'a-02')).toMatchObject([{ kind: 'bin', id: bin, title: 'A-02-1', pieces: 43 }])
    expect(
      ((await office.ask('labels/ofPart', { partId: filter })).json as LabelSource[]).map((each) => each.id),
    ).toEqual([lot, old, filter])
    expect(code(await office.ask('labels/ofPart', { partId: 99_999 }))).toBe('RECORD_GONE')
  })

  test('STK-35 the first sheet is looked at, with what is not as one would expect; the address prints the same', async () => {
    const office = await anOffice(await open())
    const { tx, filter, lot, bin, preview } = await aStore(office)
    await tx.updateTable('parts').set({ gtin: '6291041500214' }).where('id', '=', filter).execute()
    const wanted = [
      { kind: 'lot' as const, id: lot, count: 28 },
      { kind: 'part' as const, id: filter, count: 2 },
      { kind: 'bin' as const, id: bin, count: 1 },
    ]
    const seen = (await preview({ wanted, beginWith: 4 })).json as LabelPreview
    expect(seen).toMatchObject({ labels: 31, sheets: 2, onSheet: 30, across: 3, nextBegin: 5 })
    expect(seen.notes).toEqual([
      'The GTIN of P-1005, 6291041500214, does not add up: it is left out. Look at the part.',
    ])
    expect(seen.picture?.marks.filter((mark) => mark.kind === 'text' && mark.text === 'lot 2608-114')).toHaveLength(27)
    const address = labelsAddress({ wanted, beginWith: 4, partBars: 'own' })
    const response = await office.handle(new Request(`http://office${address}`))
    expect([response.status, response.headers.get('content-type')]).toEqual([200, 'application/pdf'])
    const file = new Uint8Array(await response.arrayBuffer())
    const { pages } = await readPdf(file)
    expect(pages.map((page) => [page.width, page.height])).toEqual([
      [612, 792],
      [612, 792],
    ])
    expect(wordsOn(pages[1])).toContain('+A-02-1')
    expect(barsOnPages(file).map((page) => page.length)).toEqual([27, 4])
    expect(await preview({}).then((answer) => answer.json)).toMatchObject({ labels: 0, sheets: 0, picture: null })
  })

  test('STK-58 a delivery is labelled with its good pieces, lot by lot; what was put right has no label', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane, sediment, bin } = await aStockedSupplier(office)
    const order = await aSentOrder(office, supplierId, [
      { partId: membrane, quantity: 12 },
      { partId: sediment, quantity: 4 },
    ])
    const lots = [
      aLotOf(order, membrane, { placeId: bin, accepted: 5, damaged: 1 }),
      aLotOf(order, membrane, { placeId: bin, lot: '2612-002', accepted: 2 }),
      aLotOf(order, sediment, { placeId: bin, lot: 'S-1', accepted: 0, damaged: 3 }),
    ]
    const { movements } = (await receive(office, order, lots)).json as { movements: number[] }
    const [receipt] = (await theOrder(office, order.orderId)).receipts
    expect(receipt?.toLabel).toBe(7)
    const ofDelivery = () => office.ask('labels/ofDelivery', { receiptId: receipt?.receiptId })
    expect((await ofDelivery()).json).toMatchObject({
      words: 'the delivery of Dec 1, 2026 on order PO-2026-0001',
      sources: [
        { kind: 'lot', title: 'P-2075', lot: '2612-001', line: 'Membrane, 75 gal/day', pieces: 5 },
        { kind: 'lot', title: 'P-2075', lot: '2612-002', pieces: 2 },
      ],
    })
    for (const movementId of movements) await office.ask('stock/putRight', { movementId, note: 'wrong order' })
    expect((await ofDelivery()).json).toMatchObject({ sources: [] })
    expect((await theOrder(office, order.orderId)).receipts[0]?.toLabel ?? 0).toBe(0)
    expect(code(await office.ask('labels/ofDelivery', { receiptId: 99_999 }))).toBe('RECORD_GONE')
  })

  test('STK-35 the office’s paper says which sheet it is, and its shift is kept', async () => {
    const office = await anOffice(await open())
    const { lot, preview } = await aStore(office)
    await office.ask('settings/change', { name: 'pageSize', from: 'letter', to: 'a4' })
    await office.ask('settings/change', { name: 'labelShiftRightMm', from: 0, to: -1.5 })
    const wanted = [{ kind: 'lot', id: lot, count: 1 }]
    expect((await preview({ wanted, beginWith: 30 })).json).toMatchObject({
      onSheet: 21,
      sheets: 1,
      nextBegin: 1,
      shift: { rightMm: -1.5, downMm: 0 },
    })
    const frames = await office.handle(new Request('http://office/papers/label-frames.pdf'))
    const [page] = (await readPdf(new Uint8Array(await frames.arrayBuffer()))).pages
    expect(page?.width).toBeCloseTo(595.28, 1)
    expect(code(await office.ask('settings/change', { name: 'labelShiftDownMm', from: 0, to: 6 }))).toBe(
      'SETTING_NOT_LIKE_THIS',
    )
  })

  test('STK-35 what is no longer in the books, and more labels than anybody prints, are refused with a sentence', async () => {
    const office = await anOffice(await open())
    const { lot, preview } = await aStore(office)
    const some = (count: number, times: number) => ({
      wanted: Array.from({ length: times }, () => ({ kind: 'lot', id: lot, count })),
    })
    expect(code(await preview({ wanted: [{ kind: 'lot', id: 99_999, count: 1 }] }))).toBe('RECORD_GONE')
    expect(code(await preview(some(500, 5)))).toBe('LABELS_TOO_MANY')
    expect((await preview(some(500, 4))).status).toBe(200)
    const bad = async (query: string) =>
      (await office.handle(new Request(`http://office/papers/labels.pdf?${query}`))).status
    expect(
      await Promise.all(['', 'of=lot-1', 'of=van-1x1', `of=lot-${lot}x1&from=0`, `of=lot-${lot}x501`].map(bad)),
    ).toEqual([404, 404, 404, 404, 422])
  })
})

test('STK-35 an order of labels is read off its address as it was written', () => {
  const order = {
    wanted: [
      { kind: 'lot' as const, id: 12, count: 3 },
      { kind: 'bin' as const, id: 7, count: 1 },
    ],
    beginWith: 4,
    partBars: 'gtin' as const,
  }
  const address = new URL(labelsAddress(order), 'http://office')
  expect(orderOfAddress(address.searchParams)).toEqual(order)
})
