import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkReorders } from '../../core/orders/check-reorder.ts'
import { gatherOrders } from '../../core/orders/gather-orders.ts'
import { proposeReorders } from '../../core/orders/reorder.ts'
import type { ReorderInput } from '../../core/orders/reorder-shapes.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import {
  anyReorderInput,
  aReorderInput,
  aReorderPart,
  aTerm,
  linesOf,
  part,
  someBooked,
  someLikely,
  supplier,
} from '../builders/a-reorder.ts'

function planFor(input: ReorderInput) {
  const plan = proposeReorders(input)
  expect(checkReorders(input, plan)).toEqual([])
  return plan
}

function proposalFor(input: ReorderInput) {
  const first = planFor(input).proposals[0]
  if (!first) throw new Error('The test expects a proposal')
  return first
}

// CRAN package poibin, manual: pp = c(.1, .2, .3, .4, .5), wts = rep(2, 5); exact rational values, also scipy.stats.poisson_binom 1.17.1.
const PUBLISHED = [
  0.02286144, 0.11231136, 0.23694372, 0.28171848, 0.20829484, 0.09968032, 0.03113484, 0.00623848, 0.00076372,
  0.00005136, 0.00000144,
]

test('ORD-50 the published sum of unequal chances comes out of a whole proposal: ten stages at .1 to .5, each twice', () => {
  const likely = [0.1, 0.2, 0.3, 0.4, 0.5].map((chance) => someLikely(2, chance))
  const found = proposalFor(aReorderInput({ likely }))
  // Shown from one in ten thousand on: 0 to 8 pieces of 0 to 10.
  expect(found.wanted?.from).toBe(0)
  expect(found.wanted?.chances).toHaveLength(9)
  for (const [pieces, chance] of (found.wanted?.chances ?? []).entries())
    expect(chance).toBeCloseTo(PUBLISHED[pieces] ?? Number.NaN, 14)
  // P(at most 4) is 0.86212984, P(at most 5) 0.96181016: five are enough in 95 of 100 cases, four are not.
  expect(found.level).toBe(5)
  expect(found.wanted?.enoughAtLevel).toBeCloseTo(0.96181016, 14)
  expect(found.wanted?.expected).toBeCloseTo(3, 14)
  expect(linesOf(found)).toEqual([
    ['likely', 3],
    ['reserve', 2],
    ['on-hand', 0],
  ])
  expect(found.lines[0]?.words).toBe('likely until then: 3 of the 10 pieces that may be asked for')
  expect(found.lines[1]?.words).toBe('in reserve: 5 are enough in 96 of 100 cases')
})

test('ORD-1 a piece on a booked visit counts in full, at the day of the visit', () => {
  const found = proposalFor(aReorderInput({ booked: [someBooked(3, '2026-12-01'), someBooked(4, '2026-12-13')] }))
  expect(linesOf(found)).toEqual([
    ['booked', 3],
    ['on-hand', 0],
  ])
})

test('ORD-2 demand is looked at until lead time and review period are over, what is late included, and no longer', () => {
  const on = (day: string) => proposalFor(aReorderInput({ booked: [someBooked(1, day)] })).order
  expect([on('2026-11-01'), on('2026-12-12'), on('2026-12-13')]).toEqual([1, 1, 0])
  const likelyOn = (day: number) => proposalFor(aReorderInput({ likely: [someLikely(1, 1, { day })] })).order
  expect([likelyOn(0), likelyOn(17), likelyOn(18)]).toEqual([1, 1, 0])
})

test('ORD-51 a household answers once: two pieces at one chance are one toss for two, not two tosses', () => {
  const pair = proposalFor(aReorderInput({ likely: [someLikely(4, 0.5, { pieces: 2 })] }))
  const apart = proposalFor(aReorderInput({ likely: [someLikely(8, 0.5)] }))
  // Four households: 0, 2, 4, 6 or 8 pieces at 1, 4, 6, 4 and 1 sixteenth. Six are enough in 15 of 16 cases, too few for 95 in 100.
  expect(pair.wanted?.chances).toEqual([1, 0, 4, 0, 6, 0, 4, 0, 1].map((of) => of / 16))
  // Eight tosses for one: at most 6 in 247 of 256 cases.
  expect([pair.level, apart.level]).toEqual([8, 6])
})

