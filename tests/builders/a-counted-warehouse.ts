import type { CountLine, CountRound } from '../../core/stock/count-contract.ts'
import type { LotId, PartId, PlaceId } from '../../core/units/ids.ts'
import { aLot, aPart, aPlace } from './a-warehouse.ts'
import type { AnOffice } from './an-office.ts'

export interface CountedWarehouse {
  readonly carbon: PartId
  readonly membrane: PartId
  readonly near: PlaceId
  readonly far: PlaceId
  readonly early: LotId
  readonly late: LotId
  readonly sheet: LotId
}

/** Two bins in two aisles: ten and six carbon blocks of two lots in A-02-1, four membranes in B-01-1. */
export async function aCountedWarehouse({ database: { write: tx } }: AnOffice): Promise<CountedWarehouse> {
  const carbon = await aPart(tx, 'P-1010', { name: 'Carbon block' })
  const membrane = await aPart(tx, 'P-2075', { name: 'Membrane', shelfMonths: 36 })
  const [near, far] = [await aPlace(tx, 'A-02-1', 10), await aPlace(tx, 'B-01-1', 20)]
  await tx.updateTable('places').set({ aisle: 'A' }).where('id', '=', near).execute()
  await tx.updateTable('places').set({ aisle: 'B' }).where('id', '=', far).execute()
  const lot = (partId: PartId, code: string, placeId: PlaceId, pieces: number) =>
    aLot(tx, { partId, code, placeId, pieces, expiresOn: '2028-07-31' })
  const [early, late] = [await lot(carbon, '2607-031', near, 10), await lot(carbon, '2609-001', near, 6)]
  return { carbon, membrane, near, far, early, late, sheet: await lot(membrane, '2611-005', far, 4) }
}

export type RoundSeen = CountRound & { readonly version: number; readonly rows: CountLine[] }

/** A round as the window sees it. */
export async function roundOf(office: AnOffice, countId: number): Promise<RoundSeen> {
  return (await office.ask('counts/round', { countId })).json as RoundSeen
}

/** Begins a round of everything; its key. */
export async function aRound(office: AnOffice, scope: object = { of: 'all' }, name = 'December'): Promise<number> {
  const { json } = await office.ask('counts/begin', { name, scope })
  return (json as { countId: number }).countId
}

/** Writes counts down by lot number; a lot that is not named is not counted. */
export async function countLots(
  office: AnOffice,
  countId: number,
  counts: Readonly<Record<string, number | null>>,
): Promise<void> {
  for (const line of (await roundOf(office, countId)).rows) {
    const counted = counts[line.lot]
    if (counted === undefined) continue
    const { status, json } = await office.ask('counts/writeDown', {
      countId,
      lineId: line.lineId,
      seen: line.counted,
      counted,
      note: '',
    })
    if (status !== 200) throw new Error(JSON.stringify(json))
  }
}
