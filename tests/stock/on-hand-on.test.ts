import fc from 'fast-check'
import { expect, test } from 'vitest'
import { balancesOf, onHand, tallyUp } from '../../core/stock/ledger.ts'
import { stretchesOf, wayToDate } from '../../core/stock/on-hand-on.ts'
import { boundFor, type Step } from '../../core/stock/on-the-way.ts'
import { addDays, calendarDate, daysBetween } from '../../core/units/calendar-date.ts'
import { anyMovement } from '../builders/a-movement.ts'
import { lotId, placeId } from '../builders/a-pull.ts'

test('STK-40 on hand on a day is the same, summed up to it or undone from now back to it', () => {
  fc.assert(
    fc.property(fc.array(anyMovement, { maxLength: 60 }), fc.nat(60), (movements, cut) => {
      const [early, late] = [movements.slice(0, cut), movements.slice(cut)]
      const now = onHand(movements).map((heap) => ({ ...heap, fromPlaceId: null, toPlaceId: heap.placeId }))
      expect(balancesOf(tallyUp(tallyUp(new Map(), now), late, -1))).toEqual(onHand(early))
    }),
  )
})

test('STK-40 the shorter way is walked', () => {
  const days = { first: calendarDate('2026-01-01'), last: calendarDate('2026-11-30') }
  const way = (on: string) => wayToDate(calendarDate(on), days)
  expect([way('2025-12-31'), way('2026-01-01'), way('2026-03-01'), way('2026-11-01'), way('2026-11-30')]).toEqual([
    'nothing-yet',
    'forward',
    'forward',
    'backward',
    'as-now',
  ])
  expect(wayToDate(days.first, null)).toBe('nothing-yet')
  expect(way('2027-01-01')).toBe('as-now')
})

test('STK-40 the days between are read in stretches, each once', () => {
  fc.assert(
    fc.property(fc.nat(400), fc.nat(400), (from, length) => {
      const after = addDays(calendarDate('2025-01-01'), from)
      const until = addDays(after, length)
      const stretches = stretchesOf(after, until)
      expect(stretches.reduce((days, each) => days + daysBetween(each.after, each.until), 0)).toBe(length)
      for (const [at, each] of stretches.entries()) expect(each.after).toBe(stretches[at - 1]?.until ?? after)
    }),
  )
})

const WAY = placeId(9)
const step = (bound: number, quantity: number, own: Partial<Step> = {}): Step => ({
  lotId: lotId(1),
  fromPlaceId: placeId(1),
  toPlaceId: WAY,
  boundForPlaceId: placeId(bound),
  quantity,
  movedOn: calendarDate('2026-12-01'),
  by: 'Ilse R.',
  ...own,
})
const came = (bound: number, quantity: number): Step =>
  step(bound, quantity, { fromPlaceId: WAY, toPlaceId: placeId(bound) })
const heap = (quantity: number) => ({ lotId: lotId(1), transitPlaceId: WAY, quantity })

test('STK-42 what is on the way is what was sent and has not arrived, place by place', () => {
  const rows = (quantity: number, steps: readonly Step[]) =>
    boundFor(heap(quantity), steps).map((row) => [row.boundForPlaceId, row.quantity])
  expect(rows(9, [step(2, 6), step(3, 4), came(2, 1)])).toEqual([
    [2, 5],
    [3, 4],
  ])
  expect(rows(4, [step(2, 6), came(2, 6), step(3, 4)])).toEqual([[3, 4]])
  expect(rows(5, [])).toEqual([[null, 5]])
  expect(rows(7, [step(2, 6)])).toEqual([
    [2, 6],
    [null, 1],
  ])
  expect(rows(2, [step(2, 6)])).toEqual([[2, 2]])
  expect(rows(6, [step(2, 6), step(2, 3, { lotId: lotId(2) })])).toEqual([[2, 6]])
})

test('STK-42 what is bound somewhere and what is bound nowhere add up to what is on the way', () => {
  const anySteps = fc.array(
    fc.record({ bound: fc.integer({ min: 1, max: 4 }), pieces: fc.integer({ min: 1, max: 5 }), comes: fc.boolean() }),
    { maxLength: 20 },
  )
  fc.assert(
    fc.property(anySteps, fc.nat(30), (rows, quantity) => {
      const steps = rows.map((row) => (row.comes ? came(row.bound, row.pieces) : step(row.bound, row.pieces)))
      const found = boundFor(heap(quantity), steps)
      expect(found.reduce((sum, row) => sum + row.quantity, 0)).toBe(quantity)
      expect(found.every((row) => row.quantity > 0)).toBe(true)
    }),
  )
})