test('ORD-3 what is promised is added; what is ordered, late or not, or drafted is taken off, but not what comes too late', () => {
  const some = (quantity: number) => [{ partId: part(1), quantity }]
  const coming = (quantity: number, on: string | null) => ({
    partId: part(1),
    quantity,
    expectedOn: on === null ? null : calendarDate(on),
  })
  const found = proposalFor(
    aReorderInput({
      booked: [someBooked(20, '2026-12-01')],
      stock: [{ partId: part(1), expiresOn: null, recalled: false, quantity: 9 }],
      promised: some(4),
      incoming: [coming(2, '2026-11-16'), coming(3, '2026-12-12'), coming(1, null), coming(7, '2026-12-13')],
      drafted: some(2),
    }),
  )
  expect(linesOf(found)).toEqual([
    ['booked', 20],
    ['promised', 4],
    ['on-hand', -9],
    ['on-order', -6],
    ['drafted', -2],
  ])
  expect(found.order).toBe(7)
  expect(found.lines[3]?.words).toBe('ordered and awaited; 2 of them are 9 days late; 7 more come after Dec 12, 2026')
})

test('ORD-52 a lot that expires in the meantime counts only for what is needed by its last day', () => {
  const lot = (expiresOn: string | null, quantity: number, recalled = false) => ({
    partId: part(1),
    expiresOn: expiresOn === null ? null : calendarDate(expiresOn),
    recalled,
    quantity,
  })
  const found = proposalFor(
    aReorderInput({
      booked: [someBooked(3, '2026-12-01'), someBooked(20, '2026-12-10')],
      stock: [lot('2026-12-02', 10), lot(null, 8), lot('2026-11-24', 6), lot(null, 5, true)],
    }),
  )
  // Of the ten, three are used by Dec 2; seven expire. Six expired yesterday and five are recalled.
  expect([found.usable, found.order]).toEqual([11, 12])
  expect(found.lines.find((line) => line.kind === 'on-hand')?.words).toBe(
    'on hand and good when it will be needed; 7 more expire before they are needed, from Dec 2, 2026; 11 more expired or recalled',
  )
})

test('ORD-53 what every visit uses is counted by visits: booked ones in full, the others by their chance, a household once', () => {
  const found = proposalFor(
    aReorderInput({
      parts: [aReorderPart(1, { perVisitQuantity: 2, serviceLevelPercent: 90 })],
      visits: {
        booked: [{ on: calendarDate('2026-12-02'), visits: 5 }],
        likely: [{ households: 3, visitedBy: new Float64Array(30).fill(0.5) }],
      },
    }),
  )
  // Three households at one half: at most two visits in 7 of 8 cases, so it takes all three.
  expect(linesOf(found)).toEqual([
    ['booked', 10],
    ['likely', 3],
    ['reserve', 3],
    ['on-hand', 0],
  ])
})

test('ORD-4 a part without due dates is planned by its use of late, with a reserve, and ordered as many at a time as costs least', () => {
  const parts = [aReorderPart(1, { usedADay: { mean: 0.5, deviation: 0.5 } })]
  const found = proposalFor(aReorderInput({ parts }))
  // 17 days at 0.5 are 8.5; z 1.6449 x sqrt(17) x 0.5 is 3.39, together 11.89. EOQ: sqrt(2 x 15.00 x 182.5 / (0.2 x 4.00)) is 82.7.
  expect(linesOf(found)).toEqual([
    ['past-use', 9],
    ['reserve', 3],
    ['on-hand', 0],
    ['batch', 71],
  ])
  expect(found.order).toBe(83)
  expect(proposalFor(aReorderInput({ parts, orderCost: cents(0) })).order).toBe(12)
})

test('ORD-6 the office may set a least number to keep, and a part that nobody sells is said so', () => {
  const found = proposalFor(aReorderInput({ parts: [aReorderPart(1, { leastToKeep: 6, terms: [] })] }))
  expect(found.order).toBe(6)
  expect(found.sentence).toContain('No supplier is set for it yet.')
})

test('ORD-7 proposals are gathered by supplier; parts without one come last, and enough is left out', () => {
  const plan = planFor(
    aReorderInput({
      parts: [aReorderPart(1, { leastToKeep: 2, terms: [] }), aReorderPart(2, { leastToKeep: 3 }), aReorderPart(3)],
    }),
  )
  expect(gatherOrders(plan).map((group) => [group.supplierId, group.proposals.length, group.cost])).toEqual([
    [1, 1, 1200],
    [null, 1, 0],
  ])
})

/**
 * The worked example, by hand. A filter, packs of 6, 4.00 a piece and 3.60 from 30 on; 10 days of lead time, 7 between orders.
 * Booked: 4. Households: 6 at one half, each one piece; 2 at one quarter, each two pieces.
 * Beside the booked ones: six at one half are 1, 6, 15, 20, 15, 6, 1 of 64; two at one quarter are 9, 6, 1 of 16 for 0, 2, 4 pieces.
 * Together of 1024: 9, 54, 141, 216, 226, 180, 114, 56, 21, 6, 1. At most 6 are 940 (0.918), at most 7 are 996 (0.973).
 */
