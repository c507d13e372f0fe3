import type { OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { readSettings } from '../settings/settings-store.ts'
import { counted, shortDate } from '../units/date-words.ts'
import type { PurchaseOrderId, PurchaseOrderLineId, SupplierId } from '../units/ids.ts'
import { bookMovement, lotOrGone, placeInUse } from './book-movement-answers.ts'
import { findLotByNumber, insertLot, insertReceipt, type LotRow, receivedOfLot } from './movements-store.ts'
import { findPart, type PartRow } from './parts-store.ts'
import type { Moved, Receive } from './stock-contract.ts'

/** The order that a delivery answers, when it answers one. */
export interface OrderReceived {
  readonly supplierId: SupplierId
  readonly orderId: PurchaseOrderId
  readonly lineId: PurchaseOrderLineId
}

/** Puts a delivered lot into its bin. Refuses a lot past its date, a lot that is known already, and a second label that differs. */
export async function receiveLot(
  books: OpenBooks,
  input: Receive,
  order: OrderReceived | null = null,
): Promise<Result<Moved>> {
  const part = await findPart(books.read, books.officeId, input.partId)
  if (!part) return refused('RECORD_GONE', { what: 'This part' })
  if (!Number.isSafeInteger(input.quantity) || input.quantity <= 0)
    return refused('STOCK_PIECES_NOT_WHOLE', { pieces: input.quantity })
  const place = await placeInUse(books, input.placeId)
  if (!place.ok) return place
  const lot = await lotOfDelivery(books, part, input)
  if (!lot.ok) return lot
  const receiptId = await insertReceipt(books.tx, books.officeId, {
    supplierId: order?.supplierId ?? null,
    orderId: order?.orderId ?? null,
    receivedOn: books.today,
    by: books.by,
    note: input.note,
  })
  const movement = await bookMovement(books, lot.value, {
    lotId: lot.value.lotId,
    fromPlaceId: null,
    toPlaceId: input.placeId,
    quantity: input.quantity,
    reason: 'receive',
    note: input.note,
    receiptId,
    orderLineId: order?.lineId ?? null,
  })
  if (!movement.ok) return movement
  const sentence = `${counted(input.quantity, 'piece')} of ${part.name}, lot ${lot.value.lotNumber}, received into ${place.value.name}.`
  await books.record({ subjectKind: 'part', subjectId: part.partId, verb: 'received', sentence })
  return ok({ movementId: movement.value, sentence })
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
