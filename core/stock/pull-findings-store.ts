import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { PullFindingsTable } from '../database/schema.ts'
import type { LotId, OfficeId, PartId, PlaceId, PullId, PullLineId, VisitId } from '../units/ids.ts'

/** Open pulls with a line of this lot in this place. */
export async function openPullsAt(db: ReadDb, officeId: OfficeId, lotId: LotId, placeId: PlaceId): Promise<PullId[]> {
  const rows = await db
    .selectFrom('pull_lines as l')
    .innerJoin('pulls as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.pull_id'))
    .select('l.pull_id as pullId')
    .distinct()
    .where('l.office_id', '=', officeId)
    .where('l.lot_id', '=', lotId)
    .where('l.place_id', '=', placeId)
    .where('p.state', '=', 'open')
    .orderBy('l.pull_id')
    .execute()
  return rows.map((row) => row.pullId)
}

/** Takes a line off its pull, with its totes. */
export async function removeLine(tx: WriteDb, officeId: OfficeId, lineId: PullLineId): Promise<void> {
  await tx.deleteFrom('pull_line_stops').where('office_id', '=', officeId).where('pull_line_id', '=', lineId).execute()
  await tx.deleteFrom('pull_lines').where('office_id', '=', officeId).where('id', '=', lineId).execute()
}

/** Puts more pieces into the tote of a stop. */
export async function addToTote(
  tx: WriteDb,
  officeId: OfficeId,
  lineId: PullLineId,
  tote: { readonly visitId: VisitId; readonly stop: number; readonly quantity: number },
): Promise<void> {
  await tx
    .insertInto('pull_line_stops')
    .values({
      office_id: officeId,
      pull_line_id: lineId,
      visit_id: tote.visitId,
      stop: tote.stop,
      quantity: tote.quantity,
    })
    .onConflict((row) =>
      row
        .columns(['office_id', 'pull_line_id', 'visit_id'])
        .doUpdateSet((each) => ({ quantity: each('pull_line_stops.quantity', '+', tote.quantity) })),
    )
    .execute()
}

export interface NewFinding {
  readonly pullId: PullId
  readonly kind: PullFindingsTable['kind']
  readonly partId: PartId
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
  readonly at: string
  readonly by: string
  readonly note: string
}

export async function insertFinding(tx: WriteDb, officeId: OfficeId, finding: NewFinding): Promise<void> {
  await tx
    .insertInto('pull_findings')
    .values({
      office_id: officeId,
      pull_id: finding.pullId,
      kind: finding.kind,
      part_id: finding.partId,
      lot_id: finding.lotId,
      place_id: finding.placeId,
      quantity: finding.quantity,
      found_at: finding.at,
      by_whom: finding.by,
      note: finding.note,
    })
    .execute()
}

export interface FindingRow extends Omit<NewFinding, 'pullId'> {
  readonly partNumber: string
  readonly partName: string
  readonly lotNumber: string
  readonly placeName: string
}

/** What was found on a pull, the first first. */
export async function findingsOfPull(db: ReadDb, officeId: OfficeId, pullId: PullId): Promise<FindingRow[]> {
  return db
    .selectFrom('pull_findings as f')
    .innerJoin('parts as r', (join) => join.onRef('r.office_id', '=', 'f.office_id').onRef('r.id', '=', 'f.part_id'))
    .innerJoin('lots as t', (join) => join.onRef('t.office_id', '=', 'f.office_id').onRef('t.id', '=', 'f.lot_id'))
    .innerJoin('places as p', (join) => join.onRef('p.office_id', '=', 'f.office_id').onRef('p.id', '=', 'f.place_id'))
    .select(['f.kind as kind', 'f.part_id as partId', 'r.number as partNumber', 'r.name as partName'])
    .select(['f.lot_id as lotId', 't.code as lotNumber', 'f.place_id as placeId', 'p.code as placeName'])
    .select(['f.quantity as quantity', 'f.found_at as at', 'f.by_whom as by', 'f.note as note'])
    .where('f.office_id', '=', officeId)
    .where('f.pull_id', '=', pullId)
    .orderBy('f.id')
    .execute()
}
