import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type {
  LotId,
  MovementId,
  OfficeId,
  PartId,
  PlaceId,
  PurchaseOrderId,
  PurchaseOrderLineId,
} from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

/** A lot of a delivery against an order. */
export interface ReceiptLineRow {
  readonly receiptId: number
  readonly receivedOn: CalendarDate
  readonly by: string
  readonly note: string
  readonly lineId: PurchaseOrderLineId | null
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly lotId: LotId
  readonly lot: string
  readonly expiresOn: CalendarDate | null
  readonly accepted: number
  readonly damaged: number
  readonly price: Cents
}

/** What came on an order, the first delivery first. */
export async function receiptLinesOfOrder(
  db: ReadDb,
  officeId: OfficeId,
  orderId: PurchaseOrderId,
): Promise<ReceiptLineRow[]> {
  return db
    .selectFrom('receipts as r')
    .innerJoin('receipt_lines as l', (join) =>
      join.onRef('l.office_id', '=', 'r.office_id').onRef('l.receipt_id', '=', 'r.id'),
    )
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .innerJoin('lots as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.lot_id'))
    .select(['r.id as receiptId', 'r.received_on as receivedOn', 'r.by_whom as by', 'r.note as note'])
    .select(['l.order_line_id as lineId', 'l.part_id as partId', 'p.number as number', 'p.name as name'])
    .select(['l.lot_id as lotId', 't.code as lot', 't.expires_on as expiresOn'])
    .select(['l.accepted as accepted', 'l.damaged as damaged', 'l.price_cents as price'])
    .where('r.office_id', '=', officeId)
    .where('r.order_id', '=', orderId)
    .orderBy('r.id')
    .orderBy('l.id')
    .execute()
}

/** A movement that brought pieces of an order line into the house. */
export interface DeliveryMovement {
  readonly movementId: MovementId
  readonly lineId: PurchaseOrderLineId
  readonly receiptId: number | null
  readonly lotId: LotId
  readonly quantity: number
  /** Into quarantine: the piece came damaged. */
  readonly isDamaged: boolean
  readonly isPutRight: boolean
}

function deliveryMovements(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('movements as m')
    .innerJoin('places as p', (join) =>
      join.onRef('p.office_id', '=', 'm.office_id').onRef('p.id', '=', 'm.to_place_id'),
    )
    .leftJoin('movements as c', (join) =>
      join.onRef('c.office_id', '=', 'm.office_id').onRef('c.corrects_id', '=', 'm.id'),
    )
    .select(['m.id as movementId', 'm.order_line_id as lineId', 'm.receipt_id as receiptId', 'm.lot_id as lotId'])
    .select(['m.quantity as quantity', 'p.kind as kind', 'c.id as counterId'])
    .where('m.office_id', '=', officeId)
    .where('m.reason', '=', 'receive')
    .where('m.order_line_id', 'is not', null)
}

type DeliveryRow = Awaited<ReturnType<ReturnType<typeof deliveryMovements>['execute']>>[number]

function deliveryOf({ lineId, kind, counterId, ...row }: DeliveryRow): DeliveryMovement[] {
  return lineId === null ? [] : [{ ...row, lineId, isDamaged: kind === 'quarantine', isPutRight: counterId !== null }]
}

export async function findDeliveryMovement(
  db: ReadDb,
  officeId: OfficeId,
  movementId: MovementId,
): Promise<DeliveryMovement | null> {
  const rows = await deliveryMovements(db, officeId).where('m.id', '=', movementId).execute()
  return rows.flatMap(deliveryOf)[0] ?? null
}

export async function deliveriesOfLines(
  db: ReadDb,
  officeId: OfficeId,
  lineIds: readonly PurchaseOrderLineId[],
): Promise<DeliveryMovement[]> {
  if (lineIds.length === 0) return []
  const rows = await deliveryMovements(db, officeId).where('m.order_line_id', 'in', lineIds).orderBy('m.id').execute()
  return rows.flatMap(deliveryOf)
}

/** What kind of place it is; null when there is none. */
export async function kindOfPlace(
  db: ReadDb,
  officeId: OfficeId,
  placeId: PlaceId,
): Promise<{ readonly kind: string; readonly name: string } | null> {
  const place = db.selectFrom('places').select(['kind', 'code as name']).where('office_id', '=', officeId)
  return (await place.where('id', '=', placeId).executeTakeFirst()) ?? null
}

/** The bin in use where each part usually lies first. */
export async function usualBins(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
): Promise<ReadonlyMap<PartId, PlaceId>> {
  if (partIds.length === 0) return new Map()
  const rows = await db
    .selectFrom('part_bins as b')
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .select(['b.part_id as partId', 'b.place_id as placeId'])
    .where('b.office_id', '=', officeId)
    .where('b.part_id', 'in', partIds)
    .where('p.kind', '=', 'bin')
    .where('p.closed_on', 'is', null)
    .orderBy('b.rank', 'desc')
    .orderBy('p.walk_order', 'desc')
    .execute()
  return new Map(rows.map((row) => [row.partId, row.placeId]))
}
