import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { LotId, OfficeId, PullId, PullLineId, VanId, VisitId } from '../units/ids.ts'

export interface PullLineOfLot {
  readonly pullId: PullId
  readonly pullOn: CalendarDate
  readonly vanId: VanId
  readonly van: string
  readonly state: 'open' | 'confirmed'
  readonly lineId: PullLineId
  readonly quantity: number
  /** Ticked off already: these pieces lie in a tote, or on the van. */
  readonly pulled: number
}

/** The lines of standing pulls that hold the lot. */
export async function pullLinesOfLot(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<PullLineOfLot[]> {
  const rows = await db
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .innerJoin('vans as n', (join) => join.onRef('n.office_id', '=', 'p.office_id').onRef('n.id', '=', 'p.van_id'))
    .select(['p.id as pullId', 'p.pull_on as pullOn', 'p.van_id as vanId', 'n.name as van', 'p.state as state'])
    .select(['l.id as lineId', 'l.quantity as quantity', 'l.pulled_quantity as pulled'])
    .where('l.office_id', '=', officeId)
    .where('l.lot_id', '=', lotId)
    .where('p.state', '<>', 'taken-back')
    .orderBy('l.id')
    .execute()
  return rows.flatMap(({ state, pulled, ...row }) =>
    state === 'taken-back' ? [] : [{ ...row, state, pulled: pulled ?? 0 }],
  )
}

export interface ToteOfLot {
  readonly lineId: PullLineId
  readonly visitId: VisitId
  readonly quantity: number
}

/** The totes of the lot that stand for a visit still to come. */
export async function totesAheadOfLot(db: ReadDb, officeId: OfficeId, lotId: LotId): Promise<ToteOfLot[]> {
  return db
    .selectFrom('pull_line_stops as s')
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .innerJoin('visits as v', (join) => join.onRef('v.office_id', '=', 's.office_id').onRef('v.id', '=', 's.visit_id'))
    .select(['s.pull_line_id as lineId', 's.visit_id as visitId', 's.quantity as quantity'])
    .where('l.office_id', '=', officeId)
    .where('l.lot_id', '=', lotId)
    .where('p.state', '<>', 'taken-back')
    .where('v.state', '=', 'booked')
    .orderBy('s.pull_line_id')
    .orderBy('s.visit_id')
    .execute()
}
