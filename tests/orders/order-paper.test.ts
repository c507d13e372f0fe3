import { describe, expect, test } from 'vitest'
import { type OrderAsSent, orderAsText, quantityWords } from '../../core/orders/order-as-sent.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { aSentOrder, aStockedSupplier, ORRIN_SUPPLY, theOrder } from '../builders/an-order.ts'
import { databases } from '../data/each-database.ts'
import { wordsOnPages } from '../judges/words-on-pages.ts'

async function paper(office: AnOffice, orderId: number): Promise<Uint8Array> {
  const response = await office.handle(new Request(`http://office/papers/orders/${orderId}.pdf`))
  expect([response.status, response.headers.get('content-type')]).toEqual([200, 'application/pdf'])
  return new Uint8Array(await response.arrayBuffer())
}

async function words(pdf: Uint8Array): Promise<string> {
  return JSON.stringify(await wordsOnPages(pdf))
}

describe.each(databases)('an order on paper from $name', ({ open }) => {
  test('ORD-76 what was sent is printed the same, to the byte, when supplier, part, price and remark have changed', async () => {
    const database = await open()
    const office = await anOffice(database)
    const { supplierId, membrane, sediment } = await aStockedSupplier(office)
    const lines = [
      { partId: membrane, quantity: 24 },
      { partId: sediment, quantity: 5 },
    ]
    const order = await aSentOrder(office, supplierId, lines)
    const first = await paper(office, order.orderId)
    const page = await words(first)
    for (const said of ['PO-2026-0001', 'ORRIN', 'LW-4410', 'M-75', '129.60', '142.10', 'Tollard Mill XX 00142'])
      expect(page.replaceAll('","', ' ')).toContain(said)
    const moved = { ...ORRIN_SUPPLY, supplierId, version: 1, name: 'Orrin Falls Supply', line1: '1 New Road' }
    expect((await office.ask('orders/saveSupplier', moved)).status).toBe(200)
    const term = { supplierId, partId: membrane, minimumQuantity: 0, preferred: true, breaks: [] }
    await office.ask('orders/saveTerm', { ...term, supplierNumber: 'X', price: 1, packSize: 5 })
    const { version } = await theOrder(office, order.orderId)
    await office.ask('orders/setRemark', { orderId: order.orderId, version, note: 'asked twice' })
    const later = await anOffice(database, '2026-12-24', false)
    expect(Buffer.from(await paper(later, order.orderId)).equals(Buffer.from(first))).toBe(true)
    expect((await theOrder(later, order.orderId)).text).toContain('your number M-75')
    expect((await later.handle(new Request('http://office/papers/orders/99.pdf'))).status).not.toBe(200)
  })

  test('ORD-76 a draft can be looked at, and says that it is one', async () => {
    const office = await anOffice(await open())
    const { supplierId, membrane } = await aStockedSupplier(office)
    const lines = [{ partId: membrane, quantity: 6 }]
    const { orderId } = (await office.ask('orders/draft', { supplierId, lines })).json as { orderId: number }
    expect(await words(await paper(office, orderId))).toContain('draft')
  })
})

test('ORD-76 the text for a mail says every line, the total, the day and where to deliver', () => {
  const order: OrderAsSent = {
    senderName: 'Larkmoor Water',
    sender: ['4 Sluice Yard, Tollard Mill', '555-0100'],
    supplierAddress: ['ORRIN SUPPLY'],
    account: 'LW-4410',
    deliverTo: ['Larkmoor Water', '4 Sluice Yard', 'Tollard Mill XX 00142'],
    remark: 'Ring before you come.',
    expectedOn: calendarDate('2026-12-07'),
    currency: 'USD',
    locale: 'en-US',
    pageSize: 'letter',
    windowEnvelope: 'us-10',
    sentAt: '2026-12-01T12:00:00.000Z',
    by: 'the office',
    lines: [
      { number: 'P-2075', name: 'Membrane', supplierNumber: 'M-75', packSize: 6, quantity: 24, price: cents(540) },
      { number: 'P-1005', name: 'Sediment filter', supplierNumber: '', packSize: 1, quantity: 1, price: cents(250) },
    ],
  }
  expect(orderAsText(order, 'PO-2026-0001', calendarDate('2026-12-01'))).toBe(
    [
      'Order PO-2026-0001 of December 1, 2026',
      'Our account with you: LW-4410',
      '',
      '1. Membrane (your number M-75, our number P-2075): 24 pieces (4 packs of 6) at $5.40, $129.60',
      '2. Sediment filter (our number P-1005): 1 piece at $2.50, $2.50',
      '',
      'Total: $132.10',
      '',
      'We expect it on December 7, 2026.',
      'Deliver to: Larkmoor Water, 4 Sluice Yard, Tollard Mill XX 00142',
      '',
      'Ring before you come.',
      '',
      'Larkmoor Water',
      '4 Sluice Yard, Tollard Mill',
      '555-0100',
    ].join('\n'),
  )
  expect(quantityWords({ quantity: 7, packSize: 6 })).toBe('7 pieces')
})
