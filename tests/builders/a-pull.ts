import fc from 'fast-check'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import type { PickListInput, PullPart, PullVan, PullVisit, StockAtPlace } from '../../core/stock/pull-shapes.ts'
import { visitWorth, worthPointsOf } from '../../core/stock/visit-worth.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { lotIdSchema, partIdSchema, placeIdSchema, vanIdSchema, visitIdSchema } from '../../core/units/ids.ts'
import { timeOfDay } from '../../core/units/time-of-day.ts'

export const FITTED_ON = calendarDate('2026-12-02')
export const partId = (n: number) => partIdSchema.parse(n)
export const visitId = (n: number) => visitIdSchema.parse(n)
export const vanId = (n: number) => vanIdSchema.parse(n)
export const lotId = (n: number) => lotIdSchema.parse(n)
export const placeId = (n: number) => placeIdSchema.parse(n)

/** A visit of van 1, first stop, in time, that needs nothing; a test says what matters. */
export function aPullVisit(own: Partial<PullVisit> = {}): PullVisit {
  const { daysLate = 0, promised = false } = own
  return {
    visitId: visitId(1),
    vanId: vanId(1),
    stop: 1,
    daysLate,
    promised,
    startsAt: timeOfDay(480),
    worth: visitWorth({ daysLate, promised, secondTripMinutes: 0 }, worthPointsOf(DEFAULT_SETTINGS)),
    needs: [],
    ...own,
  }
}

export function aPullPart(id: number, own: Partial<PullPart> = {}): PullPart {
  return {
    partId: partId(id),
    partNumber: `P-${1000 + id}`,
    perVisitQuantity: 0,
    substitutes: [],
    spaceMillilitres: null,
    ...own,
  }
}

/** Van 1, never measured, that carries nothing always. */
export function aPullVan(own: Partial<PullVan> = {}): PullVan {
  return { vanId: vanId(1), roomMillilitres: null, takenMillilitres: 0, pars: [], coming: [], ...own }
}

/** Ten pieces of part 1 in bin A-01-1 that never expire. */
export function aStock(own: Partial<StockAtPlace> = {}): StockAtPlace {
  return {
    placeId: placeId(1),
    vanId: null,
    binCode: 'A-01-1',
    walkOrder: 1,
    lotId: lotId(1),
    lotNumber: '2608-114',
    partId: partId(1),
    expiresOn: null,
    recalled: false,
    onHand: 10,
    promised: 0,
    ...own,
  }
}

export function aPickListInput(own: Partial<PickListInput> = {}): PickListInput {
  return {
    fittedOn: FITTED_ON,
    visits: [aPullVisit()],
    parts: [aPullPart(1)],
    stock: [aStock()],
    vans: [],
    evenIfShort: [],
    ...own,
  }
}

const PARTS = 5

const anyParts = fc
  .array(
    fc.record({
      perVisit: fc.constantFrom(0, 0, 0, 1),
      space: fc.constantFrom(null, null, 500, 2000),
      substitutes: fc.subarray([1, 2, 3, 4, 5], { maxLength: 2 }),
    }),
    {
      minLength: PARTS,
      maxLength: PARTS,
    },
  )
  .map((rows) =>
    rows.map((row, index) =>
      aPullPart(index + 1, {
        perVisitQuantity: row.perVisit,
        spaceMillilitres: row.space,
        substitutes: row.substitutes.filter((id) => id !== index + 1).map(partId),
      }),
    ),
  )

const anyVisits = fc
  .array(
    fc.record({
      van: fc.integer({ min: 1, max: 3 }),
      late: fc.integer({ min: 0, max: 30 }),
      promised: fc.boolean(),
      at: fc.integer({ min: 480, max: 1000 }),
      needs: fc.array(
        fc.record({
          part: fc.integer({ min: 1, max: PARTS }),
          quantity: fc.integer({ min: 1, max: 4 }),
          ownPartOnly: fc.constantFrom(false, false, true),
        }),
        {
          maxLength: 4,
        },
      ),
    }),
    { maxLength: 12 },
  )
  .map((rows) => {
    const stops = new Map<number, number>()
    return rows.map((row, index) => {
      const stop = (stops.get(row.van) ?? 0) + 1
      stops.set(row.van, stop)
      return aPullVisit({
        visitId: visitId(index + 1),
        vanId: vanId(row.van),
        stop,
        daysLate: row.late,
        promised: row.promised,
        startsAt: timeOfDay(row.at),
        needs: row.needs.map(({ part, ...need }) => ({ partId: partId(part), ...need })),
      })
    })
  })

