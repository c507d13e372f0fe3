import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { PlacesTable } from '../database/schema.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, PlaceId, TechnicianId, VanId } from '../units/ids.ts'

export interface PlaceRow {
  readonly placeId: PlaceId
  readonly kind: PlacesTable['kind']
  /** "A-02-1", or a van's name. */
  readonly name: string
  readonly aisle: string
  readonly walkOrder: number
  readonly closedOn: CalendarDate | null
  readonly version: number
}

const PLACE = [
  'id as placeId',
  'kind',
  'code as name',
  'aisle',
  'walk_order as walkOrder',
  'closed_on as closedOn',
  'version',
] as const

/** All places, the warehouse in the order of the walk. */
export async function listPlaces(db: ReadDb, officeId: OfficeId): Promise<PlaceRow[]> {
  return db
    .selectFrom('places')
    .select(PLACE)
    .where('office_id', '=', officeId)
    .orderBy('kind')
    .orderBy('walk_order')
    .orderBy('code')
    .execute()
}

export async function findPlace(db: ReadDb, officeId: OfficeId, placeId: PlaceId): Promise<PlaceRow | null> {
  const places = db.selectFrom('places').select(PLACE).where('office_id', '=', officeId)
  return (await places.where('id', '=', placeId).executeTakeFirst()) ?? null
}

export async function findPlaceByName(db: ReadDb, officeId: OfficeId, name: string): Promise<PlaceRow | null> {
  const places = db.selectFrom('places').select(PLACE).where('office_id', '=', officeId)
  return (await places.where('code', '=', name).executeTakeFirst()) ?? null
}

/** Pieces in all at each place; places that hold nothing are left out. */
export async function piecesByPlace(db: ReadDb, officeId: OfficeId): Promise<Map<PlaceId, number>> {
  const rows = await db
    .selectFrom('balances')
    .select((each) => ['place_id as placeId', each.fn.sum<number>('quantity').as('pieces')])
    .where('office_id', '=', officeId)
    .where('quantity', '>', 0)
    .groupBy('place_id')
    .execute()
  return new Map(rows.map((row) => [row.placeId, Number(row.pieces)]))
}

export async function insertPlace(
  tx: WriteDb,
  officeId: OfficeId,
  place: { kind: PlacesTable['kind']; name: string; aisle: string; walkOrder: number },
): Promise<PlaceId> {
  const { id } = await tx
    .insertInto('places')
    .values({
      office_id: officeId,
      kind: place.kind,
      code: place.name,
      aisle: place.aisle,
      walk_order: place.walkOrder,
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Saves a place when nobody saved it since; false otherwise. */
export async function updatePlace(tx: WriteDb, officeId: OfficeId, place: PlaceRow): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('places')
    .set({
      code: place.name,
      aisle: place.aisle,
      walk_order: place.walkOrder,
      closed_on: place.closedOn,
      version: place.version + 1,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', place.placeId)
    .where('version', '=', place.version)
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

export interface VanRow {
  readonly vanId: VanId
  readonly name: string
  readonly placeId: PlaceId
  readonly technicianId: TechnicianId | null
  readonly technicianName: string | null
  /** Its room, millilitres; null when nobody measured it. */
  readonly roomMillilitres: number | null
  readonly closedOn: CalendarDate | null
  readonly version: number
}

/** Vans with who drives them, by name. */
export async function listVans(db: ReadDb, officeId: OfficeId): Promise<VanRow[]> {
  return db
    .selectFrom('vans as v')
    .leftJoin('technicians as t', (join) =>
      join.onRef('t.office_id', '=', 'v.office_id').onRef('t.id', '=', 'v.technician_id'),
    )
    .select([
      'v.id as vanId',
      'v.name as name',
      'v.place_id as placeId',
      'v.technician_id as technicianId',
      't.short_name as technicianName',
      'v.space_ml as roomMillilitres',
      'v.closed_on as closedOn',
      'v.version as version',
    ])
    .where('v.office_id', '=', officeId)
    .orderBy('v.name')
    .execute()
}

/** The van a technician drives; null when they drive none. */
export async function vanOfTechnician(
  db: ReadDb,
  officeId: OfficeId,
  technicianId: TechnicianId,
): Promise<VanRow | null> {
  const vans = await listVans(db, officeId)
  return vans.find((van) => van.technicianId === technicianId && van.closedOn === null) ?? null
}

export async function insertVan(
  tx: WriteDb,
  officeId: OfficeId,
  van: { name: string; placeId: PlaceId; technicianId: TechnicianId | null; roomMillilitres: number | null },
): Promise<VanId> {
  const { id } = await tx
    .insertInto('vans')
    .values({
      office_id: officeId,
      name: van.name,
      place_id: van.placeId,
      technician_id: van.technicianId,
      space_ml: van.roomMillilitres,
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

/** Saves a van when nobody saved it since; false otherwise. */
export async function updateVan(
  tx: WriteDb,
  officeId: OfficeId,
  van: Pick<VanRow, 'vanId' | 'name' | 'technicianId' | 'roomMillilitres' | 'closedOn' | 'version'>,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('vans')
    .set({
      name: van.name,
      technician_id: van.technicianId,
      space_ml: van.roomMillilitres,
      closed_on: van.closedOn,
      version: van.version + 1,
    })
    .where('office_id', '=', officeId)
    .where('id', '=', van.vanId)
    .where('version', '=', van.version)
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

export interface DriverRow {
  readonly technicianId: TechnicianId
  readonly name: string
}

/** Who can be given a van: technicians who have not left. */
export async function listDrivers(db: ReadDb, officeId: OfficeId, today: CalendarDate): Promise<DriverRow[]> {
  return db
    .selectFrom('technicians')
    .select(['id as technicianId', 'name'])
    .where('office_id', '=', officeId)
    .where((each) => each.or([each('left_on', 'is', null), each('left_on', '>', today)]))
    .orderBy('name')
    .execute()
}
