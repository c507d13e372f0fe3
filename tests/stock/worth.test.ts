import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { restingAfter, type WorthInput, type WorthLot, worth } from '../../core/stock/worth.ts'
import { worthInWords } from '../../core/stock/worth-words.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import type { LotId, PartId, PlaceId, VisitId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

const today = calendarDate('2026-12-01')
const manner = { locale: 'en-US', currency: 'USD' }
const [bin, van, quarantine] = [1 as PlaceId, 2 as PlaceId, 3 as PlaceId]

const lot = (id: number, partId: number, own: Partial<WorthLot> = {}): WorthLot => ({
  lotId: id as LotId,
  partId: partId as PartId,
  lot: `L-${id}`,
  expiresOn: null,
  receivedOn: calendarDate('2026-10-01'),
  recalledOn: null,
  cost: cents(1000),
  ...own,
})
const heap = (lotId: number, placeId: PlaceId, quantity: number) => ({ lotId: lotId as LotId, placeId, quantity })

function anInput(own: Partial<WorthInput> = {}): WorthInput {
  return {
    on: today,
    today,
    restAfterDays: 180,
    expiryDays: 90,
    fillSince: calendarDate('2026-09-02'),
    parts: [
      { partId: 1 as PartId, number: 'P-1', name: 'Sediment filter', closed: false },
      { partId: 2 as PartId, number: 'P-2', name: 'Membrane', closed: false },
    ],
    lots: [],
    places: [
      { placeId: bin, name: 'A-01-1', kind: 'bin' },
      { placeId: van, name: 'van 1', kind: 'van' },
      { placeId: quarantine, name: 'Aside', kind: 'quarantine' },
    ],
    heaps: [],
    deliveries: [],
    usedOn: new Map(),
    use: () => new Float64Array(90),
    pulls: [],
    ...own,
  }
}

/** Filters in two lots, in the bin and on a van; a membrane lot that was recalled and one that lies since spring. */
const scenario = anInput({
  lots: [
    lot(1, 1, { expiresOn: addDays(today, 20) }),
    lot(2, 1, { expiresOn: addDays(today, 200), cost: cents(1200) }),
    lot(3, 2, { recalledOn: calendarDate('2026-11-20'), cost: cents(5000) }),
    lot(4, 2, { receivedOn: calendarDate('2026-03-01'), cost: cents(5000) }),
    lot(5, 1, { expiresOn: addDays(today, -1) }),
  ],
  heaps: [
    heap(1, bin, 50),
    heap(1, van, 10),
    heap(2, bin, 40),
    heap(3, quarantine, 2),
    heap(4, bin, 3),
    heap(5, bin, 4),
  ],
  usedOn: new Map([[1 as PartId, addDays(today, -2)]]),
  use: (partId) => new Float64Array(90).fill(partId === 1 ? 2 : 0),
  pulls: [
    { visitId: 1 as VisitId, partId: 1 as PartId, served: 190, missing: 0 },
    { visitId: 2 as VisitId, partId: 1 as PartId, served: 9, missing: 1 },
  ],
})

