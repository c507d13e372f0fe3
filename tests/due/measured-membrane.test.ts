import { describe, expect, test } from 'vitest'
import { dueDatesOf } from '../../core/due/due-dates.ts'
import type { DueDefaults, StageFacts, UnitReading } from '../../core/due/due-facts.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { hardness } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from '../builders/an-installation-facts.ts'

// 90, 75 and 70 % held back, and how long a reading speaks: common practice, no source.

const fitted = calendarDate('2022-05-01')
const membrane = someStage('membrane', { changedOn: fitted })

function read(takenOn: string, rejectionPercent: number, unlikely = false): UnitReading {
  return { takenOn: calendarDate(takenOn), rejectionPercent, meter: null, unlikely }
}

function dueOf(readings: readonly UnitReading[], stage: StageFacts = membrane, defaults: DueDefaults = usualDefaults) {
  const [due] = dueDatesOf(someInstallation([stage], { readings, hardness: hardness(200) }), defaults)
  if (!due) throw new Error('one stage in, one answer out')
  return due
}

/** Steady at 92: healthy, whatever the calendar says. */
const healthy = [read('2023-05-01', 92), read('2024-05-01', 92.2), read('2025-05-01', 91.9), read('2026-05-01', 92)]

describe('a membrane by its measurement', () => {
  test('DUE-7 without readings the rule of thumb sets the date', () => {
    expect(dueOf([])).toMatchObject({ dueOn: '2024-05-01', rule: 'feed-water' })
  })

  test('DUE-24 one that still holds back 92 of 100 is not due because the calendar says so', () => {
    expect(dueOf(healthy)).toEqual({
      stageId: 1,
      dueOn: '2027-11-01',
      rule: 'measurement',
      reason: 'still holds back 92 of 100; measure again by then',
    })
  })

  test('DUE-25 for how long a reading speaks is the office’s to say', () => {
    const defaults = { ...usualDefaults, settings: { ...usualDefaults.settings, readingSpeaksMonths: 6 } }
    expect(dueOf(healthy, membrane, defaults).dueOn).toBe('2026-11-01')
  })

  test('DUE-25 a young membrane that holds keeps the later date of its rule of thumb', () => {
    const young = someStage('membrane', { changedOn: calendarDate('2026-05-01') })
    const readings = [read('2026-05-01', 95), read('2026-06-15', 95), read('2026-08-01', 95)]
    expect(dueOf(readings, young)).toMatchObject({
      dueOn: '2028-05-01',
      rule: 'measurement',
      reason: 'still holds back 95 of 100; measure again by then, and by its age: 24 months, very hard water',
    })
  })

  test('DUE-24 one at 72 is due since the day it was measured, long before the calendar', () => {
    const young = someStage('membrane', { changedOn: calendarDate('2026-01-01') })
    expect(dueOf([read('2026-06-01', 72)], young)).toMatchObject({
      dueOn: '2026-06-01',
      rule: 'measurement',
      reason: 'holds back 72 of 100, time to replace it at 75; measured so once, so measure again',
    })
    expect(dueOf([read('2026-06-01', 72), read('2026-07-01', 69)], young)).toMatchObject({
      dueOn: '2026-06-01',
      reason: 'holds back 69 of 100, overdue at 70',
    })
  })

  test('DUE-24 one that falls steadily is due on the day its trend comes to 75', () => {
    // 95, 90, 85, 80: five points in every 365 days, so 75 that long after the last reading.
    const readings = [read('2022-05-01', 95), read('2023-05-01', 90), read('2024-04-30', 85), read('2025-04-30', 80)]
    expect(dueOf(readings)).toMatchObject({ dueOn: '2026-04-30', rule: 'measurement' })
    expect(dueOf(readings).reason).toBe('holds back 80 of 100, reaches 75 around Apr 30, 2026')
  })

  test('DUE-25 a trend that comes to 75 in many years puts the date off no further than a reading speaks', () => {
    // A point a year: 75 some seventeen years away, where nobody can look.
    const slow = [read('2023-05-01', 95), read('2024-05-01', 94), read('2025-05-01', 93), read('2026-05-01', 92)]
    expect(dueOf(slow)).toMatchObject({ dueOn: '2027-11-01', rule: 'measurement' })
  })

  test('DUE-26 two readings are too few for a trend', () => {
    expect(dueOf([read('2025-05-01', 92), read('2026-05-01', 92)])).toMatchObject({
      dueOn: '2024-05-01',
      rule: 'feed-water',
    })
  })

  test('DUE-26 readings that do not agree leave the rule of thumb', () => {
    const scattered = [read('2025-01-01', 95), read('2025-03-01', 80), read('2025-05-01', 94), read('2025-07-01', 79)]
    expect(dueOf(scattered).rule).toBe('feed-water')
  })

  test('DUE-26 an unlikely reading does not count', () => {
    expect(dueOf([...healthy, read('2026-06-01', 40, true)])).toMatchObject({ dueOn: '2027-11-01' })
  })

  test('DUE-26 of two readings on one day their mean counts', () => {
    // 76 and 73 on one day: 74.5 in the mean, under the mark.
    const due = dueOf([...healthy, read('2026-06-01', 76), read('2026-06-01', 73)])
    expect(due).toMatchObject({ dueOn: '2026-06-01', rule: 'measurement' })
    expect(due.reason).toContain('holds back 74 of 100')
    expect(dueOf([...healthy, read('2026-06-01', 79), read('2026-06-01', 73)]).reason).not.toContain('time to replace')
  })

  test('DUE-26 readings of an earlier membrane say nothing of the one that is fitted now', () => {
    const newOne = someStage('membrane', { changedOn: calendarDate('2026-05-01') })
    const before = [read('2024-01-01', 70), read('2025-01-01', 68), read('2026-04-30', 66)]
    expect(dueOf(before, newOne)).toMatchObject({ dueOn: '2028-05-01', rule: 'feed-water' })
    // On the day of the change it was measured after it.
    expect(dueOf([...before, read('2026-05-01', 71)], newOne)).toMatchObject({
      dueOn: '2026-05-01',
      rule: 'measurement',
    })
  })

  test('DUE-24 a membrane that nobody dated is due by its readings all the same', () => {
    expect(dueOf([read('2026-06-01', 72)], someStage('membrane'))).toMatchObject({ dueOn: '2026-06-01' })
    expect(dueOf(healthy, someStage('membrane'))).toMatchObject({ dueOn: '2027-11-01', rule: 'measurement' })
  })

  test('DUE-24 months set by hand for a membrane are a rule of thumb too', () => {
    const own = someStage('membrane', { changedOn: fitted, ownMonths: 36 })
    expect(dueOf([], own)).toMatchObject({ dueOn: '2025-05-01', rule: 'months' })
    expect(dueOf(healthy, own)).toMatchObject({ dueOn: '2027-11-01', rule: 'measurement' })
  })

  test('DUE-26 of two membranes in a row the readings tell since the later change, and of both', () => {
    const later = someStage('membrane', { changedOn: calendarDate('2026-03-01') })
    const readings = [read('2024-01-01', 60), read('2025-01-01', 58), read('2026-06-01', 72)]
    const dues = dueDatesOf(someInstallation([membrane, later], { readings, hardness: hardness(200) }), usualDefaults)
    expect(dues.map(({ dueOn, rule }) => `${dueOn} ${rule}`)).toEqual([
      '2026-06-01 measurement',
      '2026-06-01 measurement',
    ])
  })

  test('DUE-9 the tank goes with the membrane that is measured to be at its end', () => {
    const tank = someStage('tank', { changedOn: calendarDate('2026-03-01') })
    const [, due] = dueDatesOf(
      someInstallation([membrane, tank], { readings: [read('2026-06-01', 72)], hardness: hardness(200) }),
      usualDefaults,
    )
    expect(due).toMatchObject({ dueOn: '2026-06-01', rule: 'with-membrane' })
  })
})
