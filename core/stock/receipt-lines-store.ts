import type { WriteDb } from '../database/handles.ts'
import type { LotId, OfficeId, PartId, PurchaseOrderLineId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

/** What came of a lot with a delivery: how many went into a bin, how many were set aside. */
export interface ReceiptLine {
  readonly receiptId: number
  readonly orderLineId: PurchaseOrderLineId | null
  readonly partId: PartId
  readonly lotId: LotId
  readonly accepted: number
  readonly damaged: number
  /** What a piece was charged at. */
  readonly price: Cents
}

export async function insertReceiptLine(tx: WriteDb, officeId: OfficeId, line: ReceiptLine): Promise<void> {
  await tx
    .insertInto('receipt_lines')
    .values({
      office_id: officeId,
      receipt_id: line.receiptId,
      order_line_id: line.orderLineId,
      part_id: line.partId,
      lot_id: line.lotId,
      accepted: line.accepted,
      damaged: line.damaged,
      price_cents: line.price,
    })
    .execute()
}
