import { expect } from 'vitest'
import type { OrderInFull, OrderRow } from '../../core/orders/order-shapes.ts'
import type { PartId, PlaceId, SupplierId } from '../../core/units/ids.ts'
import { aPart, aPlace } from './a-warehouse.ts'
import type { AnOffice } from './an-office.ts'

export interface AStockedSupplier {
  readonly supplierId: SupplierId
  /** Packs of six at 6.00, from 24 on 5.40; usually lies in `bin`. */
  readonly membrane: PartId
  /** Single pieces at 2.50. */
  readonly sediment: PartId
  readonly bin: PlaceId
}

export const ORRIN_SUPPLY = {
  supplierId: null,
  version: null,
  name: 'Orrin Supply',
  account: 'LW-4410',
  line1: '7 Quarry Road',
  line2: '',
  town: 'Orrin Falls',
  region: 'XX',
  postalCode: '00161',
  country: '',
  phone: '555-0171',
  email: 'orders@orrin.example.com',
  leadTimeDays: 5,
  reviewDays: null,
  minimumOrder: 5000,
  note: '',
  closed: false,
}

/** A supplier who takes five days, with two parts and their terms. */
export async function aStockedSupplier(office: AnOffice): Promise<AStockedSupplier> {
  const tx = office.database.write
  const membrane = await aPart(tx, 'P-2075', { name: 'Membrane, 75 gal/day' })
  const sediment = await aPart(tx, 'P-1005', { name: 'Sediment filter' })
  const bin = await aPlace(tx, 'B-01-2', 10)
  await aPlace(tx, 'B-01-3', 20)
  const { supplierId } = (await office.ask('orders/saveSupplier', ORRIN_SUPPLY)).json as { supplierId: SupplierId }
  const term = { supplierId, minimumQuantity: 0, preferred: true }
  const terms = [
    { ...term, partId: membrane, supplierNumber: 'M-75', price: 600, packSize: 6, breaks: [{ from: 24, price: 540 }] },
    { ...term, partId: sediment, supplierNumber: 'S-5', price: 250, packSize: 1, breaks: [] },
  ]
  for (const each of terms) expect((await office.ask('orders/saveTerm', each)).status).toBe(200)
  return { supplierId, membrane, sediment, bin }
}

export async function theOrder(office: AnOffice, orderId: number): Promise<OrderInFull> {
  return (await office.ask('orders/one', { orderId })).json as OrderInFull
}

export async function theOrders(office: AnOffice): Promise<OrderRow[]> {
  return (await office.ask('orders/list')).json as OrderRow[]
}

/** An order drafted and sent today; returns it as it stands. */
export async function aSentOrder(
  office: AnOffice,
  supplierId: SupplierId,
  lines: readonly { readonly partId: PartId; readonly quantity: number }[],
): Promise<OrderInFull> {
  const { orderId } = (await office.ask('orders/draft', { supplierId, lines })).json as { orderId: number }
  expect(await office.ask('orders/send', { orderId, version: 1, expectedOn: null })).toMatchObject({ status: 200 })
  return theOrder(office, orderId)
}

/** A lot of a delivery, as the form sends it; six good pieces at the ordered price when nothing else is said. */
export function aLotOf(order: OrderInFull, part: PartId, own: object = {}) {
  const line = order.lines.find((each) => each.part.partId === part)
  if (!line) throw new Error('The order has no line for this part')
  const lot = { lot: '2612-001', expiresOn: '2028-12-31', accepted: 6, damaged: 0, replaced: true }
  const placeId = line.usualPlaceId ?? 1
  const rest = { placeId, price: line.price, keepPrice: false, furtherDelivery: false }
  return { lineId: line.lineId, seen: line.received, ...lot, ...rest, ...own }
}

export function receive(office: AnOffice, order: OrderInFull, lines: readonly object[], takeAll = false) {
  return office.ask('orders/receive', { orderId: order.orderId, note: '', takeAll, lines })
}
