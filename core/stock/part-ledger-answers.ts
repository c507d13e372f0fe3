import type { Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { MovementId, PartId, PlaceId } from '../units/ids.ts'
import { countMovementsOfPart, lotsOfPart, movementsOfPart, whereIsPart } from './movements-store.ts'
import { gtinMayBe } from './part-gtin-answers.ts'
import {
  binsOfPart,
  findPart,
  findPartByNumber,
  insertPart,
  listParts,
  listSubstitutes,
  replaceChoices,
  stockByPart,
  updatePart,
} from './parts-store.ts'
import { listPlaces } from './places-store.ts'
import { awaitedDeliveries, promisedByPart, promisedPieces } from './pull-needs-store.ts'
import type { MovementLine, PartDetail, PartFields, PartLedgerRow } from './stock-contract.ts'

const PAGE = 40

/** Every part with what is there, promised and awaited of it. */
export async function parts(desk: Desk): Promise<Result<PartLedgerRow[]>> {
  const { read, officeId, today } = desk
  const stock = new Map((await stockByPart(read, officeId, today)).map((row) => [row.partId, row]))
  const awaited = await awaitedDeliveries(read, officeId)
  const promised = await promisedByPart(read, officeId)
  return ok(
    (await listParts(read, officeId)).map((part) => {
      const there = stock.get(part.partId)
      const coming = awaited.filter((delivery) => delivery.partId === part.partId)
      return {
        partId: part.partId,
        number: part.number,
        name: part.name,
        stageKind: part.stageKind,
        inBins: there?.inBins ?? 0,
        onVans: there?.onVans ?? 0,
        elsewhere: there?.elsewhere ?? 0,
        unusable: there?.unusable ?? 0,
        promised: promised.get(part.partId) ?? 0,
        onOrder: coming.reduce((sum, delivery) => sum + delivery.quantity, 0),
        nextDeliveryOn: coming[0]?.expectedOn ?? null,
        firstExpiry: there?.firstExpiry ?? null,
        lots: there?.lots ?? 0,
        price: part.price,
        leastToKeep: part.leastToKeep,
        vanPar: part.vanPar,
        closed: part.closedOn !== null,
      }
    }),
  )
}

/** So many lots that are used up are still named: homes may hold some of them when a recall comes. */
const USED_UP_NAMED = 12

function usedUpLately<Lot extends { readonly receivedOn: CalendarDate; readonly heaps: readonly unknown[] }>(
  lots: readonly Lot[],
): Lot[] {
  return lots
    .filter((lot) => lot.heaps.length === 0)
    .sort((a, b) => (a.receivedOn < b.receivedOn ? 1 : a.receivedOn > b.receivedOn ? -1 : 0))
    .slice(0, USED_UP_NAMED)
}

export async function part(desk: Desk, input: { partId: PartId }): Promise<Result<PartDetail>> {
  const { read, officeId } = desk
  const found = await findPart(read, officeId, input.partId)
  if (!found) return refused('RECORD_GONE', { what: 'This part' })
  const { partId, version, ...fields } = found
  const heaps = await whereIsPart(read, officeId, partId)
  const promised = await promisedPieces(read, officeId)
  const promisedAt = (lotId: number, placeId: number) =>
    promised.filter((row) => row.lotId === lotId && row.placeId === placeId).reduce((sum, row) => sum + row.quantity, 0)
  const lots = (await lotsOfPart(read, officeId, partId)).map((lot) => ({
    lotId: lot.lotId,
    lot: lot.lotNumber,
    expiresOn: lot.expiresOn,
    receivedOn: lot.receivedOn,
    recalledOn: lot.recalledOn,
    recallNote: lot.recallNote,
    heaps: heaps
      .filter((heap) => heap.lotId === lot.lotId)
      .map(({ placeId, placeName, kind, quantity }) => ({
        placeId,
        place: placeName,
        kind,
        quantity,
        promised: promisedAt(lot.lotId, placeId),
      })),
  }))
  const names = new Map((await listParts(read, officeId)).map((each) => [each.partId, each]))
  const places = new Map((await listPlaces(read, officeId)).map((place) => [place.placeId, place.name]))
  return ok({
    partId,
    version,
    fields,
    lots: [...lots.filter((lot) => lot.heaps.length > 0), ...usedUpLately(lots)],
    substitutes: ((await listSubstitutes(read, officeId)).get(partId) ?? []).map((id) => ({
      partId: id,
      number: names.get(id)?.number ?? '',
      name: names.get(id)?.name ?? '',
    })),
    bins: (await binsOfPart(read, officeId, partId)).map((placeId) => ({ placeId, name: places.get(placeId) ?? '' })),
    awaited: (await awaitedDeliveries(read, officeId))
      .filter((delivery) => delivery.partId === partId)
      .map(({ orderNumber, supplierName: supplier, quantity, expectedOn }) => ({
        orderNumber,
        supplier,
        quantity,
        expectedOn,
      })),
  })
}

export async function movements(
  desk: Desk,
  input: { partId: PartId; before: MovementId | null },
): Promise<Result<{ movements: MovementLine[]; more: boolean; total: number }>> {
  const rows = await movementsOfPart(desk.read, desk.officeId, input.partId, { before: input.before, limit: PAGE + 1 })
  const lines = rows.slice(0, PAGE).map((row) => ({
    movementId: row.movementId,
    movedOn: row.movedOn,
    lot: row.lotNumber,
    from: row.fromName,
    to: row.toName,
    quantity: row.quantity,
    reason: row.reason,
    by: row.by,
    note: row.note,
    visitId: row.visitId,
    corrected: row.correctedBy !== null,
    canBePutRight: row.visitId === null && row.correctedBy === null && row.correctsId === null,
  }))
  const total = await countMovementsOfPart(desk.read, desk.officeId, input.partId)
  return ok({ movements: lines, more: rows.length > PAGE, total })
}

interface SavePart {
  readonly partId: PartId | null
  readonly version: number | null
  readonly fields: PartFields
  readonly substitutes: readonly PartId[]
  readonly bins: readonly PlaceId[]
}

/** Writes a part down, new or changed, with what may stand in for it and where it lies; due dates follow. */
export function savePart(desk: Desk, input: SavePart): Promise<Result<{ partId: PartId }>> {
  return desk.write(async (books) => {
    const { read, tx, officeId } = books
    const namesake = await findPartByNumber(read, officeId, input.fields.number)
    if (namesake && namesake.partId !== input.partId)
      return refused('PART_NUMBER_TAKEN', { number: namesake.number, part: namesake.name })
    if (input.partId !== null && input.substitutes.includes(input.partId)) return refused('PART_OWN_SUBSTITUTE')
    const gtin = await gtinMayBe(books, input.partId, input.fields.gtin)
    if (!gtin.ok) return gtin
    let partId = input.partId
    if (partId === null) partId = await insertPart(tx, officeId, input.fields)
    else {
      const before = await findPart(read, officeId, partId)
      if (!before) return refused('RECORD_GONE', { what: 'This part' })
      const saved = await updatePart(tx, officeId, { ...input.fields, partId, version: input.version ?? 0 })
      if (!saved) return refused('RECORD_CHANGED', { what: before.name, changes: changesBetween(input.fields, before) })
    }
    await replaceChoices(tx, officeId, partId, input)
    const verb = input.partId === null ? 'added' : 'changed'
    const sentence = `${input.fields.name}, ${input.fields.number}, ${verb}`
    await books.record({ subjectKind: 'part', subjectId: partId, verb, sentence })
    const followed = await books.happened({ kind: 'part-changed', partId })
    return followed.ok ? ok({ partId }) : followed
  })
}

function changesBetween(typed: PartFields, now: PartFields): string {
  const names: Partial<Record<keyof PartFields, string>> = {
    number: 'number',
    name: 'name',
    price: 'price',
    cost: 'cost',
    stageKind: 'stage',
    leastToKeep: 'least to keep',
    note: 'note',
  }
  const changed = (Object.keys(names) as (keyof PartFields)[]).filter((field) => typed[field] !== now[field])
  return changed.map((field) => names[field]).join(', ') || 'its other entries'
}
