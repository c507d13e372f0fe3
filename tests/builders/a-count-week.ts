import fc from 'fast-check'
import type { CountRules, CountWeek, HeapToCount } from '../../core/stock/what-to-count.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { lotId, partId, placeId } from './a-pull.ts'

export const COUNTED_ON = calendarDate('2026-12-01')

export const RULES: CountRules = { weeksMuch: 4, weeksSome: 13, weeksLittle: 26, busyFrom: 20, heapsAWeek: 40 }

/** Lot 1 of part 1 in place 1, counted right ten weeks ago, untouched since. */
export function aHeapToCount(own: Partial<HeapToCount> = {}): HeapToCount {
  return {
    placeId: placeId(1),
    lotId: lotId(1),
    partId: partId(1),
    walkOrder: 1,
    lastCountedOn: addDays(COUNTED_ON, -70),
    since: addDays(COUNTED_ON, -300),
    lastDifference: 0,
    touched: 0,
    missedOn: null,
    ...own,
  }
}

/** One heap of part 1, which makes up all of the use, and one of part 2, which nobody uses. */
export function aCountWeek(own: Partial<CountWeek> = {}): CountWeek {
  return {
    today: COUNTED_ON,
    heaps: [aHeapToCount()],
    uses: [
      { partId: partId(1), usedValue: cents(90_000) },
      { partId: partId(2), usedValue: cents(0) },
    ],
    rules: RULES,
    alreadyThisWeek: 0,
    ...own,
  }
}

const PARTS = 12

const anyHeaps = fc
  .uniqueArray(
    fc.record({
      place: fc.integer({ min: 1, max: 9 }),
      lot: fc.integer({ min: 1, max: 30 }),
      counted: fc.option(fc.integer({ min: 0, max: 400 })),
      since: fc.integer({ min: 0, max: 900 }),
      off: fc.constantFrom(0, 0, 0, 1, 7),
      touched: fc.constantFrom(0, 3, 19, 20, 60),
      missed: fc.option(fc.integer({ min: 0, max: 30 }), { freq: 6 }),
    }),
    { selector: (heap) => `${heap.place}/${heap.lot}`, maxLength: 40 },
  )
  .map((rows) =>
    rows.map((row) =>
      aHeapToCount({
        placeId: placeId(row.place),
        lotId: lotId(row.lot),
        partId: partId(1 + (row.lot % PARTS)),
        walkOrder: Math.ceil(row.place / 2),
        lastCountedOn: row.counted === null ? null : addDays(COUNTED_ON, -row.counted),
        since: addDays(COUNTED_ON, -row.since),
        lastDifference: row.off,
        touched: row.touched,
        missedOn: row.missed === null ? null : addDays(COUNTED_ON, -row.missed),
      }),
    ),
  )

/** Any week: crowded, empty, without room, with parts that nobody uses. */
export const anyCountWeek: fc.Arbitrary<CountWeek> = fc
  .record({
    heaps: anyHeaps,
    values: fc.array(fc.constantFrom(0, 0, 100, 100, 5_000, 80_000), { minLength: PARTS, maxLength: PARTS }),
    room: fc.integer({ min: 1, max: 30 }),
    already: fc.integer({ min: 0, max: 12 }),
    weeks: fc.tuple(fc.integer({ min: 1, max: 6 }), fc.integer({ min: 1, max: 20 }), fc.integer({ min: 1, max: 60 })),
  })
  .map(({ heaps, values, room, already, weeks: [weeksMuch, weeksSome, weeksLittle] }) => ({
    today: COUNTED_ON,
    heaps,
    uses: values.map((value, at) => ({ partId: partId(at + 1), usedValue: cents(value) })),
    rules: { weeksMuch, weeksSome, weeksLittle, busyFrom: 20, heapsAWeek: room },
    alreadyThisWeek: already,
  }))
