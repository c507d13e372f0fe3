import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId } from '../units/ids.ts'

/** Pieces of a lot that lie in a place which stands for the way. */
export interface TransitHeap {
  readonly lotId: LotId
  readonly lot: string
  readonly partId: PartId
  readonly number: string
  readonly part: string
  readonly transitPlaceId: PlaceId
  readonly place: string
  readonly quantity: number
}

export async function transitHeaps(db: ReadDb, officeId: OfficeId): Promise<TransitHeap[]> {
  return db
    .selectFrom('places as p')
    .innerJoin('balances as b', (join) =>
      join.onRef('b.office_id', '=', 'p.office_id').onRef('b.place_id', '=', 'p.id'),
    )
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('parts as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.part_id'))
    .select(['b.lot_id as lotId', 'l.code as lot', 't.id as partId', 't.number as number', 't.name as part'])
    .select(['p.id as transitPlaceId', 'p.code as place', 'b.quantity as quantity'])
    .where('p.office_id', '=', officeId)
    .where('p.kind', '=', 'transit')
    .where('b.quantity', '>', 0)
    .orderBy('t.number')
    .orderBy('b.lot_id')
    .execute()
}

/** A movement of something bound for a place: its sending, or its arrival wherever that was. */
export interface WayMovement {
  readonly lotId: LotId
  readonly fromPlaceId: PlaceId | null
  readonly toPlaceId: PlaceId | null
  readonly boundForPlaceId: PlaceId
  readonly quantity: number
  readonly movedOn: CalendarDate
  readonly by: string
}

/** Sendings and arrivals of these lots, in the order they were written. */
export async function wayMovements(db: ReadDb, officeId: OfficeId, lotIds: readonly LotId[]): Promise<WayMovement[]> {
  if (lotIds.length === 0) return []
  const rows = await db
    .selectFrom('movements')
    .select(['lot_id as lotId', 'from_place_id as fromPlaceId', 'to_place_id as toPlaceId', 'quantity'])
    .select(['bound_for_place_id as boundForPlaceId', 'moved_on as movedOn', 'by_whom as by'])
    .where('office_id', '=', officeId)
    .where('lot_id', 'in', [...new Set(lotIds)])
    .where('bound_for_place_id', 'is not', null)
    .orderBy('id')
    .execute()
  return rows.flatMap(({ boundForPlaceId, ...row }) => (boundForPlaceId === null ? [] : [{ ...row, boundForPlaceId }]))
}
