import fc from 'fast-check'
import { expect, test } from 'vitest'
import { expectedDelivery } from '../../core/orders/expected-delivery.ts'
import { lineWords, openPieces, piecesOver, standingOf, standingWords } from '../../core/orders/order-standing.ts'
import { addDays, calendarDate, weekdayOf } from '../../core/units/calendar-date.ts'

const day = calendarDate
const line = fc.record({
  quantity: fc.integer({ min: 1, max: 500 }),
  received: fc.integer({ min: 0, max: 600 }),
  givenUp: fc.integer({ min: 0, max: 500 }),
})

test('ORD-80 ORD-78 what is ordered is received, given up or open, and what is over is over', () => {
  fc.assert(
    fc.property(line, (counts) => {
      const open = openPieces(counts)
      expect(open).toBeGreaterThanOrEqual(0)
      if (open > 0) expect(counts.received + counts.givenUp + open).toBe(counts.quantity)
      expect(piecesOver(counts)).toBe(Math.max(0, counts.received - counts.quantity))
      if (piecesOver(counts) > 0) expect(open).toBe(0)
    }),
  )
})

test('ORD-81 ORD-87 late only while pieces are open and only from the day after; closed when none are', () => {
  fc.assert(
    fc.property(fc.array(line, { minLength: 1, maxLength: 5 }), fc.integer({ min: -30, max: 30 }), (lines, days) => {
      const today = day('2026-11-28')
      const standing = standingOf({ state: 'sent', expectedOn: addDays(today, -days), lines }, today)
      expect(standing.open).toBe(lines.reduce((sum, each) => sum + openPieces(each), 0))
      expect(standing.standing === 'closed').toBe(standing.open === 0)
      expect(standing.standing === 'late').toBe(standing.open > 0 && days > 0)
      expect(standing.daysLate).toBe(standing.open > 0 ? Math.max(0, days) : 0)
    }),
  )
})

test('ORD-87 how an order stands is said shortest first', () => {
  const today = day('2026-11-28')
  const words = (
    state: 'draft' | 'sent' | 'received' | 'cancelled',
    lines: readonly [quantity: number, received: number, givenUp: number][],
    expectedOn = '2026-11-20',
  ) => {
    const counts = lines.map(([quantity, received, givenUp]) => ({ quantity, received, givenUp }))
    const order = { state, expectedOn: day(expectedOn), lines: counts }
    const { first, second } = standingWords({ ...standingOf(order, today), expectedOn: order.expectedOn }, 'en-US')
    return `${first}; ${second}`
  }
  expect(words('draft', [[12, 0, 0]])).toBe('not sent yet; 12 pieces')
  expect(words('sent', [[12, 0, 0]])).toBe('8 days late; expected Nov 20')
  expect(words('sent', [[12, 7, 0]])).toBe('8 days late; expected Nov 20, 7 of 12 pieces came')
  expect(words('sent', [[12, 7, 0]], '2026-12-04')).toBe(
    'partly received; 7 of 12 pieces came, the rest expected Dec 4',
  )
  expect(words('sent', [[12, 0, 0]], '2026-11-28')).toBe('awaited; expected Nov 28')
  expect(
    words('received', [
      [12, 14, 0],
      [5, 3, 2],
    ]),
  ).toBe('received; 17 pieces, 2 more than ordered, 2 not waited for')
  expect(words('received', [[12, 0, 12]])).toBe('given up; 0 pieces, 12 not waited for')
  expect(words('cancelled', [[12, 5, 0]])).toBe('cancelled; 5 of 12 pieces came before that')
  expect(lineWords({ quantity: 12, received: 7, givenUp: 0, damaged: 2 }, true)).toBe(
    '12 ordered, 7 received, 2 came damaged, 5 awaited',
  )
})

test('ORD-75 an order is awaited on the first workday from the supplier days after it is sent', () => {
  // 2026-12-06 is a Sunday (ISO 8601 weekday 7)
  expect(expectedDelivery(day('2026-12-01'), 5, '12345')).toBe('2026-12-07')
  expect(expectedDelivery(day('2026-12-01'), 5, '1234567')).toBe('2026-12-06')
  expect(expectedDelivery(day('2026-12-01'), 0, '12345')).toBe('2026-12-01')
  expect(expectedDelivery(day('2026-12-01'), 3, '2')).toBe('2026-12-08')
  fc.assert(
    fc.property(fc.integer({ min: 0, max: 90 }), fc.subarray([...'1234567'], { minLength: 1 }), (lead, days) => {
      const from = day('2026-11-28')
      const expected = expectedDelivery(from, lead, days.join(''))
      expect(days).toContain(String(weekdayOf(expected)))
      expect(expected >= addDays(from, lead) && expected < addDays(from, lead + 7)).toBe(true)
    }),
  )
})
