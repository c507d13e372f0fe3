import { describe, expect, test } from 'vitest'
import type { Happening, RecordedVisit } from '../../core/happenings.ts'
import { stockFollowUp } from '../../core/stock/after-visit-answers.ts'
import type { MovementLine, PartDetail } from '../../core/stock/stock-contract.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import {
  customerIdSchema,
  type LotId,
  type PartId,
  type PlaceId,
  type VisitId,
  visitTaskIdSchema,
} from '../../core/units/ids.ts'
import { minutes } from '../../core/units/time-of-day.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan, held } from '../builders/a-warehouse.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

async function aShelf(office: AnOffice) {
  const tx = office.database.write
  const partId = await aPart(tx, 'P-1005', { shelfMonths: 24 })
  const [bin, other] = [await aPlace(tx, 'A-02-1', 10), await aPlace(tx, 'B-01-1', 20)]
  return { tx, partId, bin, other }
}

const code = (answer: { json: unknown }) => (answer.json as { data?: { code?: string } }).data?.code

async function lastMovement(office: AnOffice, partId: PartId): Promise<MovementLine> {
  const { movements } = (await office.ask('stock/movements', { partId, before: null })).json as {
    movements: MovementLine[]
  }
  const [first] = movements
  if (!first) throw new Error('The test expects a movement')
  return first
}

