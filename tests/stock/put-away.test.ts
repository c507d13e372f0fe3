import fc from 'fast-check'
import { expect, test } from 'vitest'
import { checkPutAway } from '../../core/stock/check-put-away.ts'
import { type PutAwayQuestion, putAway, type ShelfBin } from '../../core/stock/put-away.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { placeIdSchema } from '../../core/units/ids.ts'

const place = (id: number) => placeIdSchema.parse(id)
/** The part that came, and another. */
type Whose = 'P' | 'Q'
const [P, Q] = ['P', 'Q'] as const

const heap = (whose: Whose, lot: string, expiresOn: string | null, pieces: number) => ({
  whose,
  lot,
  expiresOn: expiresOn === null ? null : calendarDate(expiresOn),
  pieces,
})
const bin = (id: number, name: string, ...heaps: (ShelfBin['heaps'][number] & { whose: Whose })[]): ShelfBin => ({
  placeId: place(id),
  name,
  heaps: heaps.filter((each) => each.whose === P),
  others: heaps.filter((each) => each.whose === Q).reduce((sum, each) => sum + each.pieces, 0),
})
const asked = (own: Partial<PutAwayQuestion>): PutAwayQuestion => ({
  lot: '2608-114',
  expiresOn: calendarDate('2028-08-31'),
  bins: [],
  usual: [],
  usualOfOthers: new Set(),
  ...own,
})
const words = (own: Partial<PutAwayQuestion>): string[] => putAway(asked(own)).map((each) => each.words)

test('STK-37 a lot goes to its own pieces, then into the usual bins in their order, then to other lots of the part', () => {
  const bins = [
    bin(1, 'A-01-1', heap(P, '2508-001', '2027-08-31', 3)),
    bin(2, 'A-01-2', heap(P, '2608-114', '2028-08-31', 4), heap(Q, 'x', null, 1)),
    bin(3, 'A-01-3'),
    bin(4, 'A-01-4', heap(P, '2609-001', '2028-09-30', 2)),
  ]
  expect(words({ bins, usual: [place(4), place(1)] })).toEqual([
    'A-01-2: lot 2608-114 lies there already, 4 pieces.',
    'A-01-4: its usual bin; this one expires before 2609-001 and goes in front.',
    'A-01-1: its usual bin; 2508-001 expires first and stays in front.',
    'A-01-3: free, 1 bin from A-01-2.',
  ])
  expect(words({ bins: bins.slice(0, 1), lot: '' })).toEqual([
    'A-01-1: lot 2508-001 of it lies there; 2508-001 expires first and stays in front.',
  ])
})

test('STK-37 a part that lies nowhere gets the first free bin of the walk that no other part usually has', () => {
  const bins = [bin(1, 'A-01-1', heap(Q, 'x', null, 9)), bin(2, 'A-01-2'), bin(3, 'A-01-3'), bin(4, 'A-01-4')]
  expect(words({ bins, usualOfOthers: new Set([place(2)]) })).toEqual([
    'A-01-3: the first free bin of the walk.',
    'A-01-4: free.',
  ])
})

test('STK-37 where no bin is free, it is said, with the one that holds the least; where there are none, nothing', () => {
  const bins = [bin(1, 'A-01-1', heap(Q, 'x', null, 9)), bin(2, 'A-01-2', heap(Q, 'y', null, 3))]
  expect(words({ bins })).toEqual(['A-01-2: no bin is free; the least lies there, 3 pieces.'])
  expect(words({ bins: [bin(5, 'B-1')], usualOfOthers: new Set([place(5)]) })).toEqual([
    'B-1: no bin is free; it is empty, and another part usually lies there.',
  ])
  expect(words({})).toEqual([])
})

const anyHeap = fc.record({
  whose: fc.constantFrom(P, Q),
  lot: fc.constantFrom('2608-114', '2508-001', '2609-001'),
  expiresOn: fc.constantFrom(null, calendarDate('2027-01-01'), calendarDate('2029-01-01')),
  pieces: fc.nat(5),
})
const anyQuestion = fc
  .array(fc.oneof(fc.constant([]), fc.array(anyHeap, { maxLength: 3 })), { maxLength: 9 })
  .chain((shelves) => {
    const bins = shelves.map((heaps, index) => bin(index + 1, `A-${index + 1}`, ...heaps))
    const places = bins.map((each) => each.placeId)
    return fc.record({
      bins: fc.constant(bins),
      lot: fc.constantFrom('', '2608-114', 'new'),
      usual: fc.shuffledSubarray([...places, place(99)]),
      usualOfOthers: fc.subarray(places).map((each) => new Set(each)),
    })
  })

test('STK-37 whatever lies where, the judge finds no better bin', () => {
  fc.assert(
    fc.property(anyQuestion, (own) => {
      const question = asked(own)
      expect(checkPutAway(question, putAway(question))).toEqual([])
    }),
    { numRuns: 1000 },
  )
})

test('STK-37 the judge sees a worse bin first, a bin twice, a wrong reason, and one left out', () => {
  const question = asked({ bins: [bin(1, 'A-1'), bin(2, 'A-2', heap(P, '2608-114', null, 4))], usual: [] })
  const good = putAway(question)
  expect(good.map((each) => each.name)).toEqual(['A-2', 'A-1'])
  const [first, second] = good
  if (!first || !second) throw new Error('Two choices are expected')
  for (const bad of [[second, first], [first, first], [{ ...first, reason: 'usual' as const }, second], [second], []])
    expect(checkPutAway(question, bad)).not.toEqual([])
})