/** Lots 1 to 8, each of one part with one expiry date; spread over five bins and the three vans. */
const anyStock = fc
  .record({
    lots: fc.array(
      fc.record({
        part: fc.integer({ min: 1, max: PARTS }),
        expires: fc.option(fc.integer({ min: -20, max: 400 })),
        recalled: fc.boolean().map((recalled) => recalled),
        lucky: fc.integer({ min: 0, max: 4 }),
      }),
      { minLength: 1, maxLength: 8 },
    ),
    heaps: fc.uniqueArray(
      fc.record({
        lot: fc.nat(7),
        place: fc.integer({ min: 1, max: 8 }),
        onHand: fc.integer({ min: 0, max: 8 }),
        promised: fc.integer({ min: 0, max: 4 }),
      }),
      { selector: (heap) => `${heap.lot}/${heap.place}`, maxLength: 20 },
    ),
  })
  .map(({ lots, heaps }) =>
    heaps.flatMap((heap) => {
      const lot = lots[heap.lot]
      if (!lot) return []
      const isVan = heap.place > 5
      return [
        aStock({
          placeId: placeId(heap.place),
          vanId: isVan ? vanId(heap.place - 5) : null,
          binCode: isVan ? `Van ${heap.place - 5}` : `A-0${heap.place}`,
          // two bins may share a place in the walk
          walkOrder: Math.ceil(heap.place / 2),
          lotId: lotId(heap.lot + 1),
          lotNumber: `L${heap.lot + 1}`,
          partId: partId(lot.part),
          expiresOn: lot.expires === null ? null : addDays(FITTED_ON, lot.expires),
          recalled: lot.recalled && lot.lucky === 0,
          onHand: heap.onHand,
          promised: heap.promised,
        }),
      ]
    }),
  )

const anyPieces = fc.uniqueArray(
  fc.record({ part: fc.integer({ min: 1, max: PARTS }), quantity: fc.integer({ min: 0, max: 4 }) }),
  { selector: (row) => row.part, maxLength: 3 },
)

/** Up to three vans that carry something always, some of them measured. */
const anyVans = fc
  .uniqueArray(
    fc.record({
      van: fc.integer({ min: 1, max: 3 }),
      room: fc.option(fc.integer({ min: 0, max: 20_000 })),
      taken: fc.integer({ min: 0, max: 9_000 }),
      pars: anyPieces,
      coming: anyPieces,
    }),
    { selector: (row) => row.van, maxLength: 3 },
  )
  .map((rows) =>
    rows.map(({ van, room, taken, pars, coming }): PullVan => {
      const ofParts = (pieces: typeof pars) => pieces.map(({ part, quantity }) => ({ partId: partId(part), quantity }))
      return {
        vanId: vanId(van),
        roomMillilitres: room,
        takenMillilitres: taken,
        pars: ofParts(pars),
        coming: ofParts(coming),
      }
    }),
  )

/** Any day's warehouse: crowded, empty, expired, recalled, over-promised; some visits are pulled for even if something is short. */
export const anyPickListInput: fc.Arbitrary<PickListInput> = fc
  .tuple(anyVisits, anyParts, anyStock, anyVans, fc.uniqueArray(fc.integer({ min: 1, max: 12 }), { maxLength: 3 }))
  .map(([visits, parts, stock, vans, even]) => ({
    fittedOn: FITTED_ON,
    visits,
    parts,
    stock,
    vans,
    evenIfShort: even.map(visitId),
  }))
