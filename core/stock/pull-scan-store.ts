import type { ReadDb } from '../database/handles.ts'
import type { OfficeId, PartId } from '../units/ids.ts'
import { gtin14 } from './gtin.ts'
import type { KnownByScan } from './pull-scan.ts'

type KnownPart = KnownByScan['parts'][number]
type KnownLot = KnownByScan['lots'][number]

const spellings = (text: string): string[] => [...new Set([text, text.toUpperCase(), text.toLowerCase()])]

/** Parts with this number, typed in whatever case. */
export async function partsByNumber(db: ReadDb, officeId: OfficeId, number: string): Promise<KnownPart[]> {
  return db
    .selectFrom('parts')
    .select(['id as partId', 'number', 'name'])
    .where('office_id', '=', officeId)
    .where('number', 'in', spellings(number))
    .execute()
}

/** Parts with this maker's number, however many zeros either was written with. */
export async function partsByGtin(db: ReadDb, officeId: OfficeId, gtin: string): Promise<KnownPart[]> {
  const whole = gtin14(gtin)
  const written = [14, 13, 12, 8].map((digits) => whole.slice(-digits)).filter((short) => gtin14(short) === whole)
  return db
    .selectFrom('parts')
    .select(['id as partId', 'number', 'name'])
    .where('office_id', '=', officeId)
    .where('gtin', 'in', written)
    .execute()
}

/** Lots with this number, of one of these parts, or (null) of any. */
export async function lotsByNumber(
  db: ReadDb,
  officeId: OfficeId,
  lot: string,
  partIds: readonly PartId[] | null,
): Promise<KnownLot[]> {
  if (partIds !== null && partIds.length === 0) return []
  let lots = db
    .selectFrom('lots as l')
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .select(['l.id as lotId', 'l.code as lot', 'l.part_id as partId', 'p.name as partName'])
    .select(['l.expires_on as expiresOn', 'l.recalled_on as recalledOn'])
    .where('l.office_id', '=', officeId)
    .where('l.code', 'in', spellings(lot))
  if (partIds !== null) lots = lots.where('l.part_id', 'in', partIds)
  const rows = await lots.orderBy('l.id').execute()
  return rows.map(({ recalledOn, ...row }) => ({ ...row, recalled: recalledOn !== null }))
}
