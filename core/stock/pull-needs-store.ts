import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId, SiteId, VanId, VisitId } from '../units/ids.ts'
import type { TimeOfDay } from '../units/time-of-day.ts'
import type { StockAtPlace } from './pull-shapes.ts'

/** A visit of the day with the household's name, in driving order within its van. */
export interface VisitOfDay {
  readonly visitId: VisitId
  readonly siteId: SiteId
  readonly household: string
  readonly town: string
  readonly technicianName: string | null
  /** Null when nobody, or somebody without a van, is to come. */
  readonly vanId: VanId | null
  readonly routePosition: number | null
  readonly street: string
  readonly latitude: number | null
  readonly longitude: number | null
  readonly startsAt: TimeOfDay
  readonly promised: boolean
  readonly state: 'booked' | 'done' | 'could-not' | 'cancelled'
}

/** Visits of a day that were not cancelled, in the order they are driven. */
export async function visitsOfDay(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<VisitOfDay[]> {
  const rows = await db
    .selectFrom('visits as v')
    .innerJoin('sites as s', (join) => join.onRef('s.office_id', '=', 'v.office_id').onRef('s.id', '=', 'v.site_id'))
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .leftJoin('technicians as t', (join) =>
      join.onRef('t.office_id', '=', 'v.office_id').onRef('t.id', '=', 'v.technician_id'),
    )
    .leftJoin('vans as n', (join) =>
      join
        .onRef('n.office_id', '=', 'v.office_id')
        .onRef('n.technician_id', '=', 'v.technician_id')
        .on('n.closed_on', 'is', null),
    )
    .select([
      'v.id as visitId',
      'v.site_id as siteId',
      'c.sort_name as household',
      's.town as town',
      's.line1 as street',
      's.latitude as latitude',
      's.longitude as longitude',
      't.short_name as technicianName',
      'n.id as vanId',
      'v.route_position as routePosition',
      'v.window_from as startsAt',
      'v.promised as promised',
      'v.state as state',
    ])
    .where('v.office_id', '=', officeId)
    .where('v.visit_on', '=', on)
    .where('v.state', '<>', 'cancelled')
    .orderBy(sql`coalesce(v.route_position, 100000)`)
    .orderBy('v.window_from')
    .orderBy('v.id')
    .execute()
  const seen = new Set<VisitId>()
  return rows
    .filter((row) => !seen.has(row.visitId) && seen.add(row.visitId))
    .map((row) => ({ ...row, promised: row.promised === 1 }))
}

/** Where visits are booked on the days from one to another, both counted. */
export async function visitsBookedBetween(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
  to: CalendarDate,
): Promise<Pick<VisitOfDay, 'siteId' | 'street' | 'town' | 'latitude' | 'longitude'>[]> {
  return db
    .selectFrom('visits as v')
    .innerJoin('sites as s', (join) => join.onRef('s.office_id', '=', 'v.office_id').onRef('s.id', '=', 'v.site_id'))
    .select(['v.site_id as siteId', 's.line1 as street', 's.town as town', 's.latitude as latitude'])
    .select('s.longitude as longitude')
    .where('v.office_id', '=', officeId)
    .where('v.visit_on', '>=', from)
    .where('v.visit_on', '<=', to)
    .where('v.state', '=', 'booked')
    .orderBy('v.id')
    .execute()
}

export interface TaskNeed {
  readonly visitId: VisitId
  readonly kind: 'change' | 'sanitise' | 'measure' | 'other'
  readonly stageLabel: string | null
  readonly description: string
  /** Null when nobody said which part goes in. */
  readonly partId: PartId | null
  readonly quantity: number
  readonly dueOn: CalendarDate | null
  /** Nothing may stand in for its part at this stage. */
  readonly ownPartOnly: boolean
}

/** The planned tasks of visits, with the part each needs: the task's own, else the one that the stage holds. */
export async function tasksOfVisits(db: ReadDb, officeId: OfficeId, visitIds: readonly VisitId[]): Promise<TaskNeed[]> {
  if (visitIds.length === 0) return []
  const rows = await db
    .selectFrom('visit_tasks as k')
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .select([
      'k.visit_id as visitId',
      'k.kind as kind',
      'g.label as stageLabel',
      'k.description as description',
      sql<PartId | null>`case when k.kind = 'change' then coalesce(k.part_id, g.part_id) else k.part_id end`.as(
        'partId',
      ),
      'k.quantity as quantity',
      'g.due_on as dueOn',
      'g.own_part_only as ownPartOnly',
    ])
    .where('k.office_id', '=', officeId)
    .where('k.visit_id', 'in', visitIds)
    .where('k.state', '=', 'planned')
    .orderBy('k.visit_id')
    .orderBy('k.position')
    .execute()
  return rows.map((row) => ({ ...row, ownPartOnly: row.ownPartOnly === 1 }))
}

export interface ServedPieces {
  readonly visitId: VisitId
  /** The part that the visit asked for. */
  readonly partId: PartId
  readonly quantity: number
  /** Another part stands in for it. */
  readonly standsIn: boolean
}

/** What open and confirmed pulls hold for these visits. */
export async function servedOfVisits(
  db: ReadDb,
  officeId: OfficeId,
  visitIds: readonly VisitId[],
): Promise<ServedPieces[]> {
  if (visitIds.length === 0) return []
  const rows = await db
    .selectFrom('pull_line_stops as s')
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .select(['s.visit_id as visitId', 'l.part_id as partId', 's.quantity as quantity'])
    .select('l.substitute as substitute')
    .where('s.office_id', '=', officeId)
    .where('s.visit_id', 'in', visitIds)
    .where('p.state', '<>', 'taken-back')
    .execute()
  return rows.map(({ substitute, ...row }) => ({ ...row, standsIn: substitute === 1 }))
}

export interface PromisedPieces {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
}

/**
 * What is promised, by lot and place: the lines of open pulls where the pieces lie now, and what confirmed pulls put on a van
 * for visits that are still to come.
 */
export async function promisedPieces(db: ReadDb, officeId: OfficeId): Promise<PromisedPieces[]> {
  const open = await db
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .select((each) => ['l.lot_id as lotId', 'l.place_id as placeId', each.fn.sum<number>('l.quantity').as('quantity')])
    .where('l.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .groupBy(['l.lot_id', 'l.place_id'])
    .execute()
  const aboard = await db
    .selectFrom('pull_line_stops as s')
    .innerJoin('visits as v', (join) => join.onRef('v.office_id', '=', 's.office_id').onRef('v.id', '=', 's.visit_id'))
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .innerJoin('vans as n', (join) => join.onRef('n.office_id', '=', 'p.office_id').onRef('n.id', '=', 'p.van_id'))
    .select((each) => ['l.lot_id as lotId', 'n.place_id as placeId', each.fn.sum<number>('s.quantity').as('quantity')])
    .where('s.office_id', '=', officeId)
    .where('p.state', '=', 'confirmed')
    .where('v.state', '=', 'booked')
    .groupBy(['l.lot_id', 'n.place_id'])
    .execute()
  return [...open, ...aboard].map((row) => ({ ...row, quantity: Number(row.quantity) }))
}

/** Pieces promised of each part, wherever they lie. */
export async function promisedByPart(db: ReadDb, officeId: OfficeId): Promise<Map<PartId, number>> {
  const pieces = await promisedPieces(db, officeId)
  const sums = new Map<PartId, number>()
  if (pieces.length === 0) return sums
  const lots = await db
    .selectFrom('lots')
    .select(['id', 'part_id'])
    .where('office_id', '=', officeId)
    .where('id', 'in', [...new Set(pieces.map((row) => row.lotId))])
    .execute()
  const partOf = new Map(lots.map((lot) => [lot.id, lot.part_id]))
  for (const { lotId, quantity } of pieces) {
    const partId = partOf.get(lotId)
    if (partId !== undefined) sums.set(partId, (sums.get(partId) ?? 0) + quantity)
  }
  return sums
}

/** What lies of these parts in a bin or on a van in use, with what is promised of it. Quarantine and transit are not for pulling. */
export async function stockForPulls(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
): Promise<StockAtPlace[]> {
  if (partIds.length === 0) return []
  const promised = new Map<string, number>()
  for (const row of await promisedPieces(db, officeId)) {
    const key = `${row.lotId}/${row.placeId}`
    promised.set(key, (promised.get(key) ?? 0) + row.quantity)
  }
  const places = await placesOfPulls(db, officeId)
  const rows = await db
    .selectFrom('lots as l')
    .innerJoin('balances as b', (join) => join.onRef('b.office_id', '=', 'l.office_id').onRef('b.lot_id', '=', 'l.id'))
    .select(['b.place_id as placeId', 'b.lot_id as lotId', 'b.quantity as onHand', 'l.code as lotNumber'])
    .select(['l.part_id as partId', 'l.expires_on as expiresOn', 'l.recalled_on as recalledOn'])
    .where('l.office_id', '=', officeId)
    .where('l.part_id', 'in', partIds)
    .where('b.quantity', '>', 0)
    .execute()
  const stock: StockAtPlace[] = []
  for (const { placeId, lotId, lotNumber, partId, expiresOn, recalledOn, onHand } of rows) {
    const place = places.get(placeId)
    if (!place) continue
    const { vanId, binCode, walkOrder } = place
    const recalled = recalledOn !== null
    const taken = promised.size === 0 ? 0 : (promised.get(`${lotId}/${placeId}`) ?? 0)
    // Written out: thousands of them are made for every look at a day.
    stock.push({
      placeId,
      vanId,
      binCode,
      walkOrder,
      lotId,
      lotNumber,
      partId,
      expiresOn,
      recalled,
      onHand,
      promised: taken,
    })
  }
  return stock
}

/** Bins, and vans in use: few, so that they are asked once and not for every heap. */
async function placesOfPulls(
  db: ReadDb,
  officeId: OfficeId,
): Promise<Map<PlaceId, Pick<StockAtPlace, 'vanId' | 'binCode' | 'walkOrder'>>> {
  const rows = await db
    .selectFrom('places as p')
    .leftJoin('vans as n', (join) =>
      join.onRef('n.office_id', '=', 'p.office_id').onRef('n.place_id', '=', 'p.id').on('n.closed_on', 'is', null),
    )
    .select(['p.id as placeId', 'p.code as binCode', 'p.walk_order as walkOrder', 'p.kind as kind', 'n.id as vanId'])
    .where('p.office_id', '=', officeId)
    .where((each) => each.or([each('p.kind', '=', 'bin'), each('n.id', 'is not', null)]))
    .execute()
  return new Map(
    rows.map(({ placeId, kind, vanId, ...place }) => [placeId, { ...place, vanId: kind === 'van' ? vanId : null }]),
  )
}

export interface Delivery {
  readonly partId: PartId
  readonly orderNumber: string
  readonly supplierName: string
  readonly expectedOn: CalendarDate | null
  /** Pieces still to come. */
  readonly quantity: number
}

/** What was ordered and has not come yet, the next delivery first. */
export async function awaitedDeliveries(db: ReadDb, officeId: OfficeId): Promise<Delivery[]> {
  return db
    .selectFrom('purchase_order_lines as l')
    .innerJoin('purchase_orders as o', (join) =>
      join.onRef('o.office_id', '=', 'l.office_id').onRef('o.id', '=', 'l.order_id'),
    )
    .innerJoin('suppliers as s', (join) =>
      join.onRef('s.office_id', '=', 'o.office_id').onRef('s.id', '=', 'o.supplier_id'),
    )
    .select(['l.part_id as partId', 'o.number as orderNumber', 's.name as supplierName', 'o.expected_on as expectedOn'])
    .select(sql<number>`l.quantity - l.received_quantity - l.given_up_quantity`.as('quantity'))
    .where('l.office_id', '=', officeId)
    .where('o.state', '=', 'sent')
    .where(sql<boolean>`l.quantity > l.received_quantity + l.given_up_quantity`)
    .orderBy(sql`coalesce(o.expected_on, '9999-12-31')`)
    .execute()
}
