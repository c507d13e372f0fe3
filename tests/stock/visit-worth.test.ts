import { expect, test } from 'vitest'
import { secondTripMinutes, visitWorth, WORTH_POINTS } from '../../core/stock/visit-worth.ts'

const bare = { daysLate: 0, promised: false, secondTripMinutes: 0 }

test('PICK-8 a visit is worth more the later it is, with our word, and the further away it lies', () => {
  expect(visitWorth(bare)).toBe(100)
  expect(visitWorth({ ...bare, daysLate: 12 })).toBe(220)
  expect(visitWorth({ ...bare, promised: true })).toBe(400)
  expect(visitWorth({ ...bare, secondTripMinutes: 40 })).toBe(180)
  expect(visitWorth({ daysLate: 12, promised: true, secondTripMinutes: 40 })).toBe(600)
})

test('PICK-8 what was forgotten for years counts no more than what was for three months, and every visit is worth something', () => {
  expect(visitWorth({ ...bare, daysLate: 4000 })).toBe(visitWorth({ ...bare, daysLate: WORTH_POINTS.mostDaysLate }))
  expect(visitWorth({ ...bare, daysLate: -3 })).toBe(100)
  const nothing = { aVisit: 0, aDayLate: 0, mostDaysLate: 0, ourWord: 0, aDrivenMinute: 0 }
  expect(visitWorth(bare, nothing)).toBe(1)
})

test('PICK-8 a second trip costs there and back, or only the way from another visit that is booked soon', () => {
  expect(secondTripMinutes(25, [])).toBe(50)
  expect(secondTripMinutes(25, [40, 3])).toBe(6)
})
