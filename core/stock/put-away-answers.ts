import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { PartId } from '../units/ids.ts'
import { lotsOfPart, whereIsPart } from './movements-store.ts'
import { binsOfPart } from './parts-store.ts'
import { listPlaces, piecesByPlace } from './places-store.ts'
import { type PutAwayChoice, putAway } from './put-away.ts'
import { putAwayContract } from './put-away-contract.ts'
import { usualBinsOfOthers } from './walk-store.ts'

async function suggest(
  desk: Desk,
  { partId, lot, expiresOn }: { partId: PartId; lot: string; expiresOn: CalendarDate | null },
): Promise<Result<PutAwayChoice[]>> {
  const { read, officeId } = desk
  const heaps = await whereIsPart(read, officeId, partId)
  const pieces = await piecesByPlace(read, officeId)
  const lots = new Map((await lotsOfPart(read, officeId, partId)).map((each) => [each.lotId, each]))
  const bins = (await listPlaces(read, officeId))
    .filter((place) => place.kind === 'bin' && place.closedOn === null)
    .map(({ placeId, name }) => {
      const here = heaps.filter((heap) => heap.placeId === placeId)
      return {
        placeId,
        name,
        heaps: here.map((heap) => ({
          lot: heap.lotNumber,
          expiresOn: lots.get(heap.lotId)?.expiresOn ?? null,
          pieces: heap.quantity,
        })),
        others: (pieces.get(placeId) ?? 0) - here.reduce((sum, heap) => sum + heap.quantity, 0),
      }
    })
  const usual = await binsOfPart(read, officeId, partId)
  const usualOfOthers = await usualBinsOfOthers(read, officeId, partId)
  return ok(putAway({ lot, expiresOn, bins, usual, usualOfOthers }))
}

const door = implement(putAwayContract).$context<Desk>()
export const putAwayAnswers = door.router({ suggest: door.suggest.handler(answer(suggest)) })
