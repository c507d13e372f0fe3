import { describe, expect, test } from 'vitest'
import type { WriteDb } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { PartId, SiteId, StageId } from '../../core/units/ids.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { aSentOrder, aStockedSupplier, ORRIN_SUPPLY, theOrder, theOrders } from '../builders/an-order.ts'
import { databases } from '../data/each-database.ts'

const refusal = (code: string) => ({ status: 422, json: { data: { code } } })

async function aDraft(office: AnOffice, supplierId: number, lines: readonly object[] = []): Promise<OrderInFull> {
  const { orderId } = (await office.ask('orders/draft', { supplierId, lines })).json as { orderId: number }
  return theOrder(office, orderId)
}

/** A unit with one membrane at a household. */
async function aStageOf(tx: WriteDb, siteId: SiteId, partId: PartId): Promise<StageId> {
  const office_id = FIRST_OFFICE
  const nothing = { installed_on: null, removed_on: null, recovery_percent: null, people: null, daily_ml: null }
  const unit = { office_id, site_id: siteId, name: 'unit', note: '', interval_months: null, due_on: null, ...nothing }
  const { id: installation_id } = await tx
    .insertInto('installations')
    .values(unit)
    .returning('id')
    .executeTakeFirstOrThrow()
  const stage = { office_id, installation_id, position: 1, kind: 'membrane' as const, label: '', part_id: partId }
  return (await tx.insertInto('stages').values(stage).returning('id').executeTakeFirstOrThrow()).id
}

