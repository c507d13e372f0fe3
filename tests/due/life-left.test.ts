import fc from 'fast-check'
import { expect, test } from 'vitest'
import { lifeLeftOn } from '../../core/due/life-left.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'

const start = calendarDate('2026-01-01')
const due = calendarDate('2026-12-27') // 360 days

test('DUE-13 life left runs from whole on the day of the change to nothing on the due date', () => {
  const leftAfter = (days: number) => lifeLeftOn(addDays(start, days), start, due)
  expect([0, 90, 180, 270].map((days) => leftAfter(days).lifeLeft)).toEqual([1, 0.75, 0.5, 0.25])
  expect(leftAfter(360)).toEqual({ lifeLeft: 0, daysLate: 0 })
  expect(leftAfter(361)).toEqual({ lifeLeft: 0, daysLate: 1 })
  expect(leftAfter(381)).toEqual({ lifeLeft: 0, daysLate: 21 })
})

test('DUE-13 before a fitting that lies ahead, the whole life is left', () => {
  expect(lifeLeftOn(calendarDate('2025-06-01'), start, due)).toEqual({ lifeLeft: 1, daysLate: 0 })
})

test('DUE-13 a stage without a due date has no life to show', () => {
  expect(lifeLeftOn(start, null, null)).toEqual({ lifeLeft: null, daysLate: 0 })
  expect(lifeLeftOn(start, start, null)).toEqual({ lifeLeft: null, daysLate: 0 })
})

test('DUE-13 an end without a start shows its last year', () => {
  expect(lifeLeftOn(calendarDate('2025-12-27'), null, due).lifeLeft).toBe(1)
  expect(lifeLeftOn(calendarDate('2020-01-01'), null, due).lifeLeft).toBe(1)
  expect(lifeLeftOn(addDays(due, -73), null, due).lifeLeft).toBeCloseTo(0.2, 10)
})

test('DUE-13 a life of no length is whole before its date and over on it', () => {
  expect(lifeLeftOn(addDays(start, -1), start, start).lifeLeft).toBe(1)
  expect(lifeLeftOn(start, start, start)).toEqual({ lifeLeft: 0, daysLate: 0 })
})

test('DUE-13 whatever the dates, life left lies between nothing and all, and only what is over can be late', () => {
  const days = fc.integer({ min: -4000, max: 4000 })
  fc.assert(
    fc.property(days, days, days, (today, from, until) => {
      const { lifeLeft, daysLate } = lifeLeftOn(addDays(start, today), addDays(start, from), addDays(start, until))
      expect(lifeLeft).not.toBeNull()
      expect(lifeLeft).toBeGreaterThanOrEqual(0)
      expect(lifeLeft).toBeLessThanOrEqual(1)
      expect(daysLate).toBe(Math.max(0, today - until))
      if (daysLate > 0) expect(lifeLeft).toBe(0)
    }),
  )
})
