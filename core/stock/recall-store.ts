import { type MonthsAway, readMonthsAway } from '../customers/months-away.ts'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, LotId, OfficeId, PartId, PlaceId, SiteId, StageId, VanId, VisitId } from '../units/ids.ts'
import type { Minutes, TimeOfDay } from '../units/time-of-day.ts'
import type { Flow, FlowReason, PlaceKind, Quarantined } from './recall.ts'

export interface Recall {
  readonly on: CalendarDate
  readonly at: string
  readonly why: string
  readonly notice: string
}

/** The recall of a lot; null while it is fit for use. */
export async function findRecall(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<Recall | null> {
  const row = await db
    .selectFrom('lots')
    .select(['recalled_on', 'recalled_at', 'recall_note', 'recall_notice'])
    .where('office_id', '=', officeId)
    .where('id', '=', lotId)
    .executeTakeFirst()
  if (!row || row.recalled_on === null) return null
  return { on: row.recalled_on, at: row.recalled_at ?? '', why: row.recall_note, notice: row.recall_notice }
}

/** Marks a lot as recalled, or (null) as fit for use again. */
export async function writeRecall(
  tx: WriteDb,
  officeId: OfficeId,
  lotId: LotId,
  recall: Recall | null,
  note = '',
): Promise<void> {
  await tx
    .updateTable('lots')
    .set({
      recalled_on: recall?.on ?? null,
      recalled_at: recall?.at ?? null,
      recall_note: recall?.why ?? note,
      recall_notice: recall?.notice ?? '',
    })
    .where('office_id', '=', officeId)
    .where('id', '=', lotId)
    .execute()
}

/** Whether a lot is fitted in more than so many places in homes. */
export async function hasManyFitted(db: ReadDb, officeId: OfficeId, lotId: LotId, many: number): Promise<boolean> {
  const stages = db.selectFrom('stages').select('id').where('office_id', '=', officeId)
  const row = await stages.where('fitted_lot_id', '=', lotId).offset(many).limit(1).executeTakeFirst()
  return row !== undefined
}

/** All that ever moved of a lot, added up by reason and way; a correction counts against what it put right. */
export async function flowsOfLot(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<Flow[]> {
  const rows = await db
    .selectFrom('movements as m')
    .leftJoin('places as f', (join) =>
      join.onRef('f.office_id', '=', 'm.office_id').onRef('f.id', '=', 'm.from_place_id'),
    )
    .leftJoin('places as t', (join) =>
      join.onRef('t.office_id', '=', 'm.office_id').onRef('t.id', '=', 'm.to_place_id'),
    )
    .leftJoin('movements as c', (join) =>
      join.onRef('c.office_id', '=', 'm.office_id').onRef('c.id', '=', 'm.corrects_id'),
    )
    .select((each) => [
      'm.reason as reason',
      'c.reason as mistake',
      'f.kind as from',
      't.kind as to',
      each.fn.sum<number>('m.quantity').as('pieces'),
    ])
    .where('m.office_id', '=', officeId)
    .where('m.lot_id', '=', lotId)
    .groupBy(['m.reason', 'c.reason', 'f.kind', 't.kind'])
    .execute()
  return rows.map(({ reason, mistake, from, to, pieces }): Flow => {
    if (reason !== 'correct') return { reason, from, to, pieces: Number(pieces) }
    return { reason: mistakeReason(mistake), from: to, to: from, pieces: -Number(pieces) }
  })
}

const mistakeReason = (reason: FlowReason | 'correct' | null): FlowReason =>
  reason === null || reason === 'correct' ? 'count' : reason

export interface HeapOfLot {
  readonly placeId: PlaceId
  readonly place: string
  readonly kind: PlaceKind
  readonly pieces: number
}

/** Every place that holds some of a lot, the warehouse in the order of the walk. */
export async function heapsOfLot(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<HeapOfLot[]> {
  return db
    .selectFrom('balances as b')
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'b.office_id').onRef('p.id', '=', 'b.place_id'))
    .select(['b.place_id as placeId', 'p.code as place', 'p.kind as kind', 'b.quantity as pieces'])
    .where('b.office_id', '=', officeId)
    .where('b.lot_id', '=', lotId)
    .where('b.quantity', '>', 0)
    .orderBy('p.kind')
    .orderBy('p.walk_order')
    .orderBy('p.code')
    .execute()
}

/** Movements of a recall that nobody put right, in the order they were written. */
export async function standingRecalls(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<Quarantined[]> {
  const rows = await db
    .selectFrom('movements as m')
    .innerJoin('places as f', (join) =>
      join.onRef('f.office_id', '=', 'm.office_id').onRef('f.id', '=', 'm.from_place_id'),
    )
    .leftJoin('movements as c', (join) =>
      join.onRef('c.office_id', '=', 'm.office_id').onRef('c.corrects_id', '=', 'm.id'),
    )
    .select(['m.id as movementId', 'm.lot_id as lotId', 'm.from_place_id as fromPlaceId', 'm.to_place_id as toPlaceId'])
    .select(['m.quantity as quantity', 'f.code as fromName', 'f.closed_on as closedOn'])
    .where('m.office_id', '=', officeId)
    .where('m.lot_id', '=', lotId)
    .where('m.reason', '=', 'recall')
    .where('c.id', 'is', null)
    .orderBy('m.id')
    .execute()
  return rows.flatMap(({ fromPlaceId, toPlaceId, closedOn, ...row }) =>
    fromPlaceId === null || toPlaceId === null ? [] : [{ ...row, fromPlaceId, toPlaceId, isOpen: closedOn === null }],
  )
}

export interface FittedStage {
  readonly stageId: StageId
  /** What belongs there: the part that a visit is to bring. */
  readonly partId: PartId | null
  readonly fitMinutes: Minutes | null
  readonly monthsAway: MonthsAway
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly household: string
  readonly reference: string
  readonly street: string
  readonly town: string
  readonly postalCode: string
  readonly phone: string
  readonly phoneNote: string
  readonly noMail: boolean
  readonly moved: boolean
  readonly addressed: boolean
  readonly unit: string
  readonly kind: StageKind
  readonly label: string
  readonly fittedOn: CalendarDate | null
}

/** Every stage that holds a piece of the lot in an open household (or in one of them), by town, street and household. */
export async function stagesFittedWith(
  db: ReadDb,
  officeId: OfficeId,
  lotId: LotId,
  siteId: SiteId | null = null,
): Promise<FittedStage[]> {
  let query = db
    .selectFrom('stages as s')
    .innerJoin('installations as i', (join) =>
      join.onRef('i.office_id', '=', 's.office_id').onRef('i.id', '=', 's.installation_id'),
    )
    .innerJoin('sites as t', (join) => join.onRef('t.office_id', '=', 'i.office_id').onRef('t.id', '=', 'i.site_id'))
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 't.office_id').onRef('c.id', '=', 't.customer_id'),
    )
    .leftJoin('parts as p', (join) => join.onRef('p.office_id', '=', 's.office_id').onRef('p.id', '=', 's.part_id'))
    .select(['t.id as siteId', 'c.id as customerId', 'c.sort_name as household', 'c.reference as reference'])
    .select(['t.line1 as street', 't.town as town', 't.postal_code as postalCode'])
    .select(['c.phone as phone', 'c.phone_note as phoneNote', 'c.no_mail', 'c.moved_on', 'c.mail_elsewhere'])
    .select(['c.mail_line1', 'c.mail_town', 'i.name as unit', 's.kind as kind', 's.label', 's.fitted_on as fittedOn'])
    .select(['s.id as stageId', 's.part_id as partId', 'p.fit_minutes as fitMinutes', 't.months_away'])
    .where('s.office_id', '=', officeId)
    .where('s.fitted_lot_id', '=', lotId)
    .where('s.removed_on', 'is', null)
    .where('i.removed_on', 'is', null)
    .where('t.closed_on', 'is', null)
    .orderBy('t.town')
    .orderBy('t.postal_code')
    .orderBy('t.line1')
    .orderBy('c.sort_name')
    .orderBy('t.id')
    .orderBy('s.installation_id')
    .orderBy('s.position')
  if (siteId !== null) query = query.where('t.id', '=', siteId)
  const rows = await query.execute()
  return rows.map(({ no_mail, moved_on, mail_elsewhere, mail_line1, mail_town, label, months_away, ...row }) => {
    const [line, town] = mail_elsewhere === 1 ? [mail_line1, mail_town] : [row.street, row.town]
    return {
      ...row,
      monthsAway: readMonthsAway(months_away),
      noMail: no_mail === 1,
      moved: moved_on !== null,
      addressed: line.trim() !== '' && town.trim() !== '',
      label: label === '' ? STAGE_KIND_WORDS[row.kind].name : label,
    }
  })
}

