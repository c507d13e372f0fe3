import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PartId, PlaceId, PullId, PullLineId, VanId, VisitId } from '../units/ids.ts'

export interface PullRow {
  readonly pullId: PullId
  readonly pullOn: CalendarDate
  readonly vanId: VanId
  readonly vanName: string
  readonly vanPlaceId: PlaceId
  readonly state: 'open' | 'confirmed' | 'taken-back'
  readonly begunAt: string
  readonly by: string
  readonly confirmedAt: string | null
  readonly version: number
}

function pullRows(db: ReadDb, officeId: OfficeId) {
  return db
    .selectFrom('pulls as p')
    .innerJoin('vans as n', (join) => join.onRef('n.office_id', '=', 'p.office_id').onRef('n.id', '=', 'p.van_id'))
    .select([
      'p.id as pullId',
      'p.pull_on as pullOn',
      'p.van_id as vanId',
      'n.name as vanName',
      'n.place_id as vanPlaceId',
    ])
    .select(['p.state as state', 'p.begun_at as begunAt', 'p.by_whom as by', 'p.confirmed_at as confirmedAt'])
    .select('p.version as version')
    .where('p.office_id', '=', officeId)
}

/** Pulls of a day that stand, open and confirmed, in the order they were begun. */
export async function pullsOfDay(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<PullRow[]> {
  const pulls = pullRows(db, officeId).where('p.pull_on', '=', on).where('p.state', '<>', 'taken-back')
  return pulls.orderBy('p.id').execute()
}

export async function findPull(db: ReadDb, officeId: OfficeId, pullId: PullId): Promise<PullRow | null> {
  return (await pullRows(db, officeId).where('p.id', '=', pullId).executeTakeFirst()) ?? null
}

export async function findOpenPull(
  db: ReadDb,
  officeId: OfficeId,
  on: CalendarDate,
  vanId: VanId,
): Promise<PullRow | null> {
  const pulls = pullRows(db, officeId).where('p.pull_on', '=', on).where('p.van_id', '=', vanId)
  return (await pulls.where('p.state', '=', 'open').executeTakeFirst()) ?? null
}

export interface PullLineRow {
  readonly lineId: PullLineId
  readonly pullId: PullId
  readonly position: number
  /** The part that the visits asked for. */
  readonly askedPartId: PartId
  /** The part that lies in the lot. */
  readonly partId: PartId
  readonly partNumber: string
  readonly partName: string
  readonly lotId: LotId
  readonly lotNumber: string
  readonly expiresOn: CalendarDate | null
  readonly recalledOn: CalendarDate | null
  readonly placeId: PlaceId
  readonly binCode: string
  readonly walkOrder: number
  readonly quantity: number
  readonly pulled: number | null
  readonly pulledAt: string | null
  readonly pulledBy: string
  /** Tops the van up to its par; belongs to no stop. */
  readonly forPar: boolean
}

/** Lines of pulls in their order. */
export async function linesOfPulls(db: ReadDb, officeId: OfficeId, pullIds: readonly PullId[]): Promise<PullLineRow[]> {
  if (pullIds.length === 0) return []
  const rows = await db
    .selectFrom('pull_lines as l')
    .innerJoin('lots as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.lot_id'))
    .innerJoin('parts as r', (join) => join.onRef('r.office_id', '=', 't.office_id').onRef('r.id', '=', 't.part_id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.place_id'))
    .select(['l.id as lineId', 'l.pull_id as pullId', 'l.position as position', 'l.part_id as askedPartId'])
    .select(['t.part_id as partId', 'l.lot_id as lotId', 't.code as lotNumber', 't.expires_on as expiresOn'])
    .select(['l.place_id as placeId', 'p.code as binCode', 'l.quantity as quantity', 'l.pulled_quantity as pulled'])
    .select(['r.number as partNumber', 'r.name as partName', 'p.walk_order as walkOrder'])
    .select([
      't.recalled_on as recalledOn',
      'l.pulled_at as pulledAt',
      'l.pulled_by as pulledBy',
      'l.for_par as forPar',
    ])
    .where('l.office_id', '=', officeId)
    .where('l.pull_id', 'in', pullIds)
    .orderBy('l.pull_id')
    .orderBy('p.walk_order')
    .orderBy('p.code')
    .orderBy('l.position')
    .execute()
  return rows.map((row) => ({ ...row, forPar: row.forPar === 1 }))
}