describe('what the stock is worth', () => {
  test('STK-60 STK-61 STK-62 STK-63 STK-64 part by part, place by place, and what expires', () => {
    const found = worth(scenario)
    expect(found).toMatchObject({
      value: 60_000 + 48_000 + 10_000 + 15_000 + 4000,
      inBins: 50_000 + 48_000 + 15_000 + 4000,
      onVans: 10_000,
      elsewhere: 10_000,
      lost: 10_000 + 4000,
      resting: 25_000,
      fill: { piecesAsked: 200, piecesServed: 199, visits: 2, visitsWhole: 1 },
    })
    expect(found.parts.map((part) => [part.name, part.pieces, part.usable, part.restDays, part.rests])).toEqual([
      ['Membrane', 5, 3, 275, true],
      ['Sediment filter', 104, 100, 2, false],
    ])
    expect(found.parts.map((part) => [part.aDay, part.coverDays])).toEqual([
      [0, null],
      [2, 50],
    ])
    expect(found.places.map((place) => [place.name, place.parts, place.pieces, place.value])).toEqual([
      ['A-01-1', 2, 97, 117_000],
      ['van 1', 1, 10, 10_000],
      ['Aside', 1, 2, 10_000],
    ])
    // Two a day for twenty days and today: 42 of the 60; what is past its date is lost altogether
    expect(found.expiring.map((each) => [each.lot, each.pieces, each.willBeUsed, each.atRisk])).toEqual([
      ['L-5', 4, 0, 4000],
      ['L-1', 60, 42, 18_000],
    ])
  })

  test('STK-65 it is said to the owner in sentences', () => {
    expect(worthInWords(worth(scenario), manner)).toEqual([
      'The stock has cost $1,370.00: $1,170.00 in bins, $100.00 on vans and $100.00 set aside or on the way.',
      '$140.00 of it may not be fitted any more: recalled, or past its date.',
      '$250.00 lies in 1 part that nobody has used for 6 months.',
      '1 lot will expire within 90 days; 18 pieces for $180.00 will likely be left of it then.',
      'Since Sep 2, 2026 99 % of the 200 pieces that visits asked for were there, and 1 of 2 visits got everything.',
      'What lies there is enough for 14 days and more of every part that is used.',
    ])
    const quiet = worth(anInput())
    expect(worthInWords(quiet, manner)).toEqual([
      'Nothing lies in stock that has cost anything.',
      'Nothing expires within 90 days.',
      'Since Sep 2, 2026 no pull was put on a van.',
    ])
    const scarce = worth(anInput({ use: () => new Float64Array(90).fill(1) }))
    expect(worthInWords(scarce, manner).at(-1)).toBe(
      'There is no usable piece of Membrane; 1 other part will last less than 14 days.',
    )
  })

  test('STK-66 of a day that is past nothing is said of what was to come then', () => {
    const past = worth({ ...scenario, on: addDays(today, -30), use: null })
    expect(past.isToday).toBe(false)
    expect(past.expiring).toEqual([])
    expect(past.parts.every((part) => part.coverDays === null && part.aDay === null)).toBe(true)
    // Neither recalled nor past its date yet
    expect(past.lost).toBe(0)
    expect(worthInWords(past, manner)).toHaveLength(3)
  })

  test('STK-63 another span of rest marks other parts and changes no value', () => {
    const found = worth(scenario)
    const after = restingAfter(found, 300)
    expect(after.resting).toBe(0)
    expect(after.parts.some((part) => part.rests)).toBe(false)
    expect(restingAfter(after, 180)).toEqual(found)
    expect(restingAfter(found, 2).resting).toBe(found.value)
  })
})

const someHeaps = fc.uniqueArray(
  fc.record({
    lot: fc.integer({ min: 1, max: 6 }),
    place: fc.integer({ min: 1, max: 3 }),
    quantity: fc.integer({ min: 1, max: 50 }),
  }),
  { maxLength: 15, selector: (each) => `${each.lot}/${each.place}` },
)
const someLots = fc.tuple(
  ...[1, 2, 3, 4, 5, 6].map((id) =>
    fc
      .record({
        part: fc.integer({ min: 1, max: 2 }),
        expires: fc.option(fc.integer({ min: -40, max: 150 })),
        recalled: fc.boolean(),
        cost: fc.integer({ min: 0, max: 9999 }),
      })
      .map(({ part, expires, recalled, cost }) =>
        lot(id, part, {
          expiresOn: expires === null ? null : addDays(today, expires),
          recalledOn: recalled ? today : null,
          cost: cents(cost),
        }),
      ),
  ),
)

test('STK-60 parts, places and kinds of place all add up to the same cent', () => {
  fc.assert(
    fc.property(someHeaps, someLots, (lying, lots) => {
      const heaps = lying.map((each) => heap(each.lot, each.place as PlaceId, each.quantity))
      const deliveries = lots
        .slice(0, 3)
        .map((each) => ({ lotId: each.lotId, pieces: 7, price: cents(each.cost + 13) }))
      const found = worth(anInput({ lots, heaps, deliveries, use: () => new Float64Array(90).fill(0.3) }))
      const sum = (values: readonly number[]) => values.reduce((total, each) => total + each, 0)
      expect(sum(found.parts.map((part) => part.value))).toBe(found.value)
      expect(sum(found.places.map((place) => place.value))).toBe(found.value)
      expect(found.inBins + found.onVans + found.elsewhere).toBe(found.value)
      expect(sum(found.parts.map((part) => part.pieces))).toBe(sum(lying.map((each) => each.quantity)))
      expect(found.atRisk).toBe(
        sum(found.expiring.filter((each) => each.expiresOn >= today).map((each) => each.atRisk)),
      )
      for (const each of found.expiring) {
        expect(each.willBeUsed).toBeLessThanOrEqual(each.pieces)
        expect(each.atRisk).toBeLessThanOrEqual(each.value)
      }
    }),
  )
})