describe.each(databases)('the stock ledger on $name', ({ open }) => {
  test('STK-5 a lot is received once, with its date, and never past it', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin } = await aShelf(office)
    const receive = (own: object) =>
      office.ask('stock/receive', {
        partId,
        lot: '2608-114',
        expiresOn: '2028-08-31',
        quantity: 40,
        placeId: bin,
        cost: null,
        note: '',
        furtherDelivery: false,
        ...own,
      })
    expect(code(await receive({ lot: ' ' }))).toBe('STOCK_LOT_NAMELESS')
    expect(code(await receive({ expiresOn: '2026-11-30' }))).toBe('STOCK_EXPIRY_PAST')
    expect(code(await receive({ expiresOn: null }))).toBe('STOCK_EXPIRY_MISSING')
    expect(code(await receive({ quantity: 2.5 }))).toBe('STOCK_PIECES_NOT_WHOLE')
    expect((await receive({})).json).toMatchObject({
      sentence: '40 pieces of Part P-1005, lot 2608-114, received into A-02-1.',
    })
    const again = await receive({})
    expect(again.json).toMatchObject({
      data: { sentence: 'Lot 2608-114 of Part P-1005 was received on Dec 1, 2026 already, 40 pieces.' },
    })
    expect(code(await receive({ furtherDelivery: true, expiresOn: '2028-09-30' }))).toBe('STOCK_LOT_OTHER_EXPIRY')
    expect((await receive({ furtherDelivery: true, quantity: 5 })).status).toBe(200)
    expect(await held(tx)).toEqual({ 'A-02-1': 45 })
  })

  test('STK-1 STK-2 STK-4 pieces are moved, a mistake is put right once, and no lot goes below zero', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin, other } = await aShelf(office)
    const lotId = await aLot(tx, { partId, code: 'L', placeId: bin, pieces: 10 })
    const move = (quantity: number, toPlaceId: PlaceId = other) =>
      office.ask('stock/move', { lotId, fromPlaceId: bin, toPlaceId, quantity, note: '' })
    expect((await move(11)).json).toMatchObject({
      data: { sentence: 'The books say A-02-1 holds 10 of lot L; 11 cannot leave it.' },
    })
    expect(code(await move(1, bin))).toBe('STOCK_SAME_PLACE')
    await move(4)
    const movement = await lastMovement(office, partId)
    expect(movement).toMatchObject({ from: 'A-02-1', to: 'B-01-1', quantity: 4, by: 'the office', canBePutRight: true })
    const right = () => office.ask('stock/putRight', { movementId: movement.movementId, note: 'wrong bin' })
    expect((await right()).status).toBe(200)
    expect(code(await right())).toBe('STOCK_MOVEMENT_CORRECTED')
    expect(await held(tx)).toEqual({ 'A-02-1': 10 })
    await expect(tx.deleteFrom('movements').execute()).rejects.toThrow(/never changes/)
    await expect(tx.updateTable('movements').set({ note: 'x' }).execute()).rejects.toThrow(/never changes/)
    const bare = { office_id: 1, part_id: partId, lot_id: lotId, from_place_id: bin, to_place_id: null, quantity: 11 }
    const { office_id: _, ...rest } = bare
    const row = {
      ...rest,
      reason: 'scrap' as const,
      moved_on: calendarDate('2026-12-01'),
      moved_at: '',
      by_whom: '',
      note: '',
    }
    const first = await tx.selectFrom('offices').select('id').executeTakeFirstOrThrow()
    await expect(
      tx
        .insertInto('movements')
        .values({ ...row, office_id: first.id })
        .execute(),
    ).rejects.toThrow(/stock_not_below_zero/)
  })

  test('STK-3 a count of minus three is refused, one that the books overtook too; a good one is a movement', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin } = await aShelf(office)
    const lotId = await aLot(tx, { partId, code: 'L', placeId: bin, pieces: 10 })
    const count = (seen: number, counted: number) =>
      office.ask('stock/count', { lotId, placeId: bin, seen, counted, note: '' })
    expect(code(await count(10, -3))).toBe('STOCK_COUNT_NOT_WHOLE')
    expect(code(await count(9, 8))).toBe('STOCK_COUNT_CHANGED')
    expect((await count(10, 7)).json).toMatchObject({
      sentence: 'Lot L of Part P-1005 in A-02-1: counted 7, the books said 10.',
    })
    expect(await held(tx)).toEqual({ 'A-02-1': 7 })
    expect((await count(7, 7)).json).toMatchObject({ movementId: null })
  })

  test('STK-6 what is promised to a pull is not moved or thrown away under it', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin, other } = await aShelf(office)
    const lotId = await aLot(tx, { partId, code: 'L', placeId: bin, pieces: 10 })
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const siteId = await aHousehold(tx, 'Ashgrove Dental')
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: '2026-12-02', needs: [[partId, 8]] })
    await office.ask('pull/begin', { on: '2026-12-02', vanIds: [van.vanId] })
    const move = (quantity: number) =>
      office.ask('stock/move', { lotId, fromPlaceId: bin, toPlaceId: other, quantity, note: '' })
    expect(code(await move(3))).toBe('STOCK_PROMISED')
    expect((await move(2)).status).toBe(200)
    expect(code(await office.ask('stock/scrap', { lotId, placeId: bin, quantity: 1, note: '' }))).toBe(
      'STOCK_REASON_MISSING',
    )
    expect(code(await office.ask('stock/scrap', { lotId, placeId: bin, quantity: 1, note: 'torn' }))).toBe(
      'STOCK_PROMISED',
    )
  })

  test('STK-11 a bin that holds pieces is not closed, and names are given once', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin } = await aShelf(office)
    await aLot(tx, { partId, code: 'L', placeId: bin, pieces: 1 })
    const save = (own: object) =>
      office.ask('stock/saveBin', {
        placeId: bin,
        version: 1,
        kind: 'bin',
        name: 'A-02-1',
        aisle: 'A',
        walkOrder: 5,
        inUse: true,
        ...own,
      })
    expect(code(await save({ inUse: false }))).toBe('PLACE_NOT_EMPTY')
    expect(code(await save({ name: 'B-01-1' }))).toBe('BIN_CODE_TAKEN')
    expect((await save({})).status).toBe(200)
    expect(code(await save({}))).toBe('RECORD_CHANGED')
    const detail = (await office.ask('stock/part', { partId })).json as PartDetail
    const part = { partId: null, version: null, fields: detail.fields, substitutes: [], bins: [] }
    expect(code(await office.ask('stock/savePart', part))).toBe('PART_NUMBER_TAKEN')
    expect((await office.ask('stock/savePart', { ...part, partId, version: detail.version, bins: [bin] })).status).toBe(
      200,
    )
  })

  test('STK-7 STK-8 STK-10 what a visit fitted leaves the van with the visit, and follows its correction', async () => {
    const office = await anOffice(await open())
    const { tx, partId, bin } = await aShelf(office)
    const ring = await aPart(tx, 'P-9001', { perVisit: 1 })
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const lotId = await aLot(tx, { partId, code: 'L', placeId: van.placeId, pieces: 3 })
    await aLot(tx, { partId, code: 'M', placeId: bin, pieces: 5 })
    await aLot(tx, { partId: ring, code: 'R', placeId: van.placeId, pieces: 2 })
    const siteId = await aHousehold(tx, 'Ashgrove Dental')
    const visitId = await aBookedVisit(tx, {
      siteId,
      technicianId: van.technicianId,
      on: '2026-12-01',
      needs: [[partId, 2]],
    })
    const record = (
      quantity: number,
      own: { lotId?: LotId | null; fromPlaceId?: PlaceId | null } = {},
    ): RecordedVisit => ({
      ...recorded(visitId, siteId, van.technicianId),
      tasks: [task(partId, quantity, own)],
    })
    const tell = (happening: Happening) => office.desk().write((books) => stockFollowUp(books, happening))
    const short = await tell({ kind: 'visit-recorded', visit: record(4) })
    expect(short.ok ? '' : short.problem.sentence).toBe(
      'The books say van 1 holds 3 of Part P-1005; 4 fitted cannot have come from it. There is some in A-02-1 (5).',
    )
    expect((await tell({ kind: 'visit-recorded', visit: record(2) })).ok).toBe(true)
    expect(await held(tx)).toEqual({ 'van 1': 2, 'A-02-1': 5 })
    expect(await lastMovement(office, partId)).toMatchObject({ reason: 'fit', lot: 'L', visitId, canBePutRight: false })
    const after = record(1, { lotId: null, fromPlaceId: bin })
    expect((await tell({ kind: 'visit-corrected', before: record(2, { lotId }), after })).ok).toBe(true)
    expect(await held(tx)).toEqual({ 'van 1': 4, 'A-02-1': 4 })
  })

  test('STK-9 a part that was never received is fitted without a movement', async () => {
    const office = await anOffice(await open())
    const { tx, partId } = await aShelf(office)
    const van = await aVan(tx, 'van 1', 'Ilse R.')
    const siteId = await aHousehold(tx, 'Ashgrove Dental')
    const visitId = await aBookedVisit(tx, {
      siteId,
      technicianId: van.technicianId,
      on: '2026-12-01',
      needs: [[partId, 1]],
    })
    const visit = { ...recorded(visitId, siteId, van.technicianId), tasks: [task(partId, 1, {})] }
    const told = await office.desk().write((books) => stockFollowUp(books, { kind: 'visit-recorded', visit }))
    expect(told.ok).toBe(true)
    expect(await tx.selectFrom('movements').select('id').execute()).toEqual([])
  })
})

function recorded(
  visitId: VisitId,
  siteId: RecordedVisit['siteId'],
  technicianId: RecordedVisit['technicianId'],
): RecordedVisit {
  return {
    visitId,
    siteId,
    customerId: customerIdSchema.parse(1),
    technicianId,
    doneOn: calendarDate('2026-12-01'),
    outcome: 'done',
    sanitised: false,
    callFree: false,
    tasks: [],
  }
}

function task(
  partId: PartId,
  quantity: number,
  own: { lotId?: LotId | null; fromPlaceId?: PlaceId | null },
): RecordedVisit['tasks'][number] {
  return {
    taskId: visitTaskIdSchema.parse(1),
    kind: 'change',
    done: true,
    stageId: null,
    partId,
    lotId: own.lotId ?? null,
    fromPlaceId: own.fromPlaceId ?? null,
    quantity,
    description: '',
    minutes: minutes(8),
    freeOfCharge: false,
  }
}