test('ORD-50 ORD-5 ORD-54 the worked example comes out line by line', () => {
  const found = proposalFor(
    aReorderInput({
      parts: [
        aReorderPart(1, {
          name: 'Sediment filter',
          terms: [aTerm({ packSize: 6, breaks: [{ from: 30, price: cents(360) }] })],
          comingADay: 0.5,
        }),
      ],
      booked: [someBooked(4, '2026-12-03')],
      likely: [someLikely(6, 0.5), someLikely(2, 0.25, { pieces: 2 })],
      stock: [{ partId: part(1), expiresOn: null, recalled: false, quantity: 3 }],
      promised: [{ partId: part(1), quantity: 1 }],
    }),
  )
  expect(found.wanted?.chances.map((chance) => Math.round(chance * 1024))).toEqual([
    9, 54, 141, 216, 226, 180, 114, 56, 21, 6, 1,
  ])
  // 4 booked and 7 more: 11. 11 + 1 promised - 3 on hand are 9 missing, two packs are 12.
  // 12 at 4.00 are 48.00, 30 at 3.60 are 108.00. The 18 pieces beyond 12 and the 3 beyond 9: 21 beyond the need spare 84.00 later, and are
  // kept 17 days and then half of the 42 days that they last: 21 x 3.60 x 20 % x 38 / 365 is 1.57. The need costs 108.00 + 1.57 - 84.00,
  // 25.57; in two packs 48.00 + 3 x 4.00 x 20 % x 20 / 365 (0.13) - 12.00, 36.13.
  expect(found.lines).toEqual([
    { kind: 'booked', words: 'for visits booked until Dec 12, 2026', pieces: 4 },
    { kind: 'likely', words: 'likely until then: 4 of the 10 pieces that may be asked for', pieces: 4 },
    { kind: 'reserve', words: 'in reserve: 11 are enough in 97 of 100 cases', pieces: 3 },
    { kind: 'promised', words: 'promised to pulls that are open', pieces: 1 },
    { kind: 'on-hand', words: 'on hand and good when it will be needed', pieces: -3 },
    { kind: 'packs', words: 'to fill 2 packs of 6', pieces: 3 },
    { kind: 'cheaper', words: 'because from 30 on a piece costs $3.60 instead of $4.00', pieces: 18 },
  ])
  expect(found.prices).toEqual([
    { quantity: 12, price: 400, paid: 4800, kept: 13, spared: 1200, cost: 3613, chosen: false },
    { quantity: 30, price: 360, paid: 10_800, kept: 157, spared: 8400, cost: 2557, chosen: true },
  ])
  expect([found.order, found.price, found.cost]).toEqual([30, 360, 10_800])
  expect(found.sentence).toBe(
    'Order 30 in 5 packs of 6: until Dec 12, 2026 as many as 12 may be wanted, and 3 are there or on their way.',
  )
  expect(found.why).toBe('9 missing by Dec 12, 2026')
})

test('ORD-55 never more is ordered than will be used before it expires, but for what must be had', () => {
  const term = aTerm({ packSize: 4, breaks: [{ from: 40, price: cents(100) }] })
  const own = { terms: [term], shelfMonths: 1, comingADay: 0.1 }
  const likely = [someLikely(3, 0.6, { day: 5 })]
  // Until Jan 5, a month after delivery, 41 days: 4.1 pieces by the pace of a year. Three are missing; a pack of 4 is used, 40 would not be.
  const fits = proposalFor(aReorderInput({ parts: [aReorderPart(1, own)], likely }))
  expect([fits.short, fits.order]).toEqual([3, 4])
  const packs = (packSize: number, booked: number) =>
    proposalFor(
      aReorderInput({
        parts: [aReorderPart(1, { ...own, terms: [aTerm({ packSize })] })],
        likely,
        booked: booked > 0 ? [someBooked(booked, '2026-12-02')] : [],
      }),
    )
  const none = packs(12, 0)
  expect([none.order, none.short]).toEqual([0, 3])
  expect(none.lines.at(-1)).toEqual({
    kind: 'shelf',
    words: 'more would expire unused: it keeps 1 month',
    pieces: -12,
  })
  expect(none.sentence).toContain(
    '3 pieces are missing by Dec 12, 2026, but the least that is sold would expire unused.',
  )
  // A visit that is booked is not let down for that.
  expect(packs(12, 1).order).toBe(12)
})

