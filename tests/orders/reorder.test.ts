import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkReorders } from '../../core/orders/check-reorder.ts'
import { groupBySupplier, lackToMinimum } from '../../core/orders/group-by-supplier.ts'
import { proposeReorders, quantityInPacks, type ReorderInput, shareOf, termToUse } from '../../core/orders/reorder.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { partIdSchema, supplierIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { anyReorderInput, aReorderInput, aReorderPart, aTerm, someDue } from '../builders/a-reorder.ts'

const partId = partIdSchema.parse(1)

function proposalFor(input: ReorderInput) {
  const proposals = proposeReorders(input)
  expect(checkReorders(input, proposals)).toEqual([])
  const first = proposals[0]
  if (!first) throw new Error('The test expects a proposal')
  return first
}

test('ORD-1 a booked stage counts in full, one that only falls due by the share of letters that lead to a visit, rounded up', () => {
  const found = proposalFor(
    aReorderInput({ demands: [...someDue(3, '2026-12-01', true), ...someDue(11, '2026-12-10', false)] }),
  )
  // 70 % of 11 is 7.7
  expect(found.lines.map((line) => [line.kind, line.pieces])).toEqual([
    ['booked', 3],
    ['likely', 8],
    ['on-hand', 0],
  ])
  expect(found.order).toBe(11)
})

test('ORD-1 the share is not rounded up for a hair of floating point', () => {
  expect(shareOf(10, 70)).toBe(7)
  expect(shareOf(100, 55.00000000000001)).toBe(55)
  expect(shareOf(1, 1)).toBe(1)
  expect(shareOf(0, 70)).toBe(0)
})

test('ORD-2 demand is looked at until lead time and review period are over, and no longer', () => {
  const on = (day: string) => proposalFor(aReorderInput({ demands: someDue(1, day, true) })).order
  expect([on('2026-11-01'), on('2026-12-12'), on('2026-12-13')]).toEqual([1, 1, 0])
})

test('ORD-3 a lot counts only when it is good until the period is over, and never when it is recalled', () => {
  const lot = (expiresOn: string | null, recalled = false) => ({
    partId,
    expiresOn: expiresOn === null ? null : calendarDate(expiresOn),
    recalled,
    quantity: 10,
  })
  const found = proposalFor(
    aReorderInput({
      demands: someDue(30, '2026-12-01', true),
      stock: [lot('2026-12-11'), lot('2026-12-12'), lot(null), lot(null, true)],
    }),
  )
  expect([found.usable, found.order]).toEqual([20, 10])
  expect(found.lines.find((line) => line.kind === 'on-hand')?.words).toContain('20 more expired by then, or recalled')
})

test('ORD-3 what is promised is added, what is ordered or drafted is taken off', () => {
  const some = (quantity: number) => [{ partId, quantity }]
  const found = proposalFor(
    aReorderInput({
      demands: someDue(20, '2026-12-01', true),
      stock: [{ partId, expiresOn: null, recalled: false, quantity: 9 }],
      promised: some(4),
      onOrder: some(5),
      drafted: some(2),
    }),
  )
  expect(found.order).toBe(20 + 4 - 9 - 5 - 2)
  expect(found.lines.map((line) => line.pieces)).toEqual([20, 4, -9, -5, -2])
})

// order = max(minimum, pack * ceil(need / pack)): arithmetic, no source
test.each([
  [0, 12, 24, 0],
  [1, 12, 0, 12],
  [12, 12, 0, 12],
  [13, 12, 0, 24],
  [13, 12, 36, 36],
  [40, 12, 36, 48],
  [3, 4, 10, 12],
  [7, 1, 0, 7],
])('ORD-5 of %i missing, in packs of %i and at least %i, %i are ordered', (need, pack, minimum, order) => {
  expect(quantityInPacks(need, pack, minimum)).toBe(order)
})

test('ORD-5 the sentence and the last line tell what the packs make of it', () => {
  const found = proposalFor(
    aReorderInput({
      parts: [aReorderPart(1, { terms: [aTerm({ packSize: 12 })] })],
      demands: someDue(13, '2026-12-01', true),
    }),
  )
  expect(found.sentence).toBe('Order 24 in 2 packs of 12: 13 will be missing by Dec 12, 2026.')
  expect(found.lines.at(-1)).toEqual({ kind: 'packs', words: 'to fill 2 packs of 12', pieces: 11 })
  expect(found.cost).toBe(9600)
})

