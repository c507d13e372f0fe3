import type { Asking } from '../answering.ts'
import { postalAddressLines } from '../customers/postal-address.ts'
import type { ReadDb } from '../database/handles.ts'
import { findOffice } from '../settings/office-store.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { PurchaseOrderLineId } from '../units/ids.ts'
import type { OrderAsSent, SentLine } from './order-as-sent.ts'
import { linesOfOrders, type OrderHead } from './orders-store.ts'
import { findSentOrder } from './sent-orders-store.ts'
import { findSupplier, listTerms } from './suppliers-store.ts'

type Asks = Pick<Asking, 'officeId' | 'now' | 'by'> & { readonly read: ReadDb }

export interface ComposedOrder extends OrderAsSent {
  readonly lines: readonly (SentLine & { readonly lineId: PurchaseOrderLineId })[]
}

/** What an order would be sent with today: its lines, and the office and the supplier as they are. */
export async function composeOrder(
  asks: Asks,
  order: OrderHead,
  expectedOn: CalendarDate | null,
): Promise<ComposedOrder> {
  const { read, officeId } = asks
  const settings = await readSettings(read, officeId)
  const office = await findOffice(read, officeId)
  const supplier = await findSupplier(read, officeId, order.supplierId)
  const terms = (await listTerms(read, officeId)).filter((term) => term.supplierId === order.supplierId)
  const lines = await linesOfOrders(read, officeId, [order.orderId])
  const town = [office?.town, office?.region, office?.postalCode].filter(Boolean).join(' ')
  const street = [office?.line1, office?.line2].filter(Boolean).join(', ')
  return {
    senderName: office?.name ?? '',
    sender: filled([filled([street, office?.town]).join(', '), office?.phone, office?.email]),
    supplierAddress: supplier
      ? postalAddressLines(
          { ...supplier, names: [supplier.name], street: supplier.line1, unit: supplier.line2 },
          settings.windowEnvelope === 'us-10' ? 'usps' : 'din-5008',
        )
      : [order.supplier],
    account: supplier?.account ?? '',
    deliverTo: filled([office?.name, street, town]),
    remark: order.note,
    expectedOn,
    currency: settings.currency,
    locale: settings.locale,
    pageSize: settings.pageSize,
    windowEnvelope: settings.windowEnvelope,
    sentAt: asks.now,
    by: asks.by,
    lines: lines.map(({ lineId, partId, number, name, quantity, price }) => {
      const term = terms.find((each) => each.partId === partId)
      const { supplierNumber = '', packSize = 1 } = term ?? {}
      return { lineId, number, name, supplierNumber, packSize, quantity, price }
    }),
  }
}

function filled(lines: readonly (string | undefined)[]): string[] {
  return lines.flatMap((line) => (line ? [line] : []))
}

/** What an order was sent with; for a draft, and where that was not kept, what it would be sent with. */
export async function orderAsKept(asks: Asks, order: OrderHead, wouldCome: CalendarDate): Promise<OrderAsSent> {
  const kept = await findSentOrder(asks.read, asks.officeId, order.orderId)
  return kept ?? composeOrder(asks, order, order.expectedOn ?? wouldCome)
}
