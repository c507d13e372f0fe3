import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { daysOfCover } from '../../core/stock/days-of-cover.ts'
import { outlookOfLots, type UsableLot } from '../../core/stock/expiring-lots.ts'
import { fillRate, percentOf } from '../../core/stock/fill-rate.ts'
import { daysAtRest } from '../../core/stock/slow-movers.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import type { LotId, PartId, VisitId } from '../../core/units/ids.ts'

const today = calendarDate('2026-12-01')
const lot = (id: number, days: number | null, pieces: number): UsableLot => ({
  lotId: id as LotId,
  expiresOn: days === null ? null : addDays(today, days),
  pieces,
})
const even = (aDay: number, days: number) => Float64Array.from({ length: days }, () => aDay)

describe('what of a lot will be used before its date', () => {
  test('STK-61 the first to expire is used first, and the rest is left', () => {
    // Two a day: by the tenth day 22 of the 30 are gone; the second lot begins after that and has ten more days, 20 pieces
    const found = outlookOfLots([lot(2, 20, 40), lot(1, 10, 30), lot(3, null, 99)], even(2, 90), today)
    expect(found).toMatchObject([
      { lotId: 1, pieces: 30, willBeUsed: 22, willBeLeft: 8 },
      { lotId: 2, pieces: 40, willBeUsed: 20, willBeLeft: 20 },
    ])
  })

  test('STK-61 a lot may be used on its last day, and without use all of it is left', () => {
    expect(outlookOfLots([lot(1, 0, 5)], even(3, 10), today)).toMatchObject([{ willBeUsed: 3, willBeLeft: 2 }])
    expect(outlookOfLots([lot(1, 50, 5)], even(0, 10), today)).toMatchObject([{ willBeUsed: 0, willBeLeft: 5 }])
    expect(outlookOfLots([lot(1, 50, 5)], new Float64Array(), today)).toMatchObject([{ willBeLeft: 5 }])
    // Beyond the days that are known the average goes on: one a day for 21 days
    expect(outlookOfLots([lot(1, 20, 99)], even(1, 10), today)).toMatchObject([{ willBeUsed: 21 }])
  })

  test('STK-61 day by day, taking from the lot that expires first, the same is left', () => {
    const someLots = fc.uniqueArray(
      fc.record({
        id: fc.integer({ min: 1, max: 99 }),
        days: fc.integer({ min: 0, max: 59 }),
        pieces: fc.integer({ min: 1, max: 40 }),
      }),
      { maxLength: 7, selector: (each) => each.id },
    )
    const someUse = fc.array(fc.integer({ min: 0, max: 5 }), { minLength: 60, maxLength: 60 })
    fc.assert(
      fc.property(someLots, someUse, (lots, use) => {
        const left = new Map(lots.map((each) => [each.id, each.pieces]))
        const byExpiry = [...lots].sort((a, b) => a.days - b.days || a.id - b.id)
        use.forEach((asked, day) => {
          let still = asked
          for (const each of byExpiry.filter((one) => one.days >= day)) {
            const taken = Math.min(still, left.get(each.id) ?? 0)
            left.set(each.id, (left.get(each.id) ?? 0) - taken)
            still -= taken
          }
        })
        const given = lots.map((each) => lot(each.id, each.days, each.pieces))
        for (const outlook of outlookOfLots(given, Float64Array.from(use), today))
          expect(outlook.willBeLeft).toBe(left.get(outlook.lotId))
      }),
    )
  })
})

describe('days of cover', () => {
  test('STK-62 with an even use they are pieces over daily use', () => {
    // Common practice, no source beyond it: 500 pieces at 25 a day are 20 days, 1200 at 80 are 15
    expect(daysOfCover(500, even(25, 90))).toBe(20)
    expect(daysOfCover(1200, even(80, 90))).toBe(15)
    expect(daysOfCover(1200, even(80, 7))).toBe(15)
    expect(daysOfCover(0, even(25, 90))).toBe(0)
    expect(daysOfCover(5, even(0, 90))).toBeNull()
  })

  test('STK-62 a day that asks for more than is left is not covered', () => {
    expect(daysOfCover(10, Float64Array.of(0, 4, 0, 7, 0))).toBe(3)
    expect(daysOfCover(11, Float64Array.of(0, 4, 0, 7, 0))).toBe(5)
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 0, max: 9 }), { minLength: 1, maxLength: 40 }),
        fc.nat({ max: 200 }),
        (use, pieces) => {
          const days = daysOfCover(pieces, Float64Array.from(use))
          const sum = (count: number) => use.slice(0, count).reduce((total, each) => total + each, 0)
          if (days === null) expect(sum(use.length)).toBe(0)
          else if (days < use.length) {
            expect(sum(days)).toBeLessThanOrEqual(pieces)
            expect(sum(days + 1)).toBeGreaterThan(pieces)
          } else expect(sum(use.length)).toBeLessThanOrEqual(pieces)
        },
      ),
    )
  })
})

describe('parts at rest', () => {
  const usedOn = calendarDate('2026-06-01')
  const cameOn = calendarDate('2026-01-10')

  test('STK-63 rest is counted from the last use, or from the delivery of what never was used', () => {
    expect(daysAtRest({ pieces: 4, usedOn, cameOn }, today)).toBe(183)
    expect(daysAtRest({ pieces: 4, usedOn: null, cameOn }, today)).toBe(325)
    // What came after the last use has had no chance to be used
    expect(daysAtRest({ pieces: 4, usedOn: cameOn, cameOn: usedOn }, today)).toBe(183)
    expect(daysAtRest({ pieces: 0, usedOn, cameOn }, today)).toBeNull()
  })
})

describe('the fill rate', () => {
  const record = (visit: number, part: number, served: number, missing: number) => ({
    visitId: visit as VisitId,
    partId: part as PartId,
    served,
    missing,
  })

  test('STK-64 pieces served of pieces asked, and visits that got everything', () => {
    // The usual two definitions: the share of the demand that stock served at once (unit fill rate), and of the orders served whole (order
    // fill rate); common practice, no source
    const rate = fillRate([record(1, 1, 2, 0), record(1, 2, 0, 1), record(2, 1, 1, 0), record(3, 9, 0, 0)])
    expect(rate).toEqual({ piecesAsked: 4, piecesServed: 3, visits: 2, visitsWhole: 1 })
  })

  test('STK-64 a hundred percent is all, and none is none', () => {
    expect(percentOf(199, 200)).toBe(99)
    expect(percentOf(1999, 2000)).toBe(99)
    expect(percentOf(200, 200)).toBe(100)
    expect(percentOf(1, 5000)).toBe(1)
    expect(percentOf(0, 5)).toBe(0)
    expect(percentOf(0, 0)).toBeNull()
  })
})
