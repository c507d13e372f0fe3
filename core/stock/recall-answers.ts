import { implement } from '@orpc/server'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { LotId } from '../units/ids.ts'
import { bookMovement, lotOrGone } from './book-movement-answers.ts'
import type { LotRow } from './movements-store.ts'
import { setLineQuantity, setStopQuantity } from './pulls-store.ts'
import { quarantineOf } from './quarantine-answers.ts'
import { wayBack } from './recall.ts'
import { recallContract } from './recall-contract.ts'
import { recallSheet } from './recall-sheet-answers.ts'
import {
  findRecall,
  type HeapOfLot,
  heapsOfLot,
  listRecalledLots,
  pullLinesOfLot,
  standingRecalls,
  totesAheadOfLot,
  writeRecall,
} from './recall-store.ts'
import { proposeRecallVisits } from './recall-visits-answers.ts'
import { freedSentence, quarantinedSentence, recalledSentence } from './recall-words.ts'

type Said = Result<{ sentence: string }>

/** In one piece: the lot is marked, pulls give it back, what lies in bins and on vans goes to quarantine, and due dates follow. */
export function recallLot(desk: Desk, input: { lotId: LotId; why: string; notice: string }): Promise<Said> {
  return desk.write(async (books) => {
    const lot = await lotOrGone(books, input.lotId)
    if (!lot.ok) return lot
    const { lotNumber, partId, recalledOn } = lot.value
    if (recalledOn !== null) return refused('STOCK_LOT_UNCHANGED', { lot: lotNumber, state: 'recalled' })
    if (input.why === '') return refused('STOCK_REASON_MISSING')
    const { tx, officeId, today: on, now: at } = books
    await writeRecall(tx, officeId, input.lotId, { on, at, why: input.why, notice: input.notice })
    const given = await givenBackByPulls(books, input.lotId)
    const moved = await intoQuarantine(books, lot.value, input.why)
    if (!moved.ok) return moved
    const sentence = recalledSentence(lot.value, moved.value, given)
    const details = [input.why, input.notice].filter((part) => part !== '').join('; ')
    await books.record({ subjectKind: 'part', subjectId: partId, verb: 'recalled', sentence, details })
    // What is fitted from this lot is due at once.
    const told = await books.happened({ kind: 'lot-recalled', lotId: input.lotId })
    return told.ok ? ok({ sentence }) : told
  })
}

interface MovedToQuarantine {
  readonly heaps: readonly HeapOfLot[]
  readonly quarantine: string
}

/** Moves what lies in bins and on vans into quarantine; goods on their way stay where the books have them. */
async function intoQuarantine(books: OpenBooks, lot: LotRow, note: string): Promise<Result<MovedToQuarantine>> {
  const all = await heapsOfLot(books.read, books.officeId, lot.lotId)
  const heaps = all.filter(({ kind }) => kind === 'bin' || kind === 'van')
  const quarantine = await quarantineOf(books)
  for (const { placeId, pieces } of heaps) {
    const moved = await bookMovement(books, lot, {
      lotId: lot.lotId,
      fromPlaceId: placeId,
      toPlaceId: quarantine.placeId,
      quantity: pieces,
      reason: 'recall',
      note,
    })
    if (!moved.ok) return moved
  }
  return ok({ heaps, quarantine: quarantine.name })
}

/** Pulls give back what they hold of the lot: those visits lack it again, and are planned anew. Returns pieces by van. */
async function givenBackByPulls(books: OpenBooks, lotId: LotId): Promise<{ van: string; pieces: number }[]> {
  const { read, tx, officeId } = books
  const totes = await totesAheadOfLot(read, officeId, lotId)
  const given = new Map<string, number>()
  for (const line of await pullLinesOfLot(read, officeId, lotId)) {
    const own = totes.filter((tote) => tote.lineId === line.lineId)
    for (const tote of own) await setStopQuantity(tx, officeId, tote, 0)
    const ahead = own.reduce((sum, tote) => sum + tote.quantity, 0)
    if (line.state === 'open') await setLineQuantity(tx, officeId, line.lineId, 0, null)
    const pieces = line.state === 'open' ? line.quantity : ahead
    if (pieces > 0) given.set(line.van, (given.get(line.van) ?? 0) + pieces)
  }
  return [...given].map(([van, pieces]) => ({ van, pieces }))
}

