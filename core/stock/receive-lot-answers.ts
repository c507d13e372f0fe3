import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { counted, shortDate } from '../units/date-words.ts'
import type { MovementId, PlaceId, PurchaseOrderId, PurchaseOrderLineId, SupplierId } from '../units/ids.ts'
import { bookMovement, lotOrGone, placeInUse } from './book-movement-answers.ts'
import { findLotByNumber, insertLot, insertReceipt, type LotRow, receivedOfLot } from './movements-store.ts'
import { findPart, type PartRow } from './parts-store.ts'
import type { PlaceRow } from './places-store.ts'
import { quarantineOf } from './quarantine-answers.ts'
import { insertReceiptLine } from './receipt-lines-store.ts'
import type { Moved, Receive } from './stock-contract.ts'

/** The order that a delivery answers, when it answers one. */
export interface OrderReceived {
  readonly supplierId: SupplierId
  readonly orderId: PurchaseOrderId
  readonly lineId: PurchaseOrderLineId
  /** The receipt of the whole delivery, where one was begun; otherwise this lot has one of its own. */
  readonly receiptId?: number
}

/**
 * Puts a delivered lot away: whole pieces into their bin, damaged ones into quarantine, each by a movement, both on one receipt.
 * Refuses a lot past its date or recalled, a lot that is known already, and a second label that differs.
 */
export async function receiveLot(
  books: OpenBooks,
  input: Receive,
  order: OrderReceived | null = null,
): Promise<Result<Moved>> {
  const part = await findPart(books.read, books.officeId, input.partId)
  if (!part) return refused('RECORD_GONE', { what: 'This part' })
  const pieces = piecesOf(input)
  if (!pieces.ok) return pieces
  const place = await placeInUse(books, input.placeId)
  if (!place.ok) return place
  const lot = await lotOfDelivery(books, part, input)
  if (!lot.ok) return lot
  if (lot.value.recalledOn !== null && pieces.value.accepted > 0 && place.value.kind !== 'quarantine')
    return refused('STOCK_LOT_RECALLED', { lot: lot.value.lotNumber, part: part.name })
  const receiptId = order?.receiptId ?? (await beginReceipt(books, order, input.note))
  const orderLineId = order?.lineId ?? null
  const { partId } = part
  const { lotId } = lot.value
  const price = input.cost ?? part.cost
  await insertReceiptLine(books.tx, books.officeId, { receiptId, orderLineId, partId, lotId, price, ...pieces.value })
  const done = await putAway(books, lot.value, pieces.value, place.value, { receiptId, orderLineId, note: input.note })
  if (!done.ok) return done
  await books.record({ subjectKind: 'part', subjectId: partId, verb: 'received', sentence: done.value.sentence })
  return done
}

/** The receipt of a delivery; what came stands on its lines. */
export function beginReceipt(
  books: OpenBooks,
  order: Pick<OrderReceived, 'supplierId' | 'orderId'> | null,
  note: string,
): Promise<number> {
  const { supplierId = null, orderId = null } = order ?? {}
  const facts = { supplierId, orderId, receivedOn: books.today, by: books.by, note }
  return insertReceipt(books.tx, books.officeId, facts)
}

interface Pieces {
  readonly accepted: number
  readonly damaged: number
}

function piecesOf(input: Receive): Result<Pieces> {
  const { quantity: accepted, damaged = 0 } = input
  for (const pieces of [accepted, damaged])
    if (!Number.isSafeInteger(pieces) || pieces < 0) return refused('STOCK_PIECES_NOT_WHOLE', { pieces })
  return accepted + damaged > 0 ? ok({ accepted, damaged }) : refused('STOCK_PIECES_NOT_WHOLE', { pieces: 0 })
}

/** The movements of a delivery and what is said of them. The first movement is told; what was set aside is the second when both are. */
async function putAway(
  books: OpenBooks,
  lot: LotRow,
  { accepted, damaged }: Pieces,
  place: PlaceRow,
  facts: { readonly receiptId: number; readonly orderLineId: PurchaseOrderLineId | null; readonly note: string },
): Promise<Result<Moved>> {
  const book = (toPlaceId: PlaceId, quantity: number, note: string) =>
    bookMovement(books, lot, {
      ...facts,
      note,
      lotId: lot.lotId,
      fromPlaceId: null,
      toPlaceId,
      quantity,
      reason: 'receive',
    })
  const what = `of ${lot.partName}, lot ${lot.lotNumber},`
  const movementIds: MovementId[] = []
  const sentences: string[] = []
  if (accepted > 0) {
    const booked = await book(place.placeId, accepted, facts.note)
    if (!booked.ok) return booked
    movementIds.push(booked.value)
    sentences.push(`${counted(accepted, 'piece')} ${what} received into ${place.name}.`)
  }
  if (damaged > 0) {
    const quarantine = await quarantineOf(books)
    const note = facts.note === '' ? 'came damaged' : `came damaged, ${facts.note}`
    const booked = await book(quarantine.placeId, damaged, note)
    if (!booked.ok) return booked
    movementIds.push(booked.value)
    const aside = `damaged and set aside in ${quarantine.name}.`
    sentences.push(accepted > 0 ? `${damaged} ${aside}` : `${counted(damaged, 'piece')} ${what} ${aside}`)
  }
  const [movementId = null, ...further] = movementIds
  return ok({ movementId, further, lotId: lot.lotId, sentence: sentences.join(' ') })
}

async function lotOfDelivery(books: OpenBooks, part: PartRow, input: Receive): Promise<Result<LotRow>> {
  const { locale } = await readSettings(books.read, books.officeId)
  if (input.lot === '') return refused('STOCK_LOT_NAMELESS')
  if (input.expiresOn === null && part.shelfMonths !== null)
    return refused('STOCK_EXPIRY_MISSING', { part: part.name, months: part.shelfMonths, lot: input.lot })
  if (input.expiresOn !== null && input.expiresOn < books.today)
    return refused('STOCK_EXPIRY_PAST', { lot: input.lot, date: shortDate(input.expiresOn, locale) })
  const known = await findLotByNumber(books.read, books.officeId, part.partId, input.lot)
  if (!known) {
    const lotId = await insertLot(books.tx, books.officeId, {
      partId: part.partId,
      lotNumber: input.lot,
      expiresOn: input.expiresOn,
      receivedOn: books.today,
      cost: input.cost ?? part.cost,
    })
    return lotOrGone(books, lotId)
  }
  const inWords = (date: typeof input.expiresOn) => (date === null ? 'none' : shortDate(date, locale))
  if (known.expiresOn !== input.expiresOn)
    return refused('STOCK_LOT_OTHER_EXPIRY', {
      lot: known.lotNumber,
      part: part.name,
      known: inWords(known.expiresOn),
      typed: inWords(input.expiresOn),
    })
  if (input.furtherDelivery) return ok(known)
  return refused('STOCK_LOT_KNOWN', {
    lot: known.lotNumber,
    part: part.name,
    date: shortDate(known.receivedOn, locale),
    pieces: await receivedOfLot(books.read, books.officeId, known.lotId),
  })
}
