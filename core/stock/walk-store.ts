import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId, PartId, PlaceId } from '../units/ids.ts'

export interface BinInWalk {
  readonly placeId: PlaceId
  readonly name: string
  readonly aisle: string
  readonly walkOrder: number
}

/** Bins in use, in the order of the walk. */
export async function binsInWalk(db: ReadDb, officeId: OfficeId): Promise<BinInWalk[]> {
  return db
    .selectFrom('places')
    .select(['id as placeId', 'code as name', 'aisle', 'walk_order as walkOrder'])
    .where('office_id', '=', officeId)
    .where('kind', '=', 'bin')
    .where('closed_on', 'is', null)
    .orderBy('walk_order')
    .orderBy('code')
    .execute()
}

/** Writes where a bin comes in the walk. Whoever has its sheet open sees that it changed. */
export async function setWalkOrder(
  tx: WriteDb,
  officeId: OfficeId,
  placeId: PlaceId,
  walkOrder: number,
): Promise<void> {
  await tx
    .updateTable('places')
    .set((each) => ({ walk_order: walkOrder, version: each('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', placeId)
    .execute()
}

/** Bins where parts other than this one usually lie. */
export async function usualBinsOfOthers(db: ReadDb, officeId: OfficeId, partId: PartId): Promise<Set<PlaceId>> {
  const rows = await db
    .selectFrom('part_bins')
    .select('place_id')
    .distinct()
    .where('office_id', '=', officeId)
    .where('part_id', '<>', partId)
    .execute()
  return new Set(rows.map((row) => row.place_id))
}
