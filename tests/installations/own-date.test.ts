import { expect, test } from 'vitest'
import { NEVER_FITTED, standingOwnDate } from '../../core/installations/own-date.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'

const on = calendarDate
const today = on('2026-11-25')
const own = { ownDueOn: on('2027-02-01'), against: on('2026-05-01'), endsOn: null }

test('DUE-11 a date set by hand stands until the stage is changed', () => {
  expect(standingOwnDate(own, on('2026-05-01'), today)).toBe('2027-02-01')
  expect(standingOwnDate(own, on('2026-05-02'), today)).toBeNull()
  // Of a stage that was never dated: any change ends it.
  expect(standingOwnDate({ ...own, against: NEVER_FITTED }, null, today)).toBe('2027-02-01')
  expect(standingOwnDate({ ...own, against: NEVER_FITTED }, on('1999-01-01'), today)).toBeNull()
})

test('DUE-29 a date set by hand stands on the day of its end, and not on the day after', () => {
  expect(standingOwnDate({ ...own, endsOn: today }, on('2026-05-01'), today)).toBe('2027-02-01')
  expect(standingOwnDate({ ...own, endsOn: on('2026-11-24') }, on('2026-05-01'), today)).toBeNull()
})