test('ORD-4 what every visit uses is planned by the pace of visits, with a reserve; a fitting by the pace of its use', () => {
  const found = proposalFor(
    aReorderInput({
      parts: [aReorderPart(1, { perVisitQuantity: 2 })],
      visitsADay: { mean: 3, deviation: 1 },
    }),
  )
  // 17 days of 6 a day; z 1.6449 x sqrt(17) x 2 is 13.6, and 102 + 13.6 is rounded up once
  expect(found.lines.map((line) => [line.kind, line.pieces])).toEqual([
    ['every-visit', 102],
    ['reserve', 14],
    ['on-hand', 0],
  ])
  const fitting = proposalFor(aReorderInput({ parts: [aReorderPart(1, { usedADay: { mean: 0.5, deviation: 0 } })] }))
  expect(fitting.lines.map((line) => [line.kind, line.pieces])).toEqual([
    ['past-use', 9],
    ['on-hand', 0],
  ])
})

test('ORD-6 the office may set a least number to keep, and a part that nobody sells is said so', () => {
  const found = proposalFor(aReorderInput({ parts: [aReorderPart(1, { leastToKeep: 6, terms: [] })] }))
  expect(found.order).toBe(6)
  expect(found.sentence).toContain('No supplier is set for it yet.')
})

test('ORD-7 the preferred supplier is asked, otherwise the cheapest, then the quickest', () => {
  const [one, two, three] = [1, 2, 3].map((id) => supplierIdSchema.parse(id))
  const terms = [
    aTerm({ supplierId: one, price: cents(500), preferred: true }),
    aTerm({ supplierId: two, price: cents(400), leadTimeDays: 9 }),
    aTerm({ supplierId: three, price: cents(400), leadTimeDays: 5 }),
  ]
  expect(termToUse(terms)?.supplierId).toBe(one)
  expect(termToUse(terms.slice(1))?.supplierId).toBe(three)
  expect(termToUse([])).toBeNull()
})

test('ORD-7 proposals are gathered by supplier; parts without one come last, and enough is left out', () => {
  const proposals = proposeReorders(
    aReorderInput({
      parts: [aReorderPart(1, { leastToKeep: 2, terms: [] }), aReorderPart(2, { leastToKeep: 3 }), aReorderPart(3)],
    }),
  )
  expect(groupBySupplier(proposals).map((group) => [group.supplierId, group.proposals.length, group.cost])).toEqual([
    [1, 1, 1200],
    [null, 1, 0],
  ])
  expect([lackToMinimum(cents(1200), cents(5000)), lackToMinimum(cents(6000), cents(5000))]).toEqual([3800, 0])
})

test('ORD-1 ORD-2 ORD-3 ORD-5 ORD-6 the judge has no complaint, whatever falls due', () => {
  fc.assert(
    fc.property(anyReorderInput, (input) => {
      expect(checkReorders(input, proposeReorders(input))).toEqual([])
    }),
    { numRuns: 1000 },
  )
})

test('the judge sees a proposal that was spoiled', () => {
  const input = aReorderInput({
    parts: [aReorderPart(1, { terms: [aTerm({ packSize: 12, minimumQuantity: 24 })] })],
    demands: [...someDue(13, '2026-12-01', true), ...someDue(2, '2026-12-01', false)],
  })
  const [proposal] = proposeReorders(input)
  if (!proposal) throw new Error('The test expects a proposal')
  const complaints = (own: object) => checkReorders(input, [{ ...proposal, ...own }]).join(' ')
  expect(complaints({ order: 25 })).toContain('no whole number of packs')
  expect(complaints({ order: 12 })).toContain('does not cover')
  expect(complaints({ order: 36 })).toContain('a pack less than 36 would do')
  expect(complaints({ covers: calendarDate('2026-12-13') })).toContain('is not 17 days away')
  expect(complaints({ short: 14 })).toContain('is not what is missing')
  expect(complaints({ lines: proposal.lines.slice(1) })).toContain('booked is 13')
  expect(checkReorders(input, []).join()).toContain('has no proposal')
})