/** What came back into bins or onto vans since the recall goes to quarantine, too. */
function quarantine(desk: Desk, { lotId }: { lotId: LotId }): Promise<Said> {
  return desk.write(async (books) => {
    const lot = await lotOrGone(books, lotId)
    if (!lot.ok) return lot
    const recall = await findRecall(books.read, books.officeId, lotId)
    if (!recall) return refused('LOT_NOT_RECALLED', { lot: lot.value.lotNumber, part: lot.value.partName })
    const moved = await intoQuarantine(books, lot.value, recall.why)
    if (!moved.ok) return moved
    const sentence = quarantinedSentence(lot.value, moved.value)
    if (moved.value.heaps.length > 0)
      await books.record({ subjectKind: 'part', subjectId: lot.value.partId, verb: 'quarantined', sentence })
    return ok({ sentence })
  })
}

/** Fit for use again: pieces go back where they were, by counter-movements, as far as they are there and the places are in use. */
export function freeLot(desk: Desk, { lotId, why }: { lotId: LotId; why: string }): Promise<Said> {
  return desk.write(async (books) => {
    const lot = await lotOrGone(books, lotId)
    if (!lot.ok) return lot
    const { lotNumber, partId, recalledOn } = lot.value
    if (recalledOn === null) return refused('STOCK_LOT_UNCHANGED', { lot: lotNumber, state: 'fit for use' })
    await writeRecall(books.tx, books.officeId, lotId, null, why)
    const back = await outOfQuarantine(books, { ...lot.value, recalledOn: null }, why)
    if (!back.ok) return back
    const sentence = freedSentence(lot.value, back.value)
    await books.record({ subjectKind: 'part', subjectId: partId, verb: 'freed', sentence, details: why })
    const told = await books.happened({ kind: 'lot-recalled', lotId })
    return told.ok ? ok({ sentence }) : told
  })
}

async function outOfQuarantine(
  books: OpenBooks,
  lot: LotRow,
  note: string,
): Promise<Result<{ pieces: number; stays: ReturnType<typeof wayBack>['stays'] }>> {
  const { read, officeId } = books
  const heaps = await heapsOfLot(read, officeId, lot.lotId)
  const there = new Map(heaps.map(({ placeId, pieces }) => [placeId, pieces]))
  const { counters, parts, stays } = wayBack(await standingRecalls(read, officeId, lot.lotId), there)
  for (const { movementId, lotId, fromPlaceId, toPlaceId, quantity } of counters) {
    const counter = { lotId, fromPlaceId: toPlaceId, toPlaceId: fromPlaceId, quantity, correctsId: movementId }
    const moved = await bookMovement(books, lot, { ...counter, reason: 'correct', note })
    if (!moved.ok) return moved
  }
  for (const { lotId, fromPlaceId, toPlaceId, left } of parts) {
    const way = { lotId, fromPlaceId: toPlaceId, toPlaceId: fromPlaceId, quantity: left }
    const moved = await bookMovement(books, lot, { ...way, reason: 'move', note })
    if (!moved.ok) return moved
  }
  const pieces = [...counters.map((each) => each.quantity), ...parts.map((each) => each.left)]
  return ok({ pieces: pieces.reduce((sum, each) => sum + each, 0), stays })
}

const door = implement(recallContract).$context<Desk>()
export const recallAnswers = door.router({
  lots: door.lots.handler(answer(async (desk: Desk) => ok(await listRecalledLots(desk.read, desk.officeId)))),
  lot: door.lot.handler(answer(recallSheet)),
  recallLot: door.recallLot.handler(answer(recallLot)),
  visits: door.visits.handler(answer(proposeRecallVisits)),
  quarantine: door.quarantine.handler(answer(quarantine)),
  freeLot: door.freeLot.handler(answer(freeLot)),
})
