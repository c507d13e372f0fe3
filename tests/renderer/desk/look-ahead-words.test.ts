import { expect, test } from 'vitest'
import { calendarDate } from '../../../core/units/calendar-date.ts'
import { lookAheadInWords, niceCeiling } from '../../../renderer/desk/look-ahead-words.ts'

test('the look-ahead says what is late and which week is fullest', () => {
  const weeks = [
    { monday: calendarDate('2026-11-30'), stages: 12, lateStages: 5, visits: 3 },
    { monday: calendarDate('2026-12-07'), stages: 9, lateStages: 0, visits: 1 },
  ]
  expect(lookAheadInWords(weeks, 'en-US')).toBe(
    '21 stages and 4 booked visits in 2 weeks. 5 stages late already. The fullest week begins Dec 7, with 9 stages.',
  )
})

test('the scale ends on a round number whose half is whole', () => {
  for (let count = 1; count < 3000; count += 7) {
    const top = niceCeiling(count)
    expect(top).toBeGreaterThanOrEqual(count)
    expect(Number.isInteger(top / 2)).toBe(true)
    expect(top).toBeLessThanOrEqual(Math.max(2, count * 2))
  }
  expect(niceCeiling(110)).toBe(120)
})
