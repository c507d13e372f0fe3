import type { Desk, OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import type { LotId, PlaceId } from '../units/ids.ts'
import { bookMovement, lotOrGone, placeInUse } from './book-movement-answers.ts'
import { boundFor } from './on-the-way.ts'
import { transitHeaps, wayMovements } from './on-the-way-store.ts'
import { findPlace, findPlaceByName, insertPlace, listPlaces } from './places-store.ts'
import type { Moved, OnTheWay } from './stock-contract.ts'

const THE_WAY = 'on the way'

/** The place that stands for the way; made when something is sent for the first time. */
async function theWay(books: OpenBooks): Promise<PlaceId> {
  const places = await listPlaces(books.read, books.officeId)
  const known = places.find((place) => place.kind === 'transit' && place.closedOn === null)
  if (known) return known.placeId
  const namesake = await findPlaceByName(books.read, books.officeId, THE_WAY)
  const name = namesake === null ? THE_WAY : `${THE_WAY} (${places.length + 1})`
  return insertPlace(books.tx, books.officeId, { kind: 'transit', name, aisle: '', walkOrder: 0 })
}

interface Send {
  readonly lotId: LotId
  readonly fromPlaceId: PlaceId
  readonly boundForPlaceId: PlaceId
  readonly quantity: number
  readonly note: string
}

/** Pieces leave a bin or a van for another; they are on the way until somebody says that they arrived. */
export function send(desk: Desk, input: Send): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    const lot = await lotOrGone(books, input.lotId)
    if (!lot.ok) return lot
    const to = await placeInUse(books, input.boundForPlaceId)
    if (!to.ok) return to
    const from = await findPlace(books.read, books.officeId, input.fromPlaceId)
    if (!from) return refused('RECORD_GONE', { what: 'This place' })
    if (from.placeId === to.value.placeId) return refused('STOCK_SAME_PLACE', { place: to.value.name })
    const transit = [from, to.value].find((place) => place.kind === 'transit')
    if (transit) return refused('STOCK_SENT_TO_TRANSIT', { place: transit.name })
    if ([from.kind, to.value.kind].includes('quarantine') && input.note === '') return refused('STOCK_REASON_MISSING')
    const { lotId, fromPlaceId, boundForPlaceId, quantity, note } = input
    const booking = { lotId, fromPlaceId, toPlaceId: await theWay(books), quantity, reason: 'move' as const, note }
    const booked = await bookMovement(books, lot.value, { ...booking, boundForPlaceId }, 'respect')
    if (!booked.ok) return booked
    const what = `${counted(quantity, 'piece')} of ${lot.value.partName}, lot ${lot.value.lotNumber},`
    const sentence = `${what} on the way from ${from.name} to ${to.value.name}.`
    await books.record({ subjectKind: 'part', subjectId: lot.value.partId, verb: 'sent', sentence, details: note })
    return ok({ movementId: booked.value, sentence })
  })
}

async function underway({ read, officeId }: Pick<OpenBooks, 'read' | 'officeId'>): Promise<OnTheWay[]> {
  const heaps = await transitHeaps(read, officeId)
  const steps = await wayMovements(
    read,
    officeId,
    heaps.map((heap) => heap.lotId),
  )
  const names = new Map((await listPlaces(read, officeId)).map((place) => [place.placeId, place.name]))
  return heaps.flatMap(({ place: _, ...heap }) =>
    boundFor(heap, steps).map((row) => ({
      ...heap,
      ...row,
      boundFor: row.boundForPlaceId === null ? '' : (names.get(row.boundForPlaceId) ?? ''),
    })),
  )
}

export async function onTheWay(desk: Desk): Promise<Result<OnTheWay[]>> {
  return ok(await underway(desk))
}

interface Arrive {
  readonly lotId: LotId
  readonly transitPlaceId: PlaceId
  readonly boundForPlaceId: PlaceId | null
  readonly toPlaceId: PlaceId
  readonly quantity: number
  readonly note: string
}

/** What was on the way has come, where it was bound for or elsewhere; all of it, or the pieces that did. */
export function arrive(desk: Desk, input: Arrive): Promise<Result<Moved>> {
  return desk.write(async (books) => {
    const lot = await lotOrGone(books, input.lotId)
    if (!lot.ok) return lot
    const to = await placeInUse(books, input.toPlaceId)
    if (!to.ok) return to
    if (to.value.kind === 'transit') return refused('STOCK_SENT_TO_TRANSIT', { place: to.value.name })
    const { lotId, transitPlaceId, boundForPlaceId, toPlaceId, quantity, note } = input
    const row = (await underway(books)).find(
      (each) =>
        each.lotId === lotId && each.transitPlaceId === transitPlaceId && each.boundForPlaceId === boundForPlaceId,
    )
    const there = row?.quantity ?? 0
    if (quantity > there)
      return refused('STOCK_NOT_ON_THE_WAY', {
        lot: lot.value.lotNumber,
        there: there === 0 ? 'no pieces' : there,
        place: row?.boundFor || 'nowhere in particular',
        wanted: quantity,
      })
    const booking = { lotId, fromPlaceId: transitPlaceId, toPlaceId, quantity, reason: 'move' as const, note }
    const booked = await bookMovement(books, lot.value, { ...booking, boundForPlaceId })
    if (!booked.ok) return booked
    const what = `${counted(quantity, 'piece')} of ${lot.value.partName}, lot ${lot.value.lotNumber},`
    const sentence = `${what} arrived in ${to.value.name}.`
    await books.record({ subjectKind: 'part', subjectId: lot.value.partId, verb: 'arrived', sentence, details: note })
    return ok({ movementId: booked.value, sentence })
  })
}
