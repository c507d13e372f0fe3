import { sql } from 'kysely'
import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId, PartId, VanId } from '../units/ids.ts'

export interface VanParRow {
  readonly vanId: VanId
  readonly partId: PartId
  readonly par: number
}

/** What vans carry otherwise than the parts say. */
export async function listVanPars(db: ReadDb, officeId: OfficeId): Promise<VanParRow[]> {
  return db
    .selectFrom('van_pars')
    .select(['van_id as vanId', 'part_id as partId', 'par'])
    .where('office_id', '=', officeId)
    .orderBy('van_id')
    .orderBy('part_id')
    .execute()
}

/** Writes anew what a van carries otherwise than the parts say. */
export async function replaceVanPars(
  tx: WriteDb,
  officeId: OfficeId,
  vanId: VanId,
  pars: readonly { readonly partId: PartId; readonly par: number }[],
): Promise<void> {
  await tx.deleteFrom('van_pars').where('office_id', '=', officeId).where('van_id', '=', vanId).execute()
  const rows = [...new Map(pars.map((row) => [row.partId, row])).values()].map(({ partId, par }) => ({
    office_id: officeId,
    van_id: vanId,
    part_id: partId,
    par,
  }))
  if (rows.length > 0) await tx.insertInto('van_pars').values(rows).execute()
}

/** Room taken by what lies on each van now, millilitres, as far as it was measured; vans without any are left out. */
export async function roomTakenOnVans(db: ReadDb, officeId: OfficeId): Promise<Map<VanId, number>> {
  const rows = await db
    .selectFrom('vans as n')
    .innerJoin('balances as b', (join) =>
      join.onRef('b.office_id', '=', 'n.office_id').onRef('b.place_id', '=', 'n.place_id'),
    )
    .innerJoin('lots as l', (join) => join.onRef('l.office_id', '=', 'b.office_id').onRef('l.id', '=', 'b.lot_id'))
    .innerJoin('parts as p', (join) => join.onRef('p.office_id', '=', 'l.office_id').onRef('p.id', '=', 'l.part_id'))
    .select(['n.id as vanId', sql<number>`sum(b.quantity * p.space_ml)`.as('taken')])
    .where('n.office_id', '=', officeId)
    .where('b.quantity', '>', 0)
    .where('p.space_ml', 'is not', null)
    .groupBy('n.id')
    .execute()
  return new Map(rows.map((row) => [row.vanId, Number(row.taken)]))
}

export interface OnTheWayToVan {
  readonly vanId: VanId
  readonly partId: PartId
  readonly forPar: boolean
  readonly quantity: number
}

/** What open pulls will put on vans, by the part that lies in the lots. */
export async function onTheWayToVans(db: ReadDb, officeId: OfficeId): Promise<OnTheWayToVan[]> {
  const rows = await db
    .selectFrom('pulls as p')
    .innerJoin('vans as n', (join) => join.onRef('n.office_id', '=', 'p.office_id').onRef('n.id', '=', 'p.van_id'))
    .innerJoin('pull_lines as l', (join) =>
      join.onRef('l.office_id', '=', 'p.office_id').onRef('l.pull_id', '=', 'p.id'),
    )
    .innerJoin('lots as t', (join) => join.onRef('t.office_id', '=', 'l.office_id').onRef('t.id', '=', 'l.lot_id'))
    .select((each) => [
      'p.van_id as vanId',
      't.part_id as partId',
      'l.for_par as forPar',
      each.fn.sum<number>('l.quantity').as('quantity'),
    ])
    .where('p.office_id', '=', officeId)
    .where('p.state', '=', 'open')
    .whereRef('l.place_id', '<>', 'n.place_id')
    .groupBy(['p.van_id', 't.part_id', 'l.for_par'])
    .execute()
  return rows.map((row) => ({ ...row, forPar: row.forPar === 1, quantity: Number(row.quantity) }))
}