export interface VisitAhead {
  readonly siteId: SiteId
  readonly visitId: VisitId
  readonly on: CalendarDate
  readonly windowFrom: TimeOfDay
  readonly windowUntil: TimeOfDay
  readonly technician: string | null
  /** Pieces of the lot that it changes, and how many of these free of charge. */
  readonly changes: number
  readonly free: number
}

/** The booked visits from today on of homes that hold the lot, the nearest first, and what each changes of what is recalled. */
export async function visitsAheadFor(
  db: ReadDb,
  officeId: OfficeId,
  lotId: LotId,
  today: CalendarDate,
): Promise<VisitAhead[]> {
  const rows = await db
    .selectFrom('visits as v')
    .leftJoin('technicians as t', (join) =>
      join.onRef('t.office_id', '=', 'v.office_id').onRef('t.id', '=', 'v.technician_id'),
    )
    .select(['v.site_id as siteId', 'v.id as visitId', 'v.visit_on as on', 't.short_name as technician'])
    .select(['v.window_from as windowFrom', 'v.window_until as windowUntil'])
    .select(({ selectFrom }) => {
      const changes = selectFrom('visit_tasks as k')
        .innerJoin('stages as s', (join) =>
          join.onRef('s.office_id', '=', 'k.office_id').onRef('s.id', '=', 'k.stage_id'),
        )
        .whereRef('k.office_id', '=', 'v.office_id')
        .whereRef('k.visit_id', '=', 'v.id')
        .where('k.kind', '=', 'change')
        .where('s.fitted_lot_id', '=', lotId)
      return [
        changes.select((each) => each.fn.count<number>('k.stage_id').distinct().as('count')).as('changes'),
        changes
          .where('k.free_of_charge', '=', 1)
          .select((each) => each.fn.count<number>('k.stage_id').distinct().as('count'))
          .as('free'),
      ]
    })
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '>=', today)
    .where('v.site_id', 'in', ({ selectFrom }) =>
      selectFrom('stages as s')
        .innerJoin('installations as i', (join) =>
          join.onRef('i.office_id', '=', 's.office_id').onRef('i.id', '=', 's.installation_id'),
        )
        .select('i.site_id')
        .where('s.office_id', '=', officeId)
        .where('s.fitted_lot_id', '=', lotId)
        .where('s.removed_on', 'is', null),
    )
    .orderBy('v.visit_on')
    .orderBy('v.window_from')
    .orderBy('v.id')
    .execute()
  return rows.map((row) => ({ ...row, changes: Number(row.changes), free: Number(row.free) }))
}