describe.each(databases)('purchase orders on $name', ({ open }) => {
  test('ORD-70 what runs short of two suppliers becomes two drafts in one press, or none', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane, sediment } = await aStockedSupplier(office)
    const other = { ...ORRIN_SUPPLY, name: 'Saltgrass Filters', minimumOrder: 0 }
    const { supplierId: second } = (await office.ask('orders/saveSupplier', other)).json as { supplierId: number }
    const term = { partId: sediment, supplierNumber: '', price: 300, packSize: 1, minimumQuantity: 0, preferred: false }
    await office.ask('orders/saveTerm', { ...term, supplierId: second })
    const first = { supplierId, lines: [{ partId: membrane, quantity: 24 }] }
    const bad = { supplierId: second, lines: [{ partId: membrane, quantity: 1 }] }
    expect(await office.ask('orders/draftAll', { drafts: [first, bad] })).toMatchObject(refusal('ORDER_PART_NOT_SOLD'))
    expect(await theOrders(office)).toEqual([])
    const good = { supplierId: second, lines: [{ partId: sediment, quantity: 5 }] }
    expect(await office.ask('orders/draftAll', { drafts: [first, good] })).toMatchObject({
      json: { sentence: '2 orders drafted: 2 lines.' },
    })
    const orders = await theOrders(office)
    expect(orders.map((each) => [each.supplier, each.cost])).toEqual([
      ['Saltgrass Filters', 1500],
      ['Orrin Supply', 24 * 540],
    ])
  })

  test('ORD-71 ORD-73 a draft begins empty; lines are added, changed and taken out, at the price of the quantity or an agreed one', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane, sediment } = await aStockedSupplier(office)
    const draft = await aDraft(office, supplierId)
    expect(draft).toMatchObject({ number: `draft ${draft.orderId}`, lines: [], cost: 0, lacks: 5000 })
    expect(await office.ask('orders/soldBy', { supplierId })).toMatchObject({
      json: [{ part: { number: 'P-1005' } }, { part: { number: 'P-2075' }, breaks: [{ from: 24, price: 540 }] }],
    })
    const keys = { orderId: draft.orderId, note: 'Ring before you come.' }
    const save = (version: number, lines: readonly object[]) =>
      office.ask('orders/saveDraft', { ...keys, version, lines })
    const membranes = { partId: membrane, quantity: 6, price: null }
    expect((await save(1, [membranes, { partId: sediment, quantity: 3, price: 240 }])).status).toBe(200)
    expect(await theOrder(office, draft.orderId)).toMatchObject({
      note: 'Ring before you come.',
      cost: 6 * 600 + 3 * 240,
      lacks: 5000 - 4320,
      lines: [
        { price: 600, amount: 3600, terms: { packSize: 6 } },
        { price: 240, amount: 720 },
      ],
    })
    expect(
      (
        await save(2, [
          { ...membranes, quantity: 24 },
          { partId: sediment, quantity: 0, price: null },
        ])
      ).status,
    ).toBe(200)
    expect(await theOrder(office, draft.orderId)).toMatchObject({ cost: 24 * 540, lacks: 0, lines: [{ price: 540 }] })
    expect(await save(2, [membranes])).toMatchObject(refusal('RECORD_CHANGED'))
    expect(await save(3, [membranes, membranes])).toMatchObject(refusal('ORDER_PART_TWICE'))
    const stranger = await aPart(office.database.write, 'P-9')
    expect(await save(3, [{ ...membranes, partId: stranger }])).toMatchObject(refusal('ORDER_PART_NOT_SOLD'))
  })

  test('ORD-74 numbers are taken when an order is sent, and a dropped draft leaves no gap', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane } = await aStockedSupplier(office)
    const lines = [{ partId: membrane, quantity: 6 }]
    const dropped = await aDraft(office, supplierId, lines)
    expect(await office.ask('orders/cancel', { orderId: dropped.orderId, version: 1, reason: '' })).toMatchObject({
      json: { sentence: 'The draft to Orrin Supply is dropped.' },
    })
    const empty = await aDraft(office, supplierId)
    const send = { orderId: empty.orderId, version: 1, expectedOn: null }
    expect(await office.ask('orders/send', send)).toMatchObject(refusal('ORDER_EMPTY'))
    const sent = [await aSentOrder(office, supplierId, lines), await aSentOrder(office, supplierId, lines)]
    expect(sent.map((order) => order.number)).toEqual(['PO-2026-0001', 'PO-2026-0002'])
    expect(await office.ask('orders/send', { ...send, orderId: sent[0]?.orderId, version: 2 })).toMatchObject(
      refusal('ORDER_NOT_DRAFT'),
    )
    const change = { orderId: sent[0]?.orderId, version: sent[0]?.version, lines: [], note: '' }
    expect(await office.ask('orders/saveDraft', change)).toMatchObject(refusal('ORDER_NOT_DRAFT'))
  })

  test('ORD-72 lower prices are kept by quantity, replaced as a whole, and none of them begins twice', async () => {
    const office = await anOffice(await open())
    const { supplierId, sediment } = await aStockedSupplier(office)
    const term = { supplierId, partId: sediment, supplierNumber: 'S-5', price: 250, packSize: 1, minimumQuantity: 0 }
    const save = (breaks: readonly object[]) => office.ask('orders/saveTerm', { ...term, preferred: true, breaks })
    const twice = [
      { from: 50, price: 220 },
      { from: 50, price: 210 },
    ]
    expect(await save(twice)).toMatchObject(refusal('TERM_BREAK_TWICE'))
    expect(
      (
        await save([
          { from: 100, price: 200 },
          { from: 50, price: 220 },
        ])
      ).status,
    ).toBe(200)
    const kept = async () => (await office.ask('orders/terms', { partId: sediment })).json
    expect(await kept()).toMatchObject([
      {
        breaks: [
          { from: 50, price: 220 },
          { from: 100, price: 200 },
        ],
      },
    ])
    const priceOf = async (quantity: number) =>
      (await aDraft(office, supplierId, [{ partId: sediment, quantity }])).lines[0]?.price
    expect([await priceOf(49), await priceOf(50), await priceOf(100)]).toEqual([250, 220, 200])
    expect((await save([])).status).toBe(200)
    expect(await kept()).toMatchObject([{ breaks: [] }])
  })

  test('ORD-75 a sent order is expected on a workday, another day can be set, and both stay in the log', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane } = await aStockedSupplier(office)
    const order = await aSentOrder(office, supplierId, [{ partId: membrane, quantity: 6 }])
    // 2026-12-01 and five days is a Sunday
    expect(order).toMatchObject({ sentOn: '2026-12-01', expectedOn: '2026-12-07', standing: 'awaited' })
    const keys = { orderId: order.orderId, version: order.version, why: 'they are short themselves' }
    const past = { ...keys, expectedOn: '2026-11-30' }
    expect(await office.ask('orders/setExpected', past)).toMatchObject(refusal('ORDER_EXPECTED_PAST'))
    expect(await office.ask('orders/setExpected', { ...keys, expectedOn: '2026-12-14' })).toMatchObject({ status: 200 })
    const moved = await theOrder(office, order.orderId)
    expect(moved.expectedOn).toBe('2026-12-14')
    expect(moved.trace[0]).toMatchObject({
      sentence: 'Order PO-2026-0001 is expected Dec 14, 2026, before it was Dec 7, 2026.',
      details: 'they are short themselves',
    })
    const remark = { orderId: order.orderId, version: moved.version, note: 'asked for Pat' }
    expect((await office.ask('orders/setRemark', remark)).status).toBe(200)
    expect((await theOrder(office, order.orderId)).note).toBe('asked for Pat')
  })

  test('ORD-84 cancelling needs a reason and closes what has not come; a supplier out of use gets no order', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane } = await aStockedSupplier(office)
    const order = await aSentOrder(office, supplierId, [{ partId: membrane, quantity: 12 }])
    const cancel = { orderId: order.orderId, version: order.version }
    expect(await office.ask('orders/cancel', { ...cancel, reason: '' })).toMatchObject(refusal('ORDER_NEEDS_REASON'))
    expect(await office.ask('orders/cancel', { ...cancel, reason: 'found cheaper' })).toMatchObject({
      json: { sentence: 'Order PO-2026-0001 is cancelled: 12 pieces not awaited any more.' },
    })
    expect(await theOrder(office, order.orderId)).toMatchObject({
      state: 'cancelled',
      cancelledReason: 'found cheaper',
      words: { first: 'cancelled', second: 'nothing had come' },
    })
    const again = { ...cancel, version: order.version + 1, reason: 'twice' }
    expect(await office.ask('orders/cancel', again)).toMatchObject(refusal('ORDER_NOT_DRAFT'))
    const closed = { ...ORRIN_SUPPLY, supplierId, version: 1, closed: true }
    expect((await office.ask('orders/saveSupplier', closed)).status).toBe(200)
    expect(await office.ask('orders/draft', { supplierId, lines: [] })).toMatchObject(refusal('SUPPLIER_CLOSED'))
  })

  test('ORD-86 ORD-87 booking is told what would be missing on each day, with the order that is late', async () => {
    const database = await open()
    const before = await anOffice(database, '2026-11-13')
    const { supplierId, membrane, bin } = await aStockedSupplier(before)
    await aSentOrder(before, supplierId, [{ partId: membrane, quantity: 6 }])
    const tx = database.write
    await aLot(tx, { partId: membrane, code: '2603-017', placeId: bin, pieces: 2 })
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const booked = { siteId: await aHousehold(tx, 'Ashgrove Dental'), technicianId: van.technicianId }
    const visitId = await aBookedVisit(tx, { ...booked, on: '2026-12-03', needs: [[membrane, 3]] })
    const siteId = await aHousehold(tx, 'Bexhill')
    const stageId = await aStageOf(database.write, siteId, membrane)
    const office = await anOffice(database, '2026-11-26', false)
    const asked = { siteId, visitId: null, stageIds: [stageId], days: ['2026-12-02', '2026-12-04'] }
    expect(await office.ask('orders/partsForVisit', asked)).toMatchObject({
      json: [
        { on: '2026-12-02', sentences: [] },
        {
          on: '2026-12-04',
          sentences: [
            'Membrane, 75 gal/day: 2 on hand, 3 promised; order PO-2026-0001 from Orrin Supply was expected Nov 18, 8 days late.',
          ],
        },
      ],
    })
    expect(await office.ask('orders/partsForVisit', { ...asked, visitId })).toMatchObject({
      json: [{ sentences: [] }, { sentences: [] }],
    })
    expect(await theOrders(office)).toMatchObject([{ daysLate: 8, words: { first: '8 days late' } }])
    const trays = (await office.ask('desk/trays')).json as { tray: string; words: string }[]
    expect(trays.find((each) => each.tray === 'orders')?.words).toMatch(/^(short, 1 order late|1 order 8 days late)$/)
    expect(await held(tx)).toEqual({ 'B-01-2': 2 })
  })

  test('ORD-93 the sheet of an order that is late or comes too late names who goes without, and nobody else', async () => {
    const database = await open()
    const before = await anOffice(database, '2026-11-13')
    const { supplierId, membrane, sediment, bin } = await aStockedSupplier(before)
    const order = await aSentOrder(before, supplierId, [{ partId: membrane, quantity: 12 }])
    const tx = database.write
    await aLot(tx, { partId: membrane, code: '2603-017', placeId: bin, pieces: 2 })
    await aLot(tx, { partId: sediment, code: 'S-1', placeId: bin, pieces: 9 })
    const { technicianId } = await aVan(tx, 'van 1', 'Ilse R.')
    const visit = async (name: string, on: string, pieces: number) => {
      const needs = [[membrane, pieces] as const, [sediment, 1] as const]
      return aBookedVisit(tx, { siteId: await aHousehold(tx, name), technicianId, on, needs })
    }
    await visit('Ashgrove Dental', '2026-12-01', 2)
    const castellane = await visit('Castellane', '2026-12-08', 1)
    const bexhill = await visit('Bexhill', '2026-12-03', 4)
    const office = await anOffice(database, '2026-11-26', false)
    const waiting = async () => (await theOrder(office, order.orderId)).waiting
    expect(await waiting()).toEqual({
      sentence:
        'What is on hand is not enough for them, and this order has not come. Ask Orrin Supply when it comes, or move visits.',
      count: 2,
      visits: [
        {
          visitId: bexhill,
          on: '2026-12-03',
          household: 'Bexhill',
          lacks: ['All 4 pieces of Membrane, 75 gal/day are missing'],
        },
        { visitId: castellane, on: '2026-12-08', household: 'Castellane', lacks: ['Membrane, 75 gal/day is missing'] },
      ],
    })
    const expectOn = async (expectedOn: string) => {
      const { version } = await theOrder(office, order.orderId)
      await office.ask('orders/setExpected', { orderId: order.orderId, version, expectedOn, why: '' })
    }
    // On the very day is too late to be pulled; the visit after it is served.
    await expectOn('2026-12-03')
    expect(await waiting()).toMatchObject({
      sentence:
        'What is on hand is not enough for it, and this order comes Dec 3, too late to be pulled for it. Ask Orrin Supply for an earlier day, or move the visit.',
      visits: [{ household: 'Bexhill' }],
    })
    await expectOn('2026-12-02')
    expect(await waiting()).toBeNull()
    // What another part stands in for does not wait; a dose that every visit uses does.
    await expectOn('2026-12-20')
    const other = await aPart(tx, 'P-2100', { name: 'Membrane, 100 gal/day' })
    const substitute = { office_id: FIRST_OFFICE, part_id: membrane, substitute_id: other, rank: 1 }
    await tx.insertInto('part_substitutes').values(substitute).execute()
    await aLot(tx, { partId: other, code: '2605-001', placeId: bin, pieces: 9 })
    expect(await waiting()).toBeNull()
    await tx.updateTable('parts').set({ per_visit_quantity: 4 }).where('id', '=', sediment).execute()
    const more = await aSentOrder(office, supplierId, [{ partId: sediment, quantity: 40 }])
    await tx
      .updateTable('purchase_orders')
      .set({ expected_on: calendarDate('2026-11-25') })
      .where('id', '=', more.orderId)
      .execute()
    expect((await theOrder(office, more.orderId)).waiting).toMatchObject({
      count: 2,
      visits: [
        { household: 'Bexhill', lacks: ['1 of 5 pieces of Sediment filter is missing'] },
        { household: 'Castellane', lacks: ['All 5 pieces of Sediment filter are missing'] },
      ],
    })
    await tx.updateTable('visits').set({ state: 'cancelled' }).where('id', 'in', [bexhill, castellane]).execute()
    expect((await theOrder(office, more.orderId)).waiting).toEqual({
      sentence: 'No booked visit waits for it: what is on hand is enough.',
      count: 0,
      visits: [],
    })
  })

  test('ORD-91 ORD-92 booking counts what every visit uses, and says what stands in where the stage allows it', async () => {
    const database = await open()
    const office = await anOffice(database, '2026-11-26')
    const { membrane, bin } = await aStockedSupplier(office)
    const tx = database.write
    const other = await aPart(tx, 'P-2100', { name: 'Membrane, 100 gal/day' })
    const sanitiser = await aPart(tx, 'P-9001', { name: 'Sanitiser, one dose', perVisit: 1 })
    await tx
      .insertInto('part_substitutes')
      .values({ office_id: FIRST_OFFICE, part_id: membrane, substitute_id: other, rank: 1 })
      .execute()
    await aLot(tx, { partId: other, code: '2605-001', placeId: bin, pieces: 1 })
    await aLot(tx, { partId: sanitiser, code: 'S-1', placeId: bin, pieces: 1 })
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const siteId = await aHousehold(tx, 'Bexhill')
    const stageId = await aStageOf(tx, siteId, membrane)
    const asked = { siteId, visitId: null, stageIds: [stageId], days: ['2026-12-02'] }
    const sentences = async (question: object = asked) =>
      ((await office.ask('orders/partsForVisit', question)).json as { sentences: string[] }[])[0]?.sentences
    expect(await sentences()).toEqual(['Membrane, 75 gal/day: none on hand; Membrane, 100 gal/day stands in for it.'])
    await tx.updateTable('stages').set({ own_part_only: 1 }).where('id', '=', stageId).execute()
    expect(await sentences()).toEqual(['Membrane, 75 gal/day: none on hand; none is on order.'])
    // Another visit that day uses the one dose there is.
    const booked = { siteId: await aHousehold(tx, 'Castellane'), technicianId: van.technicianId }
    const visitId = await aBookedVisit(tx, { ...booked, on: '2026-12-02', needs: [] })
    expect(await sentences({ ...asked, stageIds: [] })).toEqual([
      'Sanitiser, one dose: 1 on hand, 1 promised; none is on order.',
    ])
    expect(await sentences({ ...asked, stageIds: [], visitId })).toEqual([])
  })
})
