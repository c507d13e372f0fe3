import { implement } from '@orpc/server'
import type { z } from 'zod'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { LotId } from '../units/ids.ts'
import { bookMovement, lotOrGone } from './book-movement-answers.ts'
import type { LotRow } from './movements-store.ts'
import { findPull, linesOfPulls, setStopQuantity } from './pulls-store.ts'
import { quarantineOf } from './quarantine-answers.ts'
import { type LostLine, reallocate } from './reallocate-answers.ts'
import { wayBack } from './recall.ts'
import {
  type FreeLot,
  type RecallLot,
  recallContract,
  recallDoneSchema,
  recallVisitsSchema,
} from './recall-contract.ts'
import { recallSheet } from './recall-sheet-answers.ts'
import {
  findRecall,
  type HeapOfLot,
  hasManyFitted,
  heapsOfLot,
  listRecalledLots,
  standingRecalls,
  writeRecall,
} from './recall-store.ts'
import { proposeRecallVisits } from './recall-visits-answers.ts'
import { freedSentence, type GivenBack, quarantinedSentence, recalledSentence } from './recall-words.ts'
import { pullLinesOfLot, totesAheadOfLot } from './recalled-in-pulls-store.ts'

type Said = Result<{ sentence: string }>

/** Places in homes from which on everybody else would wait while all that follows from a recall is done. */
const MANY_FITTED = 500

/** Does it in a thread of its own where the lot is in many homes. */
function whereManyApart<Input extends { readonly lotId: LotId }, Output>(
  work: string,
  output: z.ZodType<Output>,
  here: (desk: Desk, input: Input) => Promise<Result<Output>>,
): (desk: Desk, input: Input) => Promise<Result<Output>> {
  return async (desk, input) => {
    const isApart = desk.apart && (await hasManyFitted(desk.read, desk.officeId, input.lotId, MANY_FITTED))
    if (!desk.apart || !isApart) return here(desk, input)
    const done = await desk.apart(work, input)
    return done.ok ? ok(output.parse(done.value)) : done
  }
}

/** In one piece: the lot is marked, pulls give it back, what lies in bins and on vans goes to quarantine, and due dates follow. */
export function recallLotHere(desk: Desk, input: RecallLot): Promise<Said> {
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

/**
 * Pulls give back what they hold of the lot. Open ones are planned anew at once, from other lots; visits whose pieces were put on a van
 * lack them again. Everything of it is told.
 */
async function givenBackByPulls(books: OpenBooks, lotId: LotId): Promise<GivenBack> {
  const { read, tx, officeId } = books
  const totes = await totesAheadOfLot(read, officeId, lotId)
  const given = new Map<string, number>()
  const lost: LostLine[] = []
  for (const { state, lineId, pullId, van, quantity } of await pullLinesOfLot(read, officeId, lotId)) {
    const own = totes.filter((tote) => tote.lineId === lineId)
    const pieces = state === 'open' ? quantity : own.reduce((sum, tote) => sum + tote.quantity, 0)
    if (pieces > 0) given.set(van, (given.get(van) ?? 0) + pieces)
    if (state === 'confirmed') for (const tote of own) await setStopQuantity(tx, officeId, tote, 0)
    const pull = state === 'open' ? await findPull(read, officeId, pullId) : null
    const line = pull && (await linesOfPulls(read, officeId, [pullId])).find((each) => each.lineId === lineId)
    if (pull && line) lost.push({ pull, line, left: 0, ticked: 0 })
  }
  const ticked = lost.reduce(
    (sum, { pull, line }) => sum + (line.placeId === pull.vanPlaceId ? 0 : (line.pulled ?? 0)),
    0,
  )
  const { instead, without } = await reallocate(books, lost)
  return { byVan: [...given].map(([van, pieces]) => ({ van, pieces })), instead, without, ticked }
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
export function freeLotHere(desk: Desk, { lotId, why }: FreeLot): Promise<Said> {
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

const recallLot = whereManyApart('recall-lot', recallDoneSchema, recallLotHere)
const freeLot = whereManyApart('free-lot', recallDoneSchema, freeLotHere)
const visits = whereManyApart('propose-recall-visits', recallVisitsSchema, proposeRecallVisits)

const door = implement(recallContract).$context<Desk>()
export const recallAnswers = door.router({
  lots: door.lots.handler(answer(async (desk: Desk) => ok(await listRecalledLots(desk.read, desk.officeId)))),
  lot: door.lot.handler(answer(recallSheet)),
  recallLot: door.recallLot.handler(answer(recallLot)),
  visits: door.visits.handler(answer(visits)),
  quarantine: door.quarantine.handler(answer(quarantine)),
  freeLot: door.freeLot.handler(answer(freeLot)),
})
