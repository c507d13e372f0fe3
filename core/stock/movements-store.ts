import { sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { MovementsTable } from '../database/schema.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type {
  LotId,
  MovementId,
  OfficeId,
  PartId,
  PlaceId,
  PullId,
  PurchaseOrderId,
  PurchaseOrderLineId,
  SupplierId,
  VisitId,
  VisitTaskId,
} from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { Movement } from './ledger.ts'

export type MovementReason = MovementsTable['reason']

/** A movement to be written down, with who, when and why. */
export interface NewMovement extends Movement {
  readonly partId: PartId
  readonly reason: MovementReason
  readonly movedOn: CalendarDate
  readonly movedAt: string
  readonly by: string
  readonly note: string
  readonly visitId?: VisitId | null
  readonly visitTaskId?: VisitTaskId | null
  readonly pullId?: PullId | null
  readonly receiptId?: number | null
  readonly orderLineId?: PurchaseOrderLineId | null
  readonly correctsId?: MovementId | null
  /** Where pieces on the way are to arrive. */
  readonly boundForPlaceId?: PlaceId | null
}

/** Writes a movement; the balances follow by a trigger, and the database refuses what would leave less than nothing. */
export async function writeMovement(tx: WriteDb, officeId: OfficeId, movement: NewMovement): Promise<MovementId> {
  const { id } = await tx
    .insertInto('movements')
    .values({
      office_id: officeId,
      part_id: movement.partId,
      lot_id: movement.lotId,
      from_place_id: movement.fromPlaceId,
      to_place_id: movement.toPlaceId,
      quantity: movement.quantity,
      reason: movement.reason,
      moved_on: movement.movedOn,
      moved_at: movement.movedAt,
      by_whom: movement.by,
      note: movement.note,
      visit_id: movement.visitId ?? null,
      visit_task_id: movement.visitTaskId ?? null,
      pull_id: movement.pullId ?? null,
      receipt_id: movement.receiptId ?? null,
      order_line_id: movement.orderLineId ?? null,
      corrects_id: movement.correctsId ?? null,
      bound_for_place_id: movement.boundForPlaceId ?? null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Pieces of a lot at a place; 0 where nothing ever lay. */
export async function balanceAt(db: ReadDb, officeId: OfficeId, lotId: LotId, placeId: PlaceId): Promise<number> {
  const row = await db
    .selectFrom('balances')
    .select('quantity')
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .where('place_id', '=', placeId)
    .executeTakeFirst()
  return row?.quantity ?? 0
}

export interface LotAtPlace {
  readonly lotId: LotId
  readonly lotNumber: string
  readonly placeId: PlaceId
  readonly placeName: string
  readonly kind: 'bin' | 'van' | 'quarantine' | 'transit'
  readonly quantity: number
}

/** Where pieces of a part lie, by first expiry. */
export async function whereIsPart(db: ReadDb, officeId: OfficeId, partId: PartId): Promise<LotAtPlace[]> {
  return db
    .selectFrom('balances as b')
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .select([
      'b.lot_id as lotId',
      'l.code as lotNumber',
      'b.place_id as placeId',
      'p.code as placeName',
      'p.kind as kind',
      'b.quantity as quantity',
    ])
    .where('b.office_id', '=', officeId)
    .where('l.part_id', '=', partId)
    .where('b.quantity', '>', 0)
    .orderBy(sql`coalesce(l.expires_on, '9999-12-31')`)
    .orderBy('l.id')
    .orderBy('p.walk_order')
    .execute()
}

export interface LotRow {
  readonly lotId: LotId
  readonly partId: PartId
  readonly partNumber: string
  readonly partName: string
  readonly lotNumber: string
  readonly expiresOn: CalendarDate | null
  readonly receivedOn: CalendarDate
  readonly recalledOn: CalendarDate | null
  readonly recallNote: string
}

function lotsWithPart(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('lots as l')
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .select([
      'l.id as lotId',
      'l.part_id as partId',
      'p.number as partNumber',
      'p.name as partName',
      'l.code as lotNumber',
      'l.expires_on as expiresOn',
      'l.received_on as receivedOn',
      'l.recalled_on as recalledOn',
      'l.recall_note as recallNote',
    ])
    .where('l.office_id', '=', officeId)
}

export async function findLot(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<LotRow | null> {
  return (await lotsWithPart(db, officeId).where('l.id', '=', lotId).executeTakeFirst()) ?? null
}

export async function findLotByNumber(
  db: ReadDb,
  officeId: OfficeId,
  partId: PartId,
  lotNumber: string,
): Promise<LotRow | null> {
  const lots = lotsWithPart(db, officeId).where('l.part_id', '=', partId)
  return (await lots.where('l.code', '=', lotNumber).executeTakeFirst()) ?? null
}

/** Lots of a part, those that expire first first. */
export async function lotsOfPart(db: ReadDb, officeId: OfficeId, partId: PartId): Promise<LotRow[]> {
  return lotsWithPart(db, officeId)
    .where('l.part_id', '=', partId)
    .orderBy(sql`coalesce(l.expires_on, '9999-12-31')`)
    .orderBy('l.id')
    .execute()
}

export async function insertLot(
  tx: WriteDb,
  officeId: OfficeId,
  lot: {
    partId: PartId
    lotNumber: string
    expiresOn: CalendarDate | null
    receivedOn: CalendarDate
    cost: Cents
  },
): Promise<LotId> {
  const { id } = await tx
    .insertInto('lots')
    .values({
      office_id: officeId,
      part_id: lot.partId,
      code: lot.lotNumber,
      expires_on: lot.expiresOn,
      received_on: lot.receivedOn,
      cost_cents: lot.cost,
      recalled_on: null,
      recall_note: '',
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Pieces of a lot that ever came in from outside by delivery. */
export async function receivedOfLot(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<number> {
  const row = await db
    .selectFrom('movements')
    .select((each) => each.fn.sum<number>('quantity').as('pieces'))
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .where('reason', '=', 'receive')
    .executeTakeFirst()
  return Number(row?.pieces ?? 0)
}

export async function insertReceipt(
  tx: WriteDb,
  officeId: OfficeId,
  receipt: {
    supplierId: SupplierId | null
    orderId: PurchaseOrderId | null
    receivedOn: CalendarDate
    by: string
    note: string
  },
): Promise<number> {
  const { id } = await tx
    .insertInto('receipts')
    .values({
      office_id: officeId,
      supplier_id: receipt.supplierId,
      order_id: receipt.orderId,
      received_on: receipt.receivedOn,
      by_whom: receipt.by,
      note: receipt.note,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

export interface MovementRow {
  readonly movementId: MovementId
  readonly partId: PartId
  readonly lotId: LotId
  readonly lotNumber: string
  readonly fromPlaceId: PlaceId | null
  readonly fromName: string | null
  readonly toPlaceId: PlaceId | null
  readonly toName: string | null
  readonly quantity: number
  readonly reason: MovementReason
  readonly movedOn: CalendarDate
  readonly movedAt: string
  readonly by: string
  readonly note: string
  readonly visitId: VisitId | null
  readonly visitTaskId: VisitTaskId | null
  readonly correctsId: MovementId | null
  readonly boundForPlaceId: PlaceId | null
  /** The counter-movement that put this one right. */
  readonly correctedBy: MovementId | null
}

function movementRows(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('movements as m')
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'm.office_id').onRef('l.id', '=', 'm.lot_id'))
    .leftJoin('places as f', (join) =>
      join.onRef('f.office_id', '=', 'm.office_id').onRef('f.id', '=', 'm.from_place_id'),
    )
    .leftJoin('places as t', (join) =>
      join.onRef('t.office_id', '=', 'm.office_id').onRef('t.id', '=', 'm.to_place_id'),
    )
    .leftJoin('movements as c', (join) =>
      join.onRef('c.office_id', '=', 'm.office_id').onRef('c.corrects_id', '=', 'm.id'),
    )
    .select([
      'm.id as movementId',
      'm.part_id as partId',
      'm.lot_id as lotId',
      'l.code as lotNumber',
      'm.from_place_id as fromPlaceId',
      'f.code as fromName',
      'm.to_place_id as toPlaceId',
      't.code as toName',
      'm.quantity as quantity',
      'm.reason as reason',
      'm.moved_on as movedOn',
      'm.moved_at as movedAt',
      'm.by_whom as by',
      'm.note as note',
      'm.visit_id as visitId',
      'm.visit_task_id as visitTaskId',
      'm.corrects_id as correctsId',
      'm.bound_for_place_id as boundForPlaceId',
      'c.id as correctedBy',
    ])
    .where('m.office_id', '=', officeId)
}

/** Movements of a part, the latest first; `before` turns the page. */
export async function movementsOfPart(
  db: ReadDb,
  officeId: OfficeId,
  partId: PartId,
  page: { readonly before: MovementId | null; readonly limit: number },
): Promise<MovementRow[]> {
  let rows = movementRows(db, officeId).where('m.part_id', '=', partId)
  if (page.before !== null) rows = rows.where('m.id', '<', page.before)
  return rows.orderBy('m.id', 'desc').limit(page.limit).execute()
}

export async function countMovementsOfPart(db: ReadDb, officeId: OfficeId, partId: PartId): Promise<number> {
  const row = await db
    .selectFrom('movements')
    .where('office_id', '=', officeId)
    .where('part_id', '=', partId)
    .select(({ fn }) => fn.countAll<number>().as('count'))
    .executeTakeFirst()
  return Number(row?.count ?? 0)
}

export async function findMovement(
  db: ReadDb,
  officeId: OfficeId,
  movementId: MovementId,
): Promise<MovementRow | null> {
  return (await movementRows(db, officeId).where('m.id', '=', movementId).executeTakeFirst()) ?? null
}

/** What a visit used and nobody put right since, in the order it was written. */
export async function standingFitsOfVisit(db: ReadDb, officeId: OfficeId, visitId: VisitId): Promise<MovementRow[]> {
  return movementRows(db, officeId)
    .where('m.visit_id', '=', visitId)
    .where('m.reason', '=', 'fit')
    .where('c.id', 'is', null)
    .orderBy('m.id')
    .execute()
}
