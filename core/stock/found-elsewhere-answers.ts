import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { shortDate } from '../units/date-words.ts'
import type { LotId, PlaceId } from '../units/ids.ts'
import { bookMovement, lotOrGone, placeInUse, promisedOf } from './book-movement-answers.ts'
import { balanceAt, type LotRow } from './movements-store.ts'
import type { LineOfPull } from './open-pull-answers.ts'
import { listParts } from './parts-store.ts'
import type { PlaceRow } from './places-store.ts'
import type { FindingDone, OtherHeap } from './pull-contract.ts'
import { insertFinding, removeLine } from './pull-findings-store.ts'
import { stockForPulls } from './pull-needs-store.ts'
import { isFittable } from './pull-shapes.ts'
import { type PullLineRow, setLineQuantity, setStopQuantity, stopsOfLines } from './pulls-store.ts'
import { addToPull, judge } from './reallocate-answers.ts'
import { sharePieces } from './share-pieces.ts'

interface Elsewhere {
  readonly lotId: LotId
  readonly placeId: PlaceId
  readonly quantity: number
}

/**
 * Pieces of a line lie in another bin, or another lot lies there: they are ticked from where they were taken, for the stops that had
 * none yet, and the books follow. What the line does not need any more is free.
 */
export async function foundElsewhere(books: OpenBooks, at: LineOfPull, asked: Elsewhere): Promise<Result<FindingDone>> {
  const { line, pull } = at
  const { lotId, placeId, quantity } = asked
  if (quantity > line.quantity) return refused('PULL_FOUND_TOO_MANY', { quantity: line.quantity, pieces: quantity })
  if (lotId === line.lotId && placeId === line.placeId)
    return refused('PULL_FOUND_SAME_PLACE', { lot: line.lotNumber, bin: line.binCode })
  const place = await placeInUse(books, placeId)
  if (!place.ok) return place
  const lot = await lotThatMayBe(books, at, lotId)
  if (!lot.ok) return lot
  const there = await putThere(books, at, lot.value, place.value, quantity)
  if (!there.ok) return there
  await takeOver(books, at, lot.value, place.value, quantity)
  const note = `instead of lot ${line.lotNumber} in ${line.binCode}`
  const about = { pullId: pull.pullId, kind: 'elsewhere' as const, partId: lot.value.partId, lotId, placeId, quantity }
  await insertFinding(books.tx, books.officeId, { ...about, note, at: books.now, by: books.by })
  await judge(books, [{ lotId, placeId }])
  const sentence = `${quantity} of ${line.partName} taken from ${place.value.name}, lot ${lot.value.lotNumber}, ${note}.`
  return ok({ sentence, instead: [], without: [], putBack: 0 })
}

/** A lot of the part that lies there or was asked for, good on the day. */
async function lotThatMayBe(books: OpenBooks, { line, pull }: LineOfPull, lotId: LotId): Promise<Result<LotRow>> {
  const lot = await lotOrGone(books, lotId)
  if (!lot.ok) return lot
  const { partId, partName, lotNumber, recalledOn, expiresOn } = lot.value
  if (partId !== line.partId && partId !== line.askedPartId)
    return refused('PULL_FOUND_OTHER_PART', { part: partName, asked: line.partName })
  if (isFittable({ expiresOn, recalled: recalledOn !== null }, pull.pullOn)) return lot
  const facts = { lot: lotNumber, part: partName }
  if (recalledOn !== null || expiresOn === null) return refused('PULL_LOT_RECALLED', facts)
  const { locale } = await readSettings(books.read, books.officeId)
  return refused('PULL_LOT_EXPIRED', { ...facts, date: shortDate(expiresOn, locale) })
}

