import { describe, expect, test } from 'vitest'
import type { OrderInFull } from '../../core/orders/order-shapes.ts'
import type { MovementLine } from '../../core/stock/stock-contract.ts'
import { held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { aLotOf, aSentOrder, aStockedSupplier, receive, theOrder } from '../builders/an-order.ts'
import { databases } from '../data/each-database.ts'

const refusal = (code: string) => ({ status: 422, json: { data: { code } } })

async function anOrderToReceive(office: AnOffice) {
  const parts = await aStockedSupplier(office)
  const { supplierId, membrane, sediment, bin } = parts
  await office.ask('stock/part', { partId: membrane })
  await office.database.write
    .insertInto('part_bins')
    .values([membrane, sediment].map((part_id) => ({ office_id: 1, part_id, place_id: bin, rank: 1 })) as never)
    .execute()
  const lines = [
    { partId: membrane, quantity: 12 },
    { partId: sediment, quantity: 4 },
  ]
  const order: OrderInFull = await aSentOrder(office, supplierId, lines)
  return { ...parts, order }
}

describe.each(databases)('receiving an order on $name', ({ open }) => {
  test('ORD-77 ORD-80 ORD-81 two deliveries in part close the order by themselves, each on its receipt', async () => {
    const office = await anOffice(await open())
    const { order, membrane, sediment } = await anOrderToReceive(office)
    const first = [aLotOf(order, membrane), aLotOf(order, sediment, { lot: 'S-1', accepted: 4 })]
    expect(await receive(office, order, first)).toMatchObject({
      json: { sentence: '10 pieces received on order PO-2026-0001.' },
    })
    const part = await theOrder(office, order.orderId)
    expect(part).toMatchObject({ state: 'sent', standing: 'part', open: 6, expectedOn: '2026-12-07' })
    expect(part.lines.map((line) => line.words)).toEqual(['12 ordered, 6 received, 6 awaited', '4 ordered, 4 received'])
    expect(part.receipts).toMatchObject([
      {
        lines: [
          { lot: '2612-001', accepted: 6 },
          { lot: 'S-1', accepted: 4 },
        ],
      },
    ])
    expect(await receive(office, part, [aLotOf(part, membrane, { lot: '2612-002' })])).toMatchObject({
      json: { sentence: '6 pieces received on order PO-2026-0001. Nothing of it is awaited any more.' },
    })
    const done = await theOrder(office, order.orderId)
    expect(done).toMatchObject({ state: 'received', standing: 'closed', open: 0 })
    expect(done.receipts).toHaveLength(2)
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 16 })
  })

  test('ORD-78 ORD-9 more than was ordered is asked about, then taken and counted', async () => {
    const office = await anOffice(await open())
    const { order, membrane } = await anOrderToReceive(office)
    const lots = [aLotOf(order, membrane, { accepted: 9 }), aLotOf(order, membrane, { lot: '2612-002', accepted: 5 })]
    expect(await receive(office, order, lots)).toMatchObject({
      status: 422,
      json: {
        data: {
          code: 'ORDER_OVER',
          sentence: 'Of Membrane, 75 gal/day 12 were ordered and 12 are still awaited; 14 came.',
          nextStep: 'Take all 14 and count them on this order, or take in 12 and send 2 back.',
        },
      },
    })
    expect(await held(office.database.write)).toEqual({})
    expect((await receive(office, order, lots, true)).status).toBe(200)
    expect((await theOrder(office, order.orderId)).lines[0]).toMatchObject({
      received: 14,
      words: '12 ordered, 14 received, 2 more than ordered',
    })
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 14 })
  })

  test('ORD-79 damaged pieces are set aside and stay awaited, or are given up where they are not sent again', async () => {
    const office = await anOffice(await open())
    const { order, membrane } = await anOrderToReceive(office)
    expect(await receive(office, order, [aLotOf(order, membrane, { damaged: 2 })])).toMatchObject({
      json: { sentence: '6 pieces received on order PO-2026-0001, 2 more came damaged and are set aside.' },
    })
    const after = await theOrder(office, order.orderId)
    expect(after.lines[0]).toMatchObject({ received: 6, damaged: 2, open: 6 })
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 6, quarantine: 2 })
    const bad = aLotOf(after, membrane, { lot: '2612-002', accepted: 0, damaged: 4, replaced: false })
    expect((await receive(office, after, [bad])).status).toBe(200)
    expect((await theOrder(office, order.orderId)).lines[0]).toMatchObject({
      received: 6,
      damaged: 6,
      givenUp: 4,
      open: 2,
    })
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 6, quarantine: 6 })
    const places = office.database.read.selectFrom('places').select('id').where('kind', '=', 'quarantine')
    const { id: placeId } = await places.executeTakeFirstOrThrow()
    const last = await theOrder(office, order.orderId)
    const good = aLotOf(last, membrane, { lot: '2612-003', accepted: 2, placeId })
    expect(await receive(office, last, [good])).toMatchObject(refusal('ORDER_INTO_QUARANTINE'))
  })

  test('ORD-80 what nobody waits for any more closes the order with a reason, and can be awaited again', async () => {
    const office = await anOffice(await open())
    const { order, membrane } = await anOrderToReceive(office)
    await receive(office, order, [aLotOf(order, membrane)])
    const part = await theOrder(office, order.orderId)
    const keys = { orderId: order.orderId, version: part.version, lineIds: [] }
    expect(await office.ask('orders/giveUp', { ...keys, reason: '' })).toMatchObject(refusal('ORDER_NEEDS_REASON'))
    expect(await office.ask('orders/giveUp', { ...keys, reason: 'no longer made' })).toMatchObject({ status: 200 })
    const closed = await theOrder(office, order.orderId)
    expect(closed).toMatchObject({ state: 'received', words: { second: '6 pieces, 10 not waited for' } })
    expect(closed.trace[0]).toMatchObject({
      sentence: 'Order PO-2026-0001: 6 of Membrane, 75 gal/day, 4 of Sediment filter not waited for any more.',
      details: 'no longer made',
    })
    const again = { ...keys, version: closed.version }
    expect((await office.ask('orders/waitAgain', again)).status).toBe(200)
    expect(await theOrder(office, order.orderId)).toMatchObject({ state: 'sent', open: 10 })
  })

  test('ORD-84 the rest of an order is cancelled and what came stays', async () => {
    const office = await anOffice(await open())
    const { order, membrane } = await anOrderToReceive(office)
    await receive(office, order, [aLotOf(order, membrane)])
    const { version } = await theOrder(office, order.orderId)
    const cancel = { orderId: order.orderId, version, reason: 'the rest is too dear' }
    expect(await office.ask('orders/cancel', cancel)).toMatchObject({
      json: {
        sentence:
          'The rest of order PO-2026-0001 is cancelled: 10 pieces not awaited any more; the 6 that came stay in stock.',
      },
    })
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 6 })
    const more = [aLotOf(order, membrane, { seen: 6, lot: 'x' })]
    expect(await receive(office, order, more)).toMatchObject(refusal('ORDER_NOT_SENT'))
  })

  test('ORD-82 a receipt put right reopens the order and is awaited again', async () => {
    const office = await anOffice(await open())
    const { order, membrane, sediment } = await anOrderToReceive(office)
    const all = [aLotOf(order, membrane, { accepted: 12 }), aLotOf(order, sediment, { lot: 'S-1', accepted: 4 })]
    const done = (await receive(office, order, all)).json as { movements: number[] }
    expect(done.movements).toHaveLength(2)
    expect((await theOrder(office, order.orderId)).state).toBe('received')
    const { movements } = (await office.ask('stock/movements', { partId: membrane, before: null })).json as {
      movements: MovementLine[]
    }
    expect(movements).toMatchObject([{ reason: 'receive', quantity: 12, canBePutRight: true }])
    const right = { movementId: movements[0]?.movementId, note: 'counted twice' }
    expect((await office.ask('stock/putRight', right)).status).toBe(200)
    const reopened = await theOrder(office, order.orderId)
    expect(reopened).toMatchObject({ state: 'sent', open: 12, lines: [{ received: 0 }, { received: 4 }] })
    expect(reopened.receipts[0]?.lines[0]).toMatchObject({ accepted: 12, putRight: 12 })
    expect(reopened.trace[0]?.sentence).toBe(
      '12 pieces of Membrane, 75 gal/day received on order PO-2026-0001 put right: not received.',
    )
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 4 })
    const more = aLotOf(reopened, membrane, { accepted: 12, furtherDelivery: true })
    expect((await receive(office, reopened, [more])).status).toBe(200)
    expect((await theOrder(office, order.orderId)).state).toBe('received')
  })

  test('ORD-83 a dearer delivery is said, and becomes the price of the supplier only when asked', async () => {
    const office = await anOffice(await open())
    const { order, membrane, supplierId } = await anOrderToReceive(office)
    const price = async (quantity: number): Promise<number | undefined> => {
      const asked = { supplierId, lines: [{ partId: membrane, quantity }] }
      const { orderId } = (await office.ask('orders/draft', asked)).json as { orderId: number }
      return (await theOrder(office, orderId)).lines[0]?.price
    }
    expect((await receive(office, order, [aLotOf(order, membrane, { price: 640 })])).status).toBe(200)
    const part = await theOrder(office, order.orderId)
    expect(part.receipts[0]?.lines[0]?.difference).toBe('$0.40 more a piece (6.7 %), $2.40 on 6 pieces')
    expect(part.difference).toBe(240)
    expect(await price(6)).toBe(600)
    const kept = aLotOf(part, membrane, { lot: '2612-002', price: 620, keepPrice: true })
    expect((await receive(office, part, [kept])).status).toBe(200)
    expect((await theOrder(office, order.orderId)).difference).toBe(360)
    expect([await price(6), await price(24)]).toEqual([620, 540])
    const lots = await office.database.read.selectFrom('lots').select(['code', 'cost_cents']).orderBy('code').execute()
    expect(lots).toEqual([
      { code: '2612-001', cost_cents: 640 },
      { code: '2612-002', cost_cents: 620 },
    ])
  })

  test('ORD-85 the second of two who receive the same line is told what came, and nothing is doubled', async () => {
    const office = await anOffice(await open())
    const { order, membrane } = await anOrderToReceive(office)
    const answers = await Promise.all([
      receive(office, order, [aLotOf(order, membrane, { accepted: 12 })]),
      receive(office, order, [aLotOf(order, membrane, { accepted: 12, lot: '2612-002' })]),
    ])
    expect(answers.map((answer) => answer.status).toSorted()).toEqual([200, 422])
    expect(answers.find((answer) => answer.status === 422)).toMatchObject({
      json: {
        data: {
          code: 'ORDER_LINE_MEANWHILE',
          sentence:
            'Somebody received Membrane, 75 gal/day on this order while you were typing: 12 of 12 have come by now.',
        },
      },
    })
    expect((await theOrder(office, order.orderId)).lines[0]).toMatchObject({ received: 12 })
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 12 })
    expect(await office.database.read.selectFrom('receipts').select('id').execute()).toHaveLength(1)
  })

  test('ORD-88 STK-5 a lot received twice and a date that is past are refused, and nothing of the delivery is written', async () => {
    const office = await anOffice(await open())
    const { order, membrane, sediment } = await anOrderToReceive(office)
    const past = [
      aLotOf(order, sediment, { lot: 'S-1', accepted: 4 }),
      aLotOf(order, membrane, { expiresOn: '2026-11-30' }),
    ]
    expect(await receive(office, order, past)).toMatchObject(refusal('STOCK_EXPIRY_PAST'))
    expect(await held(office.database.write)).toEqual({})
    expect((await receive(office, order, [aLotOf(order, membrane)])).status).toBe(200)
    const after = await theOrder(office, order.orderId)
    const twice = aLotOf(after, membrane)
    expect(await receive(office, after, [twice])).toMatchObject(refusal('STOCK_LOT_KNOWN'))
    const other = { expiresOn: '2029-01-31', furtherDelivery: true }
    expect(await receive(office, after, [{ ...twice, ...other }])).toMatchObject(refusal('STOCK_LOT_OTHER_EXPIRY'))
    expect((await receive(office, after, [{ ...twice, furtherDelivery: true }])).status).toBe(200)
    expect(await held(office.database.write)).toEqual({ 'B-01-2': 12 })
    expect(await receive(office, after, [aLotOf(after, sediment, { accepted: 0 })])).toMatchObject(
      refusal('ORDER_NOTHING_CAME'),
    )
    expect(await receive(office, after, [aLotOf(after, sediment, { accepted: 1.5 })])).toMatchObject(
      refusal('STOCK_PIECES_NOT_WHOLE'),
    )
    expect(await receive(office, after, [aLotOf(after, sediment, { accepted: -1, damaged: 2 })])).toMatchObject(
      refusal('STOCK_PIECES_NOT_WHOLE'),
    )
  })
})
