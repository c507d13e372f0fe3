import type { OpenBooks } from '../answering.ts'
import type { FollowUp, RecordedTask, RecordedVisit } from '../happenings.ts'
import { ok, type Result, refused } from '../result.ts'
import type { PartId, PlaceId, VisitId } from '../units/ids.ts'
import { bookMovement, lotOrGone } from './book-movement-answers.ts'
import { counterMovement } from './ledger.ts'
import { type LotAtPlace, lotsOfPart, type MovementRow, standingFitsOfVisit, whereIsPart } from './movements-store.ts'
import { findPart, listParts } from './parts-store.ts'
import { findPlace, vanOfTechnician } from './places-store.ts'
import { visitsOfDay } from './pull-needs-store.ts'
import { setLineQuantity, setStopQuantity, totesOfVisit } from './pulls-store.ts'
import { findVisitDay } from './visit-day-store.ts'

/** Stock follows the visits: what was fitted leaves the van, a correction brings it back, a visit called off frees what was promised. */
export const stockFollowUp: FollowUp<OpenBooks> = async (books, happening) => {
  switch (happening.kind) {
    case 'visit-recorded':
      return takeFitted(books, happening.visit)
    case 'visit-corrected':
      return followCorrection(books, happening.after)
    case 'visit-cancelled':
    case 'visit-moved':
      await freePromises(books, happening.visitId)
      return ok(undefined)
    default:
      return ok(undefined)
  }
}

/** Fitted pieces leave the place that the record names, else the technician's van. */
async function takeFitted(books: OpenBooks, visit: RecordedVisit): Promise<Result<void>> {
  const van = visit.technicianId === null ? null : await vanOfTechnician(books.read, books.officeId, visit.technicianId)
  for (const task of visit.tasks) {
    const taken = await takeForTask(books, visit, task, van?.placeId ?? null)
    if (!taken.ok) return taken
  }
  return van === null ? ok(undefined) : takeWhatEveryVisitUses(books, visit, van.placeId)
}

async function takeForTask(
  books: OpenBooks,
  visit: RecordedVisit,
  task: RecordedTask,
  vanPlaceId: PlaceId | null,
): Promise<Result<void>> {
  if (!task.done || task.partId === null) return ok(undefined)
  if ((await lotsOfPart(books.read, books.officeId, task.partId)).length === 0) return ok(undefined)
  const heaps = await whereIsPart(books.read, books.officeId, task.partId)
  const fits = heaps.filter((heap) => task.lotId === null || heap.lotId === task.lotId)
  const placeId = task.fromPlaceId ?? vanPlaceId
  const here = fits.filter((heap) => heap.placeId === placeId)
  const there = here.reduce((sum, heap) => sum + heap.quantity, 0)
  if (there < task.quantity) return cannotBeFrom(books, task, task.partId, placeId, there, fits)
  let left = task.quantity
  for (const heap of here) {
    const quantity = Math.min(left, heap.quantity)
    if (quantity === 0) continue
    left -= quantity
    const taken = await takeOut(books, heap, { quantity, visitId: visit.visitId, taskId: task.taskId, note: '' })
    if (!taken.ok) return taken
  }
  return ok(undefined)
}

async function takeOut(
  books: OpenBooks,
  heap: LotAtPlace,
  use: { quantity: number; visitId: VisitId; taskId: RecordedTask['taskId'] | null; note: string },
): Promise<Result<void>> {
  const lot = await lotOrGone(books, heap.lotId)
  if (!lot.ok) return lot
  const booked = await bookMovement(books, lot.value, {
    lotId: heap.lotId,
    fromPlaceId: heap.placeId,
    toPlaceId: null,
    quantity: use.quantity,
    reason: 'fit',
    note: use.note,
    visitId: use.visitId,
    visitTaskId: use.taskId,
  })
  return booked.ok ? ok(undefined) : booked
}

