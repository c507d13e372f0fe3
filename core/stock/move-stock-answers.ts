import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import type { LotId, MovementId, PartId, PlaceId } from '../units/ids.ts'
import { bookMovement, lotOrGone, placeInUse } from './book-movement-answers.ts'
import { counterMovement, movementOfCount } from './ledger.ts'
import { balanceAt, findMovement, type LotRow, type MovementReason } from './movements-store.ts'
import { findPlace, type PlaceRow } from './places-store.ts'
import { receiveLot } from './receive-lot-answers.ts'
import type { Moved, Receive } from './stock-contract.ts'
import { insertCount, insertCountLines } from './stock-counts-store.ts'

export function receive(desk: Desk, input: Receive): Promise<Result<Moved>> {
  return desk.write((books) => receiveLot(books, input))
}

interface Carry {
  readonly lotId: LotId
  readonly fromPlaceId: PlaceId | null
  readonly toPlaceId: PlaceId | null
  readonly quantity: number
  readonly note: string
  readonly reason: MovementReason
  readonly sentence: (what: string) => string
}

/** Books one movement that someone asked for, and says it in the log. What is promised stays where it is. */
async function carry(books: OpenBooks, input: Carry): Promise<Result<Moved>> {
  const lot = await lotOrGone(books, input.lotId)
  if (!lot.ok) return lot
  const { lotId, fromPlaceId, toPlaceId, quantity, reason, note } = input
  const booked = await bookMovement(
    books,
    lot.value,
    { lotId, fromPlaceId, toPlaceId, quantity, reason, note },
    'respect',
  )
  if (!booked.ok) return booked
  const sentence = input.sentence(whatOf(lot.value, quantity))
  await books.record({ subjectKind: 'part', subjectId: lot.value.partId, verb: reason, sentence, details: note })
  return ok({ movementId: booked.value, sentence })
}

const whatOf = (lot: LotRow, quantity: number): string =>
  `${counted(quantity, 'piece')} of ${lot.partName}, lot ${lot.lotNumber},`

export function move(
  desk: Desk,
  input: { lotId: LotId; fromPlaceId: PlaceId; toPlaceId: PlaceId; quantity: number; note: string },
): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    const to = await placeInUse(books, input.toPlaceId)
    if (!to.ok) return to
    if (input.fromPlaceId === input.toPlaceId) return refused('STOCK_SAME_PLACE', { place: to.value.name })
    const from = await findPlace(books.read, books.officeId, input.fromPlaceId)
    const allowed = await mayMove(books, input, from, to.value)
    if (!allowed.ok) return allowed
    const way = `moved from ${from?.name ?? 'elsewhere'} to ${to.value.name}.`
    return carry(books, { ...input, reason: 'move', sentence: (what) => `${what} ${way}` })
  })
}

/** Pieces are set aside and freed again with a reason; what is on the way arrives; a lot that is recalled stays set aside. */
async function mayMove(
  books: OpenBooks,
  { lotId, note }: { lotId: LotId; note: string },
  from: PlaceRow | null,
  to: PlaceRow,
): Promise<Result<void>> {
  if (to.kind === 'transit') return refused('STOCK_SENT_TO_TRANSIT', { place: to.name })
  const isSetAside = from?.kind === 'quarantine'
  if ((isSetAside || to.kind === 'quarantine') && note === '') return refused('STOCK_REASON_MISSING')
  if (!isSetAside || to.kind === 'quarantine') return ok(undefined)
  const lot = await lotOrGone(books, lotId)
  if (!lot.ok) return lot
  if (lot.value.recalledOn === null) return ok(undefined)
  return refused('STOCK_STILL_RECALLED', { lot: lot.value.lotNumber, place: to.name })
}

