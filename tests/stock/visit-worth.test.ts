import { expect, test } from 'vitest'
import { DEFAULT_SETTINGS } from '../../core/settings/office-settings.ts'
import {
  secondTripMinutes,
  type VisitWeighed,
  visitWorth,
  type WorthPoints,
  worthPointsOf,
} from '../../core/stock/visit-worth.ts'

const usual = worthPointsOf(DEFAULT_SETTINGS)
const worth = (visit: VisitWeighed, points: WorthPoints = usual) => visitWorth(visit, points)
const bare = { daysLate: 0, promised: false, secondTripMinutes: 0 }

test('PICK-8 a visit is worth more the later it is, with our word, and the further away it lies', () => {
  expect(worth(bare)).toBe(100)
  expect(worth({ ...bare, daysLate: 12 })).toBe(220)
  expect(worth({ ...bare, promised: true })).toBe(400)
  expect(worth({ ...bare, secondTripMinutes: 40 })).toBe(180)
  expect(worth({ daysLate: 12, promised: true, secondTripMinutes: 40 })).toBe(600)
})

test('PICK-8 what was forgotten for years counts no more than what was for three months, and every visit is worth something', () => {
  expect(worth({ ...bare, daysLate: 4000 })).toBe(worth({ ...bare, daysLate: usual.mostDaysLate }))
  expect(worth({ ...bare, daysLate: -3 })).toBe(100)
  const nothing = { aVisit: 0, aDayLate: 0, mostDaysLate: 0, ourWord: 0, aDrivenMinute: 0 }
  expect(worth(bare, nothing)).toBe(1)
})

test('PICK-8 a second trip costs there and back, or only the way from another visit that is booked soon', () => {
  expect(secondTripMinutes(25, [])).toBe(50)
  expect(secondTripMinutes(25, [40, 3])).toBe(6)
})

test('PICK-31 the office says what counts: a word that counts nothing, days late that count much', () => {
  const own = worthPointsOf({
    ...DEFAULT_SETTINGS,
    shortOurWordPoints: 0,
    shortDayLatePoints: 50,
    shortMostDaysLate: 3,
  })
  expect(worth({ ...bare, promised: true }, own)).toBe(100)
  expect(worth({ ...bare, daysLate: 9 }, own)).toBe(250)
  expect(
    worth({ ...bare, secondTripMinutes: 9 }, worthPointsOf({ ...DEFAULT_SETTINGS, shortDrivenMinutePoints: 0 })),
  ).toBe(100)
})