async function cannotBeFrom(
  books: OpenBooks,
  task: RecordedTask,
  partId: PartId,
  placeId: PlaceId | null,
  there: number,
  fits: readonly LotAtPlace[],
): Promise<Result<never>> {
  const part = await findPart(books.read, books.officeId, partId)
  const place = placeId === null ? null : await findPlace(books.read, books.officeId, placeId)
  const lot = task.lotId === null ? null : await lotOrGone(books, task.lotId)
  if (lot?.ok && lot.value.partId !== partId)
    return refused('STOCK_LOT_NOT_OF_PART', {
      lot: lot.value.lotNumber,
      is: lot.value.partName,
      part: part?.name ?? '',
    })
  const elsewhere = fits
    .filter((heap) => heap.placeId !== placeId)
    .map((heap) => `${heap.placeName} (${heap.quantity})`)
  return refused('STOCK_FITTED_FROM_NOWHERE', {
    place: place?.name ?? 'no van of this technician',
    there: there === 0 ? 'none' : there,
    part: part?.name ?? 'this part',
    lot: lot?.ok ? `, lot ${lot.value.lotNumber}` : '',
    wanted: task.quantity,
    elsewhere: elsewhere.length > 0 ? ` There is some in ${elsewhere.join(', ')}.` : '',
  })
}

/** O-rings, sanitiser and the like leave the van with the visit, as far as the van holds them; nobody is held up for one. */
async function takeWhatEveryVisitUses(
  books: OpenBooks,
  visit: RecordedVisit,
  vanPlaceId: PlaceId,
): Promise<Result<void>> {
  if (visit.outcome !== 'done') return ok(undefined)
  const named = new Set(visit.tasks.filter((task) => task.done).map((task) => task.partId))
  for (const part of await listParts(books.read, books.officeId)) {
    if (part.perVisitQuantity === 0 || named.has(part.partId)) continue
    let left = part.perVisitQuantity
    for (const heap of await whereIsPart(books.read, books.officeId, part.partId)) {
      const quantity = heap.placeId === vanPlaceId ? Math.min(left, heap.quantity) : 0
      if (quantity === 0) continue
      left -= quantity
      const note = 'used at every visit'
      const taken = await takeOut(books, heap, { quantity, visitId: visit.visitId, taskId: null, note })
      if (!taken.ok) return taken
    }
  }
  return ok(undefined)
}

/** Puts back what the visit used, by counter-movements, and takes what it is now said to have used. */
async function followCorrection(books: OpenBooks, after: RecordedVisit): Promise<Result<void>> {
  for (const used of await standingFitsOfVisit(books.read, books.officeId, after.visitId)) {
    const back = await putBack(books, used)
    if (!back.ok) return back
  }
  return takeFitted(books, after)
}

async function putBack(books: OpenBooks, used: MovementRow): Promise<Result<void>> {
  const lot = await lotOrGone(books, used.lotId)
  if (!lot.ok) return lot
  const { lotId, fromPlaceId, toPlaceId, quantity } = counterMovement(used)
  const booked = await bookMovement(books, lot.value, {
    lotId,
    fromPlaceId,
    toPlaceId,
    quantity,
    reason: 'correct',
    note: 'the record of the visit was corrected',
    visitId: used.visitId,
    visitTaskId: used.visitTaskId,
    correctsId: used.movementId,
  })
  return booked.ok ? ok(undefined) : booked
}

/** A visit that is called off, or now belongs to another day or van, gives back what pulls hold for it. */
async function freePromises(books: OpenBooks, visitId: VisitId): Promise<void> {
  const { tx, read, officeId } = books
  const visitOn = await findVisitDay(read, officeId, visitId)
  const visit = visitOn ? (await visitsOfDay(read, officeId, visitOn)).find((each) => each.visitId === visitId) : null
  for (const tote of await totesOfVisit(read, officeId, visitId)) {
    if (visit?.state === 'booked' && visitOn === tote.pullOn && visit.vanId === tote.vanId) continue
    await setStopQuantity(tx, officeId, tote, 0)
    if (tote.state !== 'open') continue
    const quantity = tote.lineQuantity - tote.quantity
    const pulled = tote.pulled === null ? null : Math.min(tote.pulled, quantity)
    await setLineQuantity(tx, officeId, tote.lineId, quantity, pulled)
  }
}
