import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { LotId, MovementId, PlaceId } from '../units/ids.ts'
import { balanceAt, findLot, type LotRow, type NewMovement, writeMovement } from './movements-store.ts'
import { findPlace, type PlaceRow } from './places-store.ts'
import { promisedPieces } from './pull-needs-store.ts'

type Booking = Omit<NewMovement, 'movedOn' | 'movedAt' | 'by' | 'partId'>

/** What may bring a recalled piece into a bin or onto a van: what is counted lies there, and a record put right tells what was. */
const MOVES_RECALLED: readonly NewMovement['reason'][] = ['count', 'correct', 'recall']

/** Writes a movement of a known lot, or says why it cannot be: too few pieces, or pieces that are promised. */
export async function bookMovement(
  books: OpenBooks,
  lot: LotRow,
  booking: Booking,
  promises: 'respect' | 'ignore' = 'ignore',
): Promise<Result<MovementId>> {
  if (!Number.isSafeInteger(booking.quantity) || booking.quantity <= 0)
    return refused('STOCK_PIECES_NOT_WHOLE', { pieces: booking.quantity })
  if (booking.fromPlaceId !== null) {
    const leaving = await mayLeave(books, lot, booking.fromPlaceId, booking.quantity, promises)
    if (!leaving.ok) return leaving
  }
  if (lot.recalledOn !== null && !MOVES_RECALLED.includes(booking.reason) && booking.toPlaceId !== null) {
    const place = await findPlace(books.read, books.officeId, booking.toPlaceId)
    if (place?.kind === 'bin' || place?.kind === 'van')
      return refused('LOT_RECALLED', { lot: lot.lotNumber, part: lot.partName, place: place.name })
  }
  const id = await writeMovement(books.tx, books.officeId, {
    ...booking,
    partId: lot.partId,
    movedOn: books.today,
    movedAt: books.now,
    by: books.by,
  })
  return ok(id)
}

async function mayLeave(
  books: OpenBooks,
  lot: LotRow,
  placeId: PlaceId,
  wanted: number,
  promises: 'respect' | 'ignore',
): Promise<Result<void>> {
  const there = await balanceAt(books.read, books.officeId, lot.lotId, placeId)
  const place = (await findPlace(books.read, books.officeId, placeId))?.name ?? 'that place'
  if (there < wanted) return refused('STOCK_SHORT', { place, there, lot: lot.lotNumber, wanted })
  if (promises === 'ignore') return ok(undefined)
  const promised = await promisedOf(books, lot.lotId, placeId)
  if (there - promised >= wanted) return ok(undefined)
  return refused('STOCK_PROMISED', { there, lot: lot.lotNumber, place, promised, free: Math.max(0, there - promised) })
}

/** Pieces of a lot at a place that are promised to a pull. */
export async function promisedOf(books: OpenBooks, lotId: LotId, placeId: PlaceId): Promise<number> {
  const promised = await promisedPieces(books.read, books.officeId)
  return promised
    .filter((row) => row.lotId === lotId && row.placeId === placeId)
    .reduce((sum, row) => sum + row.quantity, 0)
}

export async function lotOrGone(books: OpenBooks, lotId: LotId): Promise<Result<LotRow>> {
  const lot = await findLot(books.read, books.officeId, lotId)
  return lot ? ok(lot) : refused('RECORD_GONE', { what: 'This lot' })
}

/** A place that is in use. */
export async function placeInUse(books: OpenBooks, placeId: PlaceId): Promise<Result<PlaceRow>> {
  const place = await findPlace(books.read, books.officeId, placeId)
  if (!place) return refused('RECORD_GONE', { what: 'This place' })
  return place.closedOn === null ? ok(place) : refused('PLACE_CLOSED', { place: place.name })
}