/** Puts the books right about what lies there: the line's own pieces lay there all along, or nobody had counted them. */
async function putThere(
  books: OpenBooks,
  { line, pull }: LineOfPull,
  lot: LotRow,
  place: PlaceRow,
  quantity: number,
): Promise<Result<void>> {
  const { read, officeId } = books
  const there = await balanceAt(read, officeId, lot.lotId, place.placeId)
  const promised = await promisedOf(books, lot.lotId, place.placeId)
  let missing = quantity - Math.max(0, there - promised)
  if (missing <= 0) return ok(undefined)
  const bare = { lotId: lot.lotId, toPlaceId: place.placeId, pullId: pull.pullId }
  if (lot.lotId === line.lotId) {
    const own = Math.min(missing, await balanceAt(read, officeId, line.lotId, line.placeId))
    const note = `found in ${place.name} on the pull for ${pull.vanName}`
    const moved =
      own === 0
        ? ok(null)
        : await bookMovement(books, lot, { ...bare, fromPlaceId: line.placeId, quantity: own, reason: 'move', note })
    if (!moved.ok) return moved
    missing -= own
  } else if (promised > 0) {
    const free = Math.max(0, there - promised)
    return refused('STOCK_PROMISED', { there, lot: lot.lotNumber, place: place.name, promised, free })
  }
  if (missing === 0) return ok(undefined)
  const note = `more found on the pull for ${pull.vanName}`
  const counted = await bookMovement(books, lot, {
    ...bare,
    fromPlaceId: null,
    quantity: missing,
    reason: 'count',
    note,
  })
  return counted.ok ? ok(undefined) : counted
}

/** The line gives so many pieces of its last stops to the other bin or lot, where they are ticked. */
async function takeOver(
  books: OpenBooks,
  { line, pull }: LineOfPull,
  lot: LotRow,
  place: PlaceRow,
  quantity: number,
): Promise<void> {
  const { tx, read, officeId } = books
  const keeps = line.quantity - quantity
  const shared = sharePieces(await stopsOfLines(read, officeId, [line.lineId]), keeps)
  for (const stop of shared) if (stop.lacks > 0) await setStopQuantity(tx, officeId, stop, stop.gets)
  const stays = line.pulled === null ? null : Math.min(line.pulled, keeps)
  if (keeps === 0) await removeLine(tx, officeId, line.lineId)
  else await setLineQuantity(tx, officeId, line.lineId, keeps, stays)
  const totes = shared
    .filter((stop) => stop.lacks > 0)
    .map(({ visitId, stop, lacks }) => ({ visitId, stop, quantity: lacks }))
  const { partId, lotId, lotNumber, expiresOn } = lot
  const { placeId, name: binCode, walkOrder } = place
  const from = { partId, lotId, lotNumber, expiresOn, placeId, binCode, walkOrder, forPar: line.forPar }
  const insteadOf = partId === line.askedPartId ? null : line.askedPartId
  await addToPull(books, pull, {
    line: { ...from, insteadOf, quantity, totes },
    isAboard: false,
    ticked: { pulled: quantity, at: books.now, by: books.by },
  })
}

/** Bins where lots of the part lie that may be fitted on the day, with what is free there; the line's own left out. */
export async function otherHeaps(
  desk: Pick<Desk, 'read' | 'officeId'>,
  line: PullLineRow,
  fittedOn: CalendarDate,
): Promise<OtherHeap[]> {
  const { read, officeId } = desk
  const parts = new Map((await listParts(read, officeId)).map((part) => [part.partId, part]))
  const heaps = await stockForPulls(read, officeId, [...new Set([line.partId, line.askedPartId])])
  return heaps
    .filter((heap) => heap.vanId === null && isFittable(heap, fittedOn))
    .filter((heap) => heap.lotId !== line.lotId || heap.placeId !== line.placeId)
    .sort((a, b) => a.walkOrder - b.walkOrder || a.lotId - b.lotId)
    .map(({ lotId, lotNumber: lot, partId, expiresOn, placeId, binCode: bin, onHand, promised }) => {
      const part = { partId, number: parts.get(partId)?.number ?? '', name: parts.get(partId)?.name ?? '' }
      return { lotId, lot, part, expiresOn, placeId, bin, free: Math.max(0, onHand - promised) }
    })
}
