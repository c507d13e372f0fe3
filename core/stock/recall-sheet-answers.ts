import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { LotId, SiteId } from '../units/ids.ts'
import { findLot } from './movements-store.ts'
import { recallFigures } from './recall.ts'
import type { RecallHome, RecallSheetFacts } from './recall-contract.ts'
import { homeOf } from './recall-homes.ts'
import {
  type FittedStage,
  findRecall,
  flowsOfLot,
  heapsOfLot,
  lettersSince,
  stagesFittedWith,
  standingRecalls,
  vanPhones,
  visitsAheadFor,
} from './recall-store.ts'

/** Everything about a lot: where each piece is, who has it in hand, and which homes hold it. */
export async function recallSheet(desk: Desk, { lotId }: { lotId: LotId }): Promise<Result<RecallSheetFacts>> {
  const { read, officeId } = desk
  const lot = await findLot(read, officeId, lotId)
  if (!lot) return refused('RECORD_GONE', { what: 'This lot' })
  const recall = await findRecall(read, officeId, lotId)
  const homes = await recallHomes(desk, lotId)
  const figures = recallFigures(await flowsOfLot(read, officeId, lotId))
  const places = await heapsOfLot(read, officeId, lotId)
  return ok({
    lotId,
    lot: lot.lotNumber,
    partId: lot.partId,
    partNumber: lot.partNumber,
    partName: lot.partName,
    receivedOn: lot.receivedOn,
    expiresOn: lot.expiresOn,
    recalledOn: recall?.on ?? null,
    why: recall?.why ?? lot.recallNote,
    notice: recall?.notice ?? '',
    figures,
    noLongerFitted: figures.fitted - homes.reduce((sum, home) => sum + home.pieces, 0),
    places: places.map(({ placeId, place, kind, pieces }) => ({ placeId, place, kind, pieces })),
    vans: await vansWithPieces(desk, lotId, places),
    homes,
  })
}

/** The homes that hold the lot, by town, with what was done about each since the recall began. */
export async function recallHomes(
  { read, officeId, today }: Pick<Desk, 'read' | 'officeId' | 'today'>,
  lotId: LotId,
): Promise<RecallHome[]> {
  const recall = await findRecall(read, officeId, lotId)
  const stages = await stagesFittedWith(read, officeId, lotId)
  const visits = await visitsAheadFor(read, officeId, lotId, today)
  const letters = recall ? await lettersSince(read, officeId, lotId, recall.at) : new Map<SiteId, never>()
  const bySite = new Map<SiteId, FittedStage[]>()
  for (const stage of stages) bySite.set(stage.siteId, [...(bySite.get(stage.siteId) ?? []), stage])
  return [...bySite].flatMap(([siteId, own]) => {
    const ahead = visits.filter((visit) => visit.siteId === siteId)
    return homeOf(own, ahead, letters.get(siteId) ?? null)
  })
}

async function vansWithPieces(
  { read, officeId }: Desk,
  lotId: LotId,
  places: RecallSheetFacts['places'],
): Promise<RecallSheetFacts['vans']> {
  const recalled = await standingRecalls(read, officeId, lotId)
  return (await vanPhones(read, officeId)).flatMap(({ placeId, van, technician, phone }) => {
    const aboard = places.find((place) => place.placeId === placeId)?.pieces ?? 0
    const setAside = recalled
      .filter((moved) => moved.fromPlaceId === placeId)
      .reduce((sum, moved) => sum + moved.quantity, 0)
    return aboard + setAside === 0 ? [] : [{ van, technician, phone, aboard, setAside }]
  })
}