export interface StopRow {
  readonly lineId: PullLineId
  readonly visitId: VisitId
  readonly stop: number
  readonly quantity: number
}

export async function stopsOfLines(db: ReadDb, officeId: OfficeId, lineIds: readonly PullLineId[]): Promise<StopRow[]> {
  if (lineIds.length === 0) return []
  return db
    .selectFrom('pull_line_stops')
    .select(['pull_line_id as lineId', 'visit_id as visitId', 'stop', 'quantity'])
    .where('office_id', '=', officeId)
    .where('pull_line_id', 'in', lineIds)
    .orderBy('pull_line_id')
    .orderBy('stop')
    .execute()
}

export async function insertPull(
  tx: WriteDb,
  officeId: OfficeId,
  pull: { on: CalendarDate; vanId: VanId; begunAt: string; by: string },
): Promise<PullId> {
  const { id } = await tx
    .insertInto('pulls')
    .values({
      office_id: officeId,
      pull_on: pull.on,
      van_id: pull.vanId,
      state: 'open',
      begun_at: pull.begunAt,
      by_whom: pull.by,
      confirmed_at: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

export interface NewPullLine {
  readonly position: number
  readonly askedPartId: PartId
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
  readonly substitute: boolean
  /** Tops the van up to its par; belongs to no stop. */
  readonly forPar: boolean
  /** Pieces that lie on the van already count as pulled. */
  readonly aboard: boolean
  /** What is ticked of it from the beginning. */
  readonly ticked?: { readonly pulled: number; readonly at: string | null; readonly by: string } | null
  readonly stops: readonly { readonly visitId: VisitId; readonly stop: number; readonly quantity: number }[]
}

/** A line with its totes. `pull_lines.part_id` is the part asked for; the lot says what lies there. */
export async function insertPullLine(
  tx: WriteDb,
  officeId: OfficeId,
  pullId: PullId,
  line: NewPullLine,
): Promise<void> {
  const { id } = await tx
    .insertInto('pull_lines')
    .values({
      office_id: officeId,
      pull_id: pullId,
      position: line.position,
      part_id: line.askedPartId,
      lot_id: line.lotId,
      place_id: line.placeId,
      quantity: line.quantity,
      pulled_quantity: line.aboard ? line.quantity : (line.ticked?.pulled ?? null),
      pulled_at: line.ticked?.at ?? null,
      pulled_by: line.ticked?.by ?? '',
      substitute: line.substitute ? 1 : 0,
      for_par: line.forPar ? 1 : 0,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  if (line.stops.length === 0) return
  await tx
    .insertInto('pull_line_stops')
    .values(
      line.stops.map((stop) => ({
        office_id: officeId,
        pull_line_id: id,
        visit_id: stop.visitId,
        stop: stop.stop,
        quantity: stop.quantity,
      })),
    )
    .execute()
}

export async function tickLine(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: PullLineId,
  tick: { readonly pulled: number | null; readonly at: string | null; readonly by: string },
): Promise<void> {
  await tx
    .updateTable('pull_lines')
    .set({ pulled_quantity: tick.pulled, pulled_at: tick.at, pulled_by: tick.by })
    .where('office_id', '=', officeId)
    .where('id', '=', lineId)
    .execute()
}

/** Writes what visits go without on this pull, in the place of all that was written for them before. */
export async function replaceShortages(
  tx: WriteDb,
  officeId: OfficeId,
  pullId: PullId,
  visitIds: readonly VisitId[],
  without: readonly { readonly visitId: VisitId; readonly partId: PartId; readonly quantity: number }[],
): Promise<void> {
  if (visitIds.length > 0)
    await tx.deleteFrom('pull_shortages').where('office_id', '=', officeId).where('visit_id', 'in', visitIds).execute()
  const sums = new Map<string, (typeof without)[number]>()
  for (const each of without) {
    const key = `${each.visitId}/${each.partId}`
    sums.set(key, { ...each, quantity: (sums.get(key)?.quantity ?? 0) + each.quantity })
  }
  const rows = [...sums.values()].map(({ visitId, partId, quantity }) => ({
    office_id: officeId,
    pull_id: pullId,
    visit_id: visitId,
    part_id: partId,
    quantity,
  }))
  if (rows.length > 0) await tx.insertInto('pull_shortages').values(rows).execute()
}

/** Sets the pieces of a line, or takes the line away when none are left. */
export async function setLineQuantity(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: PullLineId,
  quantity: number,
  pulled: number | null,
): Promise<void> {
  const lines = tx.updateTable('pull_lines').where('office_id', '=', officeId).where('id', '=', lineId)
  if (quantity > 0) await lines.set({ quantity, pulled_quantity: pulled }).execute()
  else await tx.deleteFrom('pull_lines').where('office_id', '=', officeId).where('id', '=', lineId).execute()
}

/** Sets the pieces of a tote; 0 takes it away. */
export async function setStopQuantity(
  tx: WriteDb,
  officeId: OfficeId,
  stop: { readonly lineId: PullLineId; readonly visitId: VisitId },
  quantity: number,
): Promise<void> {
  if (quantity > 0)
    await tx
      .updateTable('pull_line_stops')
      .set({ quantity })
      .where('office_id', '=', officeId)
      .where('pull_line_id', '=', stop.lineId)
      .where('visit_id', '=', stop.visitId)
      .execute()
  else
    await tx
      .deleteFrom('pull_line_stops')
      .where('office_id', '=', officeId)
      .where('pull_line_id', '=', stop.lineId)
      .where('visit_id', '=', stop.visitId)
      .execute()
}

export async function setPullState(
  tx: WriteDb,
  officeId: OfficeId,
  pullId: PullId,
  state: 'confirmed' | 'taken-back',
  confirmed: { readonly at: string; readonly by: string } | null,
): Promise<void> {
  await tx
    .updateTable('pulls')
    .set((each) => ({
      state,
      confirmed_at: confirmed?.at ?? null,
      ...(confirmed ? { by_whom: confirmed.by } : {}),
      version: each('version', '+', 1),
    }))
    .where('office_id', '=', officeId)
    .where('id', '=', pullId)
    .execute()
}

export interface TotesOfVisit extends StopRow {
  readonly pullId: PullId
  readonly pullOn: CalendarDate
  readonly vanId: VanId
  readonly state: 'open' | 'confirmed' | 'taken-back'
  readonly lineQuantity: number
  readonly pulled: number | null
}

/** The totes that standing pulls hold for a visit. */
export async function totesOfVisit(db: ReadDb, officeId: OfficeId, visitId: VisitId): Promise<TotesOfVisit[]> {
  return db
    .selectFrom('pull_line_stops as s')
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .select(['s.pull_line_id as lineId', 's.visit_id as visitId', 's.stop as stop', 's.quantity as quantity'])
    .select(['p.id as pullId', 'p.pull_on as pullOn', 'p.van_id as vanId', 'p.state as state'])
    .select(['l.quantity as lineQuantity', 'l.pulled_quantity as pulled'])
    .where('s.office_id', '=', officeId)
    .where('s.visit_id', '=', visitId)
    .where('p.state', '<>', 'taken-back')
    .orderBy('s.pull_line_id')
    .execute()
}
