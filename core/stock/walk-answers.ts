import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import type { PlaceId } from '../units/ids.ts'
import { piecesByPlace } from './places-store.ts'
import { aislesOf, walkOrders } from './walk.ts'
import { walkContract } from './walk-contract.ts'
import { binsInWalk, setWalkOrder } from './walk-store.ts'

async function bins(desk: Desk) {
  const pieces = await piecesByPlace(desk.read, desk.officeId)
  const rows = await binsInWalk(desk.read, desk.officeId)
  return ok(rows.map(({ placeId, name, aisle }) => ({ placeId, name, aisle, pieces: pieces.get(placeId) ?? 0 })))
}

/** Writes the walk; pull lists, papers and counts follow it from then on. Refused when it was changed meanwhile. */
function save(
  desk: Desk,
  input: { seen: readonly PlaceId[]; bins: readonly PlaceId[] },
): Promise<Result<{ sentence: string; moved: number }>> {
  return desk.write(async (books) => {
    const now = await binsInWalk(books.read, books.officeId)
    if (now.map((bin) => bin.placeId).join() !== input.seen.join()) return refused('WALK_CHANGED')
    const byId = new Map(now.map((bin) => [bin.placeId, bin]))
    const wanted = input.bins.flatMap((placeId) => byId.get(placeId) ?? [])
    if (wanted.length !== now.length || new Set(input.bins).size !== now.length) return refused('WALK_CHANGED')
    const orders = walkOrders([{ aisle: '', bins: wanted }])
    const changed = now.filter((bin) => orders.get(bin.placeId) !== bin.walkOrder)
    for (const { placeId } of changed) await setWalkOrder(books.tx, books.officeId, placeId, orders.get(placeId) ?? 0)
    const aisles = aislesOf(wanted).map((each) => each.aisle || 'the rest')
    const sentence = `The walk goes through ${counted(wanted.length, 'bin')}: ${aisles.join(', ')}.`
    await books.record({ subjectKind: 'office', subjectId: books.officeId, verb: 'changed', sentence })
    return ok({ sentence, moved: changed.length })
  })
}

const door = implement(walkContract).$context<Desk>()
export const walkAnswers = door.router({
  bins: door.bins.handler(answer((desk) => bins(desk))),
  save: door.save.handler(answer(save)),
})
