import type { ReadDb } from '../database/handles.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, VisitId } from '../units/ids.ts'
import type { MeasureSystem } from '../units/measures.ts'
import type { PartShape, ReadingShape, TaskShape } from './visit-shapes.ts'

/** Whose books, and the day and measures in which stages are told. */
export interface ReadingRoom {
  readonly db: ReadDb
  readonly officeId: OfficeId
  readonly today: CalendarDate
  readonly measures: MeasureSystem
}

/** The tasks of visits, planned and reported, with their parts and the lots that were pulled. */
export async function tasksOf(
  { db, officeId }: ReadingRoom,
  visitIds: readonly VisitId[],
): Promise<(TaskShape & { readonly visitId: VisitId })[]> {
  const rows = await db
    .selectFrom('visit_tasks as k')
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .leftJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'k.office_id').onRef('p.id', '=', 'k.part_id'))
    .leftJoin('parts as f', (join) =>
      join.onRef('f.office_id', '=', 'k.office_id').onRef('f.id', '=', 'k.fitted_part_id'),
    )
    .leftJoin('lots as l', (join) =>
      join.onRef('l.office_id', '=', 'k.office_id').onRef('l.id', '=', 'k.fitted_lot_id'),
    )
    .select([
      'k.id',
      'k.visit_id',
      'k.kind',
      'k.stage_id',
      'k.description',
      'k.quantity',
      'k.planned_minutes',
      'k.state',
      'k.fitted_lot_id',
      'k.from_place_id',
      'k.free_of_charge',
      'g.kind as stage_kind',
      'g.label as stage_label',
      'p.id as p_id',
      'p.number as p_number',
      'p.name as p_name',
      'p.price_cents as p_price',
      'p.tax_free as p_free',
      'p.fit_minutes as p_minutes',
      'f.id as f_id',
      'f.number as f_number',
      'f.name as f_name',
      'f.price_cents as f_price',
      'f.tax_free as f_free',
      'f.fit_minutes as f_minutes',
      'l.code as lot_code',
    ])
    .where('k.office_id', '=', officeId)
    .where('k.visit_id', 'in', visitIds)
    .orderBy('k.visit_id')
    .orderBy('k.position')
    .orderBy('k.id')
    .execute()
  const pulled = await pulledLotsOf({ db, officeId }, visitIds)
  return rows.map((row) => {
    const part = partOf(row.p_id, row.p_number, row.p_name, row.p_price, row.p_free, row.p_minutes)
    const stageName = row.stage_kind === null ? '' : row.stage_label || STAGE_KIND_WORDS[row.stage_kind].name
    return {
      visitId: row.visit_id,
      taskId: row.id,
      kind: row.kind,
      stageId: row.stage_id,
      label: stageName || row.description || part?.name || 'Task',
      description: row.description,
      part,
      quantity: row.quantity,
      minutes: row.planned_minutes,
      state: row.state,
      fittedPart: partOf(row.f_id, row.f_number, row.f_name, row.f_price, row.f_free, row.f_minutes),
      lotId: row.fitted_lot_id,
      lotCode: row.lot_code ?? '',
      fromPlaceId: row.from_place_id,
      freeOfCharge: row.free_of_charge === 1,
      pulledLots: pulled
        .filter((lot) => lot.visitId === row.visit_id && lot.partId === part?.partId)
        .map((lot) => lot.code),
    }
  })
}

function partOf(
  partId: PartShape['partId'] | null,
  number: string | null,
  name: string | null,
  priceCents: PartShape['priceCents'] | null,
  taxFree: number | null,
  fitMinutes: PartShape['fitMinutes'],
): PartShape | null {
  if (partId === null || priceCents === null) return null
  return { partId, number: number ?? '', name: name ?? '', priceCents, taxFree: taxFree === 1, fitMinutes }
}

function pulledLotsOf({ db, officeId }: Pick<ReadingRoom, 'db' | 'officeId'>, visitIds: readonly VisitId[]) {
  return db
    .selectFrom('pull_line_stops as s')
    .innerJoin('pull_lines as n', (join) =>
      join.onRef('n.office_id', '=', 's.office_id').onRef('n.id', '=', 's.pull_line_id'),
    )
    .innerJoin('pulls as u', (join) => join.onRef('u.office_id', '=', 'n.office_id').onRef('u.id', '=', 'n.pull_id'))
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'n.office_id').onRef('l.id', '=', 'n.lot_id'))
    .select(['s.visit_id as visitId', 'n.part_id as partId', 'l.code as code'])
    .where('s.office_id', '=', officeId)
    .where('s.visit_id', 'in', visitIds)
    .where('u.state', '<>', 'taken-back')
    .orderBy('n.position')
    .execute()
}

/** The readings of visits, in the order they were written. */
export async function readingsOfVisits(
  { db, officeId }: ReadingRoom,
  visitIds: readonly VisitId[],
): Promise<(ReadingShape & { readonly visitId: VisitId })[]> {
  const rows = await db
    .selectFrom('readings')
    .select([
      'visit_id',
      'installation_id',
      'tds_in_mg_l',
      'tds_out_mg_l',
      'flow_ml_min',
      'feed_kpa',
      'tank_kpa',
      'temperature_c',
      'meter_ml',
      'unlikely',
      'note',
    ])
    .where('office_id', '=', officeId)
    .where('visit_id', 'in', visitIds)
    .where('struck_on', 'is', null)
    .orderBy('id')
    .execute()
  return rows.flatMap((row) =>
    row.visit_id === null
      ? []
      : [
          {
            visitId: row.visit_id,
            installationId: row.installation_id,
            figures: {
              tdsIn: row.tds_in_mg_l,
              tdsOut: row.tds_out_mg_l,
              flow: row.flow_ml_min,
              feedPressure: row.feed_kpa,
              tankPressure: row.tank_kpa,
              temperature: row.temperature_c,
              meter: row.meter_ml,
            },
            unlikely: row.unlikely === 1,
            note: row.note,
          },
        ],
  )
}

/** The tasks of visits as far as a line names them. */
export async function tasksInLine(
  { db, officeId }: ReadingRoom,
  visitIds: readonly VisitId[],
): Promise<(Pick<TaskShape, 'kind' | 'label'> & { readonly visitId: VisitId })[]> {
  if (visitIds.length === 0) return []
  const rows = await db
    .selectFrom('visit_tasks as k')
    .leftJoin('stages as g', (join) => join.onRef('g.office_id', '=', 'k.office_id').onRef('g.id', '=', 'k.stage_id'))
    .select(['k.visit_id', 'k.kind', 'k.description', 'g.kind as stage_kind', 'g.label as stage_label'])
    .where('k.office_id', '=', officeId)
    .where('k.visit_id', 'in', visitIds)
    .orderBy('k.visit_id')
    .orderBy('k.position')
    .execute()
  return rows.map((row) => ({
    visitId: row.visit_id,
    kind: row.kind,
    label: row.stage_kind === null ? row.description : row.stage_label || STAGE_KIND_WORDS[row.stage_kind].name,
  }))
}
