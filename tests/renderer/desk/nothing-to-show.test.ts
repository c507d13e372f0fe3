import { expect, test } from 'vitest'
import { lookAhead } from '../../../core/visits/look-ahead.ts'
import { nothingToShow } from '../../../renderer/desk/nothing-to-show.ts'
import { aLookAheadQuestion, dayOf, visitsIn } from '../../builders/a-look-ahead.ts'

const told = (changes: Parameters<typeof aLookAheadQuestion>[0]) =>
  nothingToShow(lookAhead(aLookAheadQuestion(changes)))

test('DESK-4 an empty office, one that is not planned yet, and one with nothing in a year say why and what to do', () => {
  expect(told({})?.why).toBe('Nothing is known to fall due in this time.')
  expect(told({ households: 120, notPlanned: 120 })?.why).toBe(
    '120 households have due dates, and no visit is planned yet.',
  )
  expect(told({ households: 1, notPlanned: 1 })?.why).toBe('1 household has due dates, and no visit is planned yet.')
  expect(told({ households: 120 })?.why).toBe('No visit of the 120 households falls into this time.')
  for (const nothing of [told({}), told({ households: 9, notPlanned: 9 }), told({ households: 9 })])
    expect(nothing?.todo).not.toBe('')
})

test('DESK-4 whatever is planned, booked or late is drawn', () => {
  expect(told({ planned: [visitsIn(3, 1)] })).toBeNull()
  expect(told({ planned: [{ ...visitsIn(0, 1), isLate: true }] })).toBeNull()
  expect(told({ households: 9, notPlanned: 9, booked: [{ on: dayOf(1), visits: 1, minutes: 60 }] })).toBeNull()
})