/** When each household was written to since the recall began. */
export async function lettersSince(
  db: ReadDb,
  officeId: OfficeId,
  lotId: LotId,
  began: string,
): Promise<Map<SiteId, CalendarDate>> {
  const rows = await db
    .selectFrom('recall_letters')
    .select(['site_id', 'written_on'])
    .where('office_id', '=', officeId)
    .where('lot_id', '=', lotId)
    .where('written_at', '>=', began)
    .execute()
  return new Map(rows.map((row) => [row.site_id, row.written_on]))
}

export interface VanPhone {
  readonly vanId: VanId
  readonly placeId: PlaceId
  readonly van: string
  readonly technician: string | null
  readonly phone: string
}

/** Vans with whom to ring. */
export async function vanPhones(db: ReadDb, officeId: OfficeId): Promise<VanPhone[]> {
  const rows = await db
    .selectFrom('vans as v')
    .leftJoin('technicians as t', (join) =>
      join.onRef('t.office_id', '=', 'v.office_id').onRef('t.id', '=', 'v.technician_id'),
    )
    .select(['v.id as vanId', 'v.place_id as placeId', 'v.name as van', 't.name as technician', 't.phone as phone'])
    .where('v.office_id', '=', officeId)
    .orderBy('v.name')
    .execute()
  return rows.map((row) => ({ ...row, phone: row.phone ?? '' }))
}

export interface LotRecalled {
  readonly lotId: LotId
  readonly lot: string
  readonly partId: PartId
  readonly partNumber: string
  readonly partName: string
  readonly recalledOn: CalendarDate
  readonly why: string
  readonly notice: string
  readonly quarantined: number
  readonly homes: number
}

/** Lots that are recalled now, the latest first, with what lies in quarantine and how many homes hold some. */
export async function listRecalledLots(db: ReadDb, officeId: OfficeId): Promise<LotRecalled[]> {
  const rows = await db
    .selectFrom('lots as l')
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .select(['l.id as lotId', 'l.code as lot', 'p.id as partId', 'p.number as partNumber', 'p.name as partName'])
    .select(['l.recalled_on as recalledOn', 'l.recall_note as why', 'l.recall_notice as notice'])
    .select(({ selectFrom }) => [
      selectFrom('balances as b')
        .innerJoin('places as q', (join) =>
          join.onRef('q.office_id', '=', 'b.office_id').onRef('q.id', '=', 'b.place_id'),
        )
        .select((each) => each.fn.sum<number>('b.quantity').as('pieces'))
        .whereRef('b.office_id', '=', 'l.office_id')
        .whereRef('b.lot_id', '=', 'l.id')
        .where('q.kind', '=', 'quarantine')
        .as('quarantined'),
      selectFrom('stages as s')
        .innerJoin('installations as i', (join) =>
          join.onRef('i.office_id', '=', 's.office_id').onRef('i.id', '=', 's.installation_id'),
        )
        .innerJoin('sites as t', (join) =>
          join.onRef('t.office_id', '=', 'i.office_id').onRef('t.id', '=', 'i.site_id'),
        )
        .select((each) => each.fn.count<number>('t.id').distinct().as('homes'))
        .whereRef('s.office_id', '=', 'l.office_id')
        .whereRef('s.fitted_lot_id', '=', 'l.id')
        .where('s.removed_on', 'is', null)
        .where('i.removed_on', 'is', null)
        .where('t.closed_on', 'is', null)
        .as('homes'),
    ])
    .where('l.office_id', '=', officeId)
    .where('l.recalled_on', 'is not', null)
    .orderBy('l.recalled_on', 'desc')
    .orderBy('l.id', 'desc')
    .execute()
  return rows.flatMap(({ recalledOn, quarantined, homes, ...row }) =>
    recalledOn === null
      ? []
      : [{ ...row, recalledOn, quarantined: Number(quarantined ?? 0), homes: Number(homes ?? 0) }],
  )
}
