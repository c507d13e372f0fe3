import { describe, expect, test } from 'vitest'
import { dueDatesOf } from '../../core/due/due-dates.ts'
import type { UnitReading } from '../../core/due/due-facts.ts'
import { meteredUse, waterUseInWords, waterUseOf } from '../../core/due/water-use.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { millilitres } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from '../builders/an-installation-facts.ts'

/** A meter that stood at so many litres on a day. */
function meterAt(takenOn: string, litres: number, unlikely = false): UnitReading {
  return { takenOn: calendarDate(takenOn), rejectionPercent: null, meter: millilitres(litres * 1000), unlikely }
}

describe('use by the meter', () => {
  test('DUE-23 the meter tells what was drawn between its last count and the one before', () => {
    // 600 L in 100 days: 6 L a day.
    expect(meteredUse([meterAt('2026-01-01', 1000), meterAt('2026-04-11', 1600)], [])).toEqual({
      perDay: 6000,
      fromOn: '2026-01-01',
      untilOn: '2026-04-11',
    })
  })

  test('DUE-23 counts closer together than fourteen days are passed over, and thirteen are too few', () => {
    const readings = [meterAt('2026-01-01', 1000), meterAt('2026-04-01', 1500), meterAt('2026-04-11', 1600)]
    expect(meteredUse(readings, [])).toMatchObject({ perDay: 6000, fromOn: '2026-01-01' })
    expect(meteredUse([meterAt('2026-04-01', 1), meterAt('2026-04-14', 100)], [])).toBeNull()
    expect(meteredUse([meterAt('2026-04-01', 1), meterAt('2026-04-15', 141)], [])).toMatchObject({ perDay: 10_000 })
  })

  test('DUE-23 only days on which somebody is there count', () => {
    // June 1 to September 11, 10 days of it outside June, July and August.
    const readings = [meterAt('2026-05-22', 1000), meterAt('2026-09-11', 1200)]
    expect(meteredUse(readings, [6, 7, 8])?.perDay).toBe(10_000) // 10 days of May and 10 of September
  })

  test('DUE-23 a meter that went back is a new one, and one that stands still says nothing', () => {
    const changed = [meterAt('2026-01-01', 5000), meterAt('2026-02-01', 0), meterAt('2026-03-03', 150)]
    expect(meteredUse(changed, [])).toMatchObject({ perDay: 5000, fromOn: '2026-02-01' })
    expect(meteredUse([meterAt('2026-01-01', 5000), meterAt('2026-02-01', 0)], [])).toBeNull()
    expect(meteredUse([meterAt('2026-01-01', 500), meterAt('2026-02-01', 500)], [])).toBeNull()
  })

  test('DUE-23 a count that was called unlikely does not count, and of two on a day the higher does', () => {
    const readings = [
      meterAt('2026-01-01', 900),
      meterAt('2026-01-01', 1000),
      meterAt('2026-04-11', 9999, true),
      meterAt('2026-04-11', 1600),
    ]
    expect(meteredUse(readings, [])?.perDay).toBe(6000)
  })
})

describe('which use', () => {
  const rated = someStage('post-carbon', {
    changedOn: calendarDate('2026-05-01'),
    ratedMillilitres: millilitres(1_500_000),
  })
  const readings = [meterAt('2026-01-01', 1000), meterAt('2026-04-11', 1600)]

  test('DUE-22 the meter beats the entered figure, which beats the people; the reason says which', () => {
    const [byMeter] = dueDatesOf(
      someInstallation([rated], { readings, drunkPerDay: millilitres(30_000) }),
      usualDefaults,
    )
    // 1,500 L at 6 L a day: 250 days.
    expect(byMeter).toMatchObject({ dueOn: '2027-01-06', rule: 'volume' })
    expect(byMeter?.reason).toBe('rated for 396.3 gal, sees 1.6 gal a day, by the meter')
    const [entered] = dueDatesOf(someInstallation([rated], { drunkPerDay: millilitres(30_000) }), usualDefaults)
    expect(entered?.reason).toBe('rated for 396.3 gal, sees 7.9 gal a day, as entered')
    const [people] = dueDatesOf(someInstallation([rated], { people: 4 }), usualDefaults)
    expect(people?.reason).toBe('rated for 396.3 gal, sees 3.2 gal a day, household of four')
    const [usual] = dueDatesOf(someInstallation([rated], { people: null }), usualDefaults)
    expect(usual?.reason).toBe('rated for 396.3 gal, sees 2.4 gal a day, household size not known, taken as three')
  })

  test('DUE-20 a rated volume passes only while somebody is there', () => {
    // 250 days in use from May 1 on, June to August cut out: 92 days later than January 6.
    const [due] = dueDatesOf(someInstallation([rated], { readings, monthsAway: [6, 7, 8] }), usualDefaults)
    expect(due).toMatchObject({ dueOn: '2027-04-08', rule: 'volume' })
    expect(due?.reason).toContain('away June to August')
  })

  test('DUE-22 the use of a unit is said in words', () => {
    const told = (facts: Parameters<typeof someInstallation>[1]) => {
      const installation = someInstallation([], facts)
      return waterUseInWords(waterUseOf(installation, usualDefaults), installation.people, usualDefaults)
    }
    expect(told({ readings })).toBe('1.6 gal a day by the meter')
    expect(told({ drunkPerDay: millilitres(30_000) })).toBe('7.9 gal a day as entered')
    expect(told({ people: 6 })).toBe('4.8 gal a day for a family of six')
    expect(told({ people: 1 })).toBe('0.8 gal a day for one person')
    expect(told({ people: null })).toBe('2.4 gal a day, household size not known, taken as three')
  })
})
