import { describe, expect, test } from 'vitest'
import type { SupplierProposals } from '../../core/orders/proposal-shapes.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { theOrder } from '../builders/an-order.ts'
import { databases } from '../data/each-database.ts'

/** One part, four in the bin, seven booked within the lead time, sold in packs of six by one supplier. */
async function aShortPart(office: AnOffice) {
  const tx = office.database.write
  const partId = await aPart(tx, 'P-2075')
  const bin = await aPlace(tx, 'B-01-2', 10)
  await aLot(tx, { partId, code: '2603-017', expiresOn: '2027-03-31', placeId: bin, pieces: 4 })
  const van = await aVan(tx, 'van 1', 'Ilse R.')
  const siteId = await aHousehold(tx, 'Ashgrove Dental')
  // A pull serves whole visits: the one that wants four has them, the other waits.
  for (const [index, pieces] of [4, 3].entries()) {
    const needs = [[partId, pieces]] as const
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: '2026-12-03', from: 480 + index * 60, needs })
  }
  const supplier = {
    supplierId: null,
    version: null,
    name: 'Orrin Supply',
    phone: '555-0171',
    email: 'orders@orrin.example.com',
  }
  const saved = await office.ask('orders/saveSupplier', {
    ...supplier,
    leadTimeDays: 5,
    reviewDays: null,
    minimumOrder: 5000,
  })
  const { supplierId } = saved.json as { supplierId: number }
  const term = {
    supplierId,
    partId,
    supplierNumber: 'M75',
    price: 600,
    packSize: 6,
    minimumQuantity: 0,
    preferred: true,
  }
  expect((await office.ask('orders/saveTerm', term)).status).toBe(200)
  return { tx, partId, bin, van, supplierId }
}

async function groups(office: AnOffice): Promise<SupplierProposals[]> {
  return ((await office.ask('orders/proposals')).json as { groups: SupplierProposals[] }).groups
}

describe.each(databases)('orders on $name', ({ open }) => {
  test('ORD-1 ORD-3 ORD-5 ORD-7 what runs short is proposed by supplier, with its arithmetic', async () => {
    const office = await anOffice(await open())
    await aShortPart(office)
    const [group] = await groups(office)
    expect(group).toMatchObject({ supplier: 'Orrin Supply', cost: 3600, lacks: 1400 })
    expect(group?.proposals).toMatchObject([{ order: 6, short: 3, covers: '2026-12-13', part: { number: 'P-2075' } }])
    expect(group?.proposals[0]?.lines.map((line) => [line.kind, line.pieces])).toEqual([
      ['booked', 7],
      ['on-hand', -4],
      ['packs', 3],
    ])
  })

  test('ORD-3 what an open pull promised is not counted twice', async () => {
    const office = await anOffice(await open())
    const { van } = await aShortPart(office)
    await office.ask('pull/begin', { on: '2026-12-03', vanIds: [van.vanId] })
    const [group] = await groups(office)
    expect(group?.proposals[0]?.lines.map((line) => [line.kind, line.pieces])).toEqual([
      ['booked', 3],
      ['promised', 4],
      ['on-hand', -4],
      ['packs', 3],
    ])
  })

  test('ORD-8 what is drafted and what was sent is not proposed again', async () => {
    const office = await anOffice(await open())
    const { partId, supplierId } = await aShortPart(office)
    const lines = [{ partId, quantity: 6 }]
    const { orderId } = (await office.ask('orders/draft', { supplierId, lines })).json as { orderId: number }
    expect(await groups(office)).toEqual([])
    expect((await theOrder(office, orderId)).lines[0]?.reason).not.toBe('')
    expect((await office.ask('orders/send', { orderId, version: 1, expectedOn: null })).status).toBe(200)
    expect(await groups(office)).toEqual([])
    const giveUp = { orderId, version: 2, lineIds: [], reason: 'no longer made' }
    expect((await office.ask('orders/giveUp', giveUp)).status).toBe(200)
    expect(await groups(office)).toMatchObject([{ proposals: [{ part: { partId } }] }])
  })
})
