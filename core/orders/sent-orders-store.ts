import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId, PurchaseOrderId, PurchaseOrderLineId } from '../units/ids.ts'
import type { OrderAsSent, SentLine } from './order-as-sent.ts'

/** Keeps what an order is sent with, once. */
export async function insertSentOrder(
  tx: WriteDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
  sent: Omit<OrderAsSent, 'lines'>,
  lines: readonly (SentLine & { readonly lineId: PurchaseOrderLineId })[],
): Promise<void> {
  await tx
    .insertInto('sent_orders')
    .values({
      office_id: officeId,
      order_id: orderId,
      sender_name: sent.senderName,
      sender: sent.sender.join('\n'),
      supplier_address: sent.supplierAddress.join('\n'),
      account: sent.account,
      deliver_to: sent.deliverTo.join('\n'),
      remark: sent.remark,
      expected_on: sent.expectedOn,
      currency: sent.currency,
      locale: sent.locale,
      page_size: sent.pageSize,
      window_envelope: sent.windowEnvelope,
      sent_at: sent.sentAt,
      by_whom: sent.by,
    })
    .execute()
  await tx
    .insertInto('sent_order_lines')
    .values(
      lines.map((line) => ({
        office_id: officeId,
        order_line_id: line.lineId,
        part_number: line.number,
        part_name: line.name,
        supplier_number: line.supplierNumber,
        pack_size: line.packSize,
      })),
    )
    .execute()
}

/** What an order was sent with; null when that was not kept. */
export async function findSentOrder(
  db: ReadDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
): Promise<OrderAsSent | null> {
  const row = await db
    .selectFrom('sent_orders')
    .select(['sender_name', 'sender', 'supplier_address', 'account', 'deliver_to', 'remark', 'expected_on'])
    .select(['currency', 'locale', 'page_size', 'window_envelope', 'sent_at', 'by_whom'])
    .where('office_id', '=', officeId)
    .where('order_id', '=', orderId)
    .executeTakeFirst()
  if (!row) return null
  const lines = await db
    .selectFrom('sent_order_lines as s')
    .innerJoin('purchase_order_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.order_line_id'),
    )
    .select(['s.part_number as number', 's.part_name as name', 's.supplier_number as supplierNumber'])
    .select(['s.pack_size as packSize', 'l.quantity as quantity', 'l.price_cents as price'])
    .where('s.office_id', '=', officeId)
    .where('l.order_id', '=', orderId)
    .orderBy('l.position')
    .orderBy('l.id')
    .execute()
  const linesOf = (text: string): string[] => (text === '' ? [] : text.split('\n'))
  return {
    senderName: row.sender_name,
    sender: linesOf(row.sender),
    supplierAddress: linesOf(row.supplier_address),
    account: row.account,
    deliverTo: linesOf(row.deliver_to),
    remark: row.remark,
    expectedOn: row.expected_on,
    currency: row.currency,
    locale: row.locale,
    pageSize: row.page_size,
    windowEnvelope: row.window_envelope,
    sentAt: row.sent_at,
    by: row.by_whom,
    lines,
  }
}