test('ORD-56 an order below the supplier’s least value is filled up with what is needed next, soonest first, or says what it lacks', () => {
  const parts = [
    aReorderPart(1),
    aReorderPart(2, { terms: [aTerm({ packSize: 5 })] }),
    aReorderPart(3, { terms: [aTerm({ packSize: 5 })] }),
  ]
  const later = (id: number, quantity: number, day: string) => someBooked(quantity, day, id)
  const booked = [later(1, 10, '2026-12-01'), later(2, 12, '2027-01-20'), later(3, 4, '2026-12-28')]
  const order = (minimumOrder: number) =>
    planFor(
      aReorderInput({
        parts,
        booked,
        suppliers: [{ supplierId: supplier(1), name: 'Orrin', minimumOrder: cents(minimumOrder) }],
      }),
    )
  // 10 pieces at 4.00 are 40.00.
  expect(order(4000).proposals.map((each) => each.order)).toEqual([10, 0, 0])
  expect(order(6000).proposals.map((each) => each.order)).toEqual([10, 0, 5])
  const more = order(6100)
  expect(more.proposals.map((each) => each.order)).toEqual([10, 5, 5])
  expect(more.orders).toEqual([
    {
      supplierId: 1,
      cost: 8000,
      lacks: 0,
      about: 'Filled up from $40.00 to the least order of $61.00 with 10 pieces needed next.',
    },
  ])
  expect(linesOf(more.proposals[2] ?? proposalFor(aReorderInput()))).toEqual([
    ['on-hand', 0],
    ['ahead', 5],
  ])
  // 10 + 15 + 5 pieces are all that is needed in the weeks ahead: 120.00. Then nothing is ordered along.
  const never = order(12_500)
  expect(never.proposals.map((each) => each.order)).toEqual([10, 0, 0])
  expect(never.orders[0]).toMatchObject({ cost: 4000, lacks: 8500 })
  expect(never.orders[0]?.about).toBe(
    '$85.00 below the least order of $125.00: nothing more is needed in the weeks ahead.',
  )
})

test('ORD-1 ORD-3 ORD-5 ORD-6 ORD-50 ORD-52 ORD-55 the judge has no complaint, whatever may be wanted', () => {
  fc.assert(
    fc.property(anyReorderInput, (input) => {
      expect(checkReorders(input, proposeReorders(input))).toEqual([])
    }),
    { numRuns: 400 },
  )
})

test('the judge sees a proposal that was spoiled', () => {
  const input = aReorderInput({
    parts: [aReorderPart(1, { terms: [aTerm({ packSize: 12, minimumQuantity: 24 })] })],
    booked: [someBooked(13, '2026-12-01')],
    likely: [someLikely(2, 0.5)],
  })
  const plan = proposeReorders(input)
  const [proposal] = plan.proposals
  if (!proposal) throw new Error('The test expects a proposal')
  const complaints = (own: object) => checkReorders(input, { ...plan, proposals: [{ ...proposal, ...own }] }).join(' ')
  expect(complaints({ order: 25 })).toContain('no whole number of packs')
  expect(complaints({ order: 12 })).toContain('does not cover')
  expect(complaints({ order: 36 })).toContain('a pack less than 36 would do')
  expect(complaints({ covers: calendarDate('2026-12-13') })).toContain('is not 17 days away')
  expect(complaints({ short: 14 })).toContain('is not what is missing')
  expect(complaints({ lines: proposal.lines.slice(1) })).toContain('13 are booked')
  expect(complaints({ level: 14 })).toContain('are not enough in 95 of 100 cases')
  expect(complaints({ level: 16 })).toContain('15 would be enough')
  expect(complaints({ usable: 3 })).toContain('0 are usable')
  expect(complaints({ price: cents(399) })).toContain('does not cost 399')
  expect(checkReorders(input, { ...plan, orders: [] }).join()).toContain('comes to 9600')
  expect(checkReorders(input, { proposals: [], orders: [] }).join()).toContain('has no proposal')
})

test('ORD-57 a proposal says what would make it another quantity', () => {
  const found = proposalFor(
    aReorderInput({
      parts: [aReorderPart(1, { terms: [aTerm({ breaks: [{ from: 100, price: cents(300) }] })] })],
      likely: [0.1, 0.2, 0.3, 0.4, 0.5].map((chance) => someLikely(2, chance)),
      incoming: [{ partId: part(1), quantity: 1, expectedOn: calendarDate('2026-11-16') }],
      stock: [{ partId: part(1), expiresOn: calendarDate('2026-11-25'), recalled: false, quantity: 9 }],
    }),
  )
  // At most 4 in 86.2 of 100 cases, at most 6 in 99.3: by the published table. Three of nine are needed today, the rest expires.
  expect(found.changes).toEqual([
    'Enough in 80 of 100 cases would take 1 piece fewer.',
    'To have enough in 99 of 100 cases it takes 1 piece more.',
    'A household that books before then counts in full, one that says no counts for nothing.',
    '1 piece is 9 days late: without it, one more is missing.',
    '6 pieces on the shelf will expire unused.',
    'From 100 on a piece costs $3.00: $296.00 more in all.',
  ])
})