/** A count tells what lies there; what the books said before is put right by a movement of its own. */
export function count(
  desk: Desk,
  input: { lotId: LotId; placeId: PlaceId; seen: number; counted: number; note: string },
): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    const lot = await lotOrGone(books, input.lotId)
    if (!lot.ok) return lot
    const place = await placeInUse(books, input.placeId)
    if (!place.ok) return place
    const quantity = await balanceAt(books.read, books.officeId, input.lotId, input.placeId)
    if (quantity !== input.seen) return refused('STOCK_COUNT_CHANGED', { seen: input.seen, now: quantity })
    const movement = movementOfCount({ ...input, quantity })
    if (!movement.ok) return movement
    const where = `Lot ${lot.value.lotNumber} of ${lot.value.partName} in ${place.value.name}`
    const sentence =
      quantity === input.counted
        ? `${where}: counted ${input.counted}, as the books said.`
        : `${where}: counted ${input.counted}, the books said ${quantity}.`
    let movementId: MovementId | null = null
    if (movement.value) {
      const booked = await bookMovement(books, lot.value, { ...movement.value, reason: 'count', note: input.note })
      if (!booked.ok) return booked
      movementId = booked.value
    }
    await keepSingleCount(books, { ...input, partId: lot.value.partId, booksSaid: quantity, movementId })
    await books.record({ subjectKind: 'part', subjectId: lot.value.partId, verb: 'counted', sentence })
    return ok({ movementId, sentence })
  })
}

/** A count of one heap is kept beside those of the rounds, also when it agreed: it was counted. */
async function keepSingleCount(
  books: OpenBooks,
  heap: {
    readonly placeId: PlaceId
    readonly partId: PartId
    readonly lotId: LotId
    readonly counted: number
    readonly booksSaid: number
    readonly note: string
    readonly movementId: MovementId | null
  },
): Promise<void> {
  const { tx, officeId, today: on, now: at, by } = books
  const countId = await insertCount(tx, officeId, { name: '', on, at, by, state: 'approved' })
  const { counted: pieces, booksSaid, ...line } = heap
  const why = 'Counted by itself.'
  await insertCountLines(tx, officeId, countId, [{ ...line, why, counted: { pieces, booksSaid, at, by } }])
}

export function scrap(
  desk: Desk,
  input: { lotId: LotId; placeId: PlaceId; quantity: number; note: string },
): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    if (input.note === '') return refused('STOCK_REASON_MISSING')
    const asked = { ...input, fromPlaceId: input.placeId, toPlaceId: null, reason: 'scrap' as const }
    return carry(books, { ...asked, sentence: (what) => `${what} thrown away: ${input.note}` })
  })
}

export function giveBack(
  desk: Desk,
  input: { lotId: LotId; placeId: PlaceId; way: 'from-household' | 'to-supplier'; quantity: number; note: string },
): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    const place = await placeInUse(books, input.placeId)
    if (!place.ok) return place
    const comes = input.way === 'from-household'
    return carry(books, {
      ...input,
      fromPlaceId: comes ? null : input.placeId,
      toPlaceId: comes ? input.placeId : null,
      reason: 'return',
      sentence: (what) =>
        comes
          ? `${what} came back from a household into ${place.value.name}.`
          : `${what} went back from ${place.value.name} to the supplier.`,
    })
  })
}

/** A mistake is put right by its counter-movement, once; what a visit or a pull moved is put right there. */
export function putRight(desk: Desk, input: { movementId: MovementId; note: string }): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    const mistake = await findMovement(books.read, books.officeId, input.movementId)
    if (!mistake) return refused('RECORD_GONE', { what: 'This movement' })
    if (mistake.visitId !== null) return refused('STOCK_MOVEMENT_OF_VISIT')
    if (mistake.correctedBy !== null || mistake.correctsId !== null) return refused('STOCK_MOVEMENT_CORRECTED')
    const lot = await lotOrGone(books, mistake.lotId)
    if (!lot.ok) return lot
    const { fromPlaceId, toPlaceId, lotId, quantity } = counterMovement(mistake)
    const { boundForPlaceId } = mistake
    const back = { fromPlaceId, toPlaceId, lotId, quantity, boundForPlaceId }
    const counter = { ...back, reason: 'correct' as const, note: input.note }
    const booked = await bookMovement(books, lot.value, { ...counter, correctsId: mistake.movementId }, 'respect')
    if (!booked.ok) return booked
    const told = await books.happened({ kind: 'movement-put-right', movementId: mistake.movementId })
    if (!told.ok) return told
    const sentence = `${whatOf(lot.value, quantity)} put back where they were.`
    await books.record({ subjectKind: 'part', subjectId: lot.value.partId, verb: 'put right', sentence })
    return ok({ movementId: booked.value, sentence })
  })
}
