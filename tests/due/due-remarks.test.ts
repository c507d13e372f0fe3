import { describe, expect, test } from 'vitest'
import { dueDatesOf } from '../../core/due/due-dates.ts'
import type { InstallationFacts, StageFacts } from '../../core/due/due-facts.ts'
import { remarksOnReadings, remarksOnStage, remarksOnUnit } from '../../core/due/due-remarks.ts'
import { intervalRulesByKind } from '../../core/installations/interval-rules.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { millilitres } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from '../builders/an-installation-facts.ts'

const today = calendarDate('2026-11-25')

function told(stage: StageFacts, facts: Partial<InstallationFacts> = {}, defaults = usualDefaults) {
  const installation = someInstallation([stage], facts)
  const [due] = dueDatesOf(installation, defaults)
  return { due, remarks: remarksOnStage(stage, installation, defaults, today) }
}

describe('what is odd in the books', () => {
  test('DUE-32 a unit without stages has nothing due, and asks for its stages', () => {
    const unit = someInstallation([])
    expect(dueDatesOf(unit, usualDefaults)).toEqual([])
    expect(remarksOnUnit(unit, usualDefaults, today)).toEqual([
      'This unit has no stages, so nothing of it falls due. Add them from feed to tap.',
    ])
  })

  test('DUE-32 a stage that was never dated has no date, and asks for one', () => {
    const { due, remarks } = told(someStage('carbon'))
    expect(due).toMatchObject({ dueOn: null, reason: 'not known when it was last changed' })
    expect(remarks).toEqual([
      'Nobody wrote down when it was last changed. Write that date on the unit, or the day the unit was fitted.',
    ])
  })

  test('DUE-32 a part without an interval has no date, and says where to give it one', () => {
    const intervals = intervalRulesByKind([{ stageKind: 'other', basis: 'none', monthsMost: 0, monthsLeast: 0 }])
    const stage = someStage('other', { changedOn: calendarDate('2026-05-01') })
    const { due, remarks } = told(stage, {}, { ...usualDefaults, intervals })
    expect(due).toMatchObject({ dueOn: null, reason: 'no interval is set for this kind of stage' })
    expect(remarks).toEqual([
      'Nothing says how long it lasts. Give it months of its own, or give this kind of stage an interval in Settings.',
    ])
  })

  test('DUE-33 a fitting that lies ahead starts the clock there, and is pointed out', () => {
    const { due, remarks } = told(someStage('carbon', { changedOn: calendarDate('2027-03-12') }))
    expect(due?.dueOn).toBe('2028-03-12')
    expect(remarks).toEqual([
      'By the books it was changed on March 12, 2027, a day that has not come. Its clock runs from there; put the date right if it is wrong.',
    ])
    const unit = someInstallation([someStage('carbon')], { fittedOn: calendarDate('2027-03-12') })
    expect(remarksOnUnit(unit, usualDefaults, today)[0]).toContain('is fitted on March 12, 2027')
  })

  test('DUE-32 a date at the end of the calendar stops nothing: the stage is not dated and says so', () => {
    const { due, remarks } = told(someStage('membrane', { changedOn: calendarDate('9999-12-01') }))
    expect(due).toMatchObject({ dueOn: null, rule: 'not-dated', reason: 'it cannot have been changed on 9999-12-01' })
    expect(remarks).toEqual(['9999-12-01 cannot be the day it was last changed. Put the date right.'])
  })

  test('DUE-32 an interval of nothing is due on the day of the change, and asks for a month at least', () => {
    const { due, remarks } = told(someStage('carbon', { changedOn: calendarDate('2026-05-01'), ownMonths: 0 }))
    expect(due).toMatchObject({ dueOn: '2026-05-01', reason: 'no time at all, set for this stage' })
    expect(remarks[0]).toContain('Give it a month at least.')
    const intervals = intervalRulesByKind([{ stageKind: 'carbon', basis: 'household', monthsMost: 0, monthsLeast: 0 }])
    const dated = someStage('carbon', { changedOn: calendarDate('2026-05-01') })
    expect(told(dated, {}, { ...usualDefaults, intervals }).remarks[0]).toContain('no time at all')
  })

  test('DUE-32 a household of nobody goes by the longest interval, and asks who drinks there', () => {
    const stage = someStage('carbon', {
      changedOn: calendarDate('2026-05-01'),
      ratedMillilitres: millilitres(1_500_000),
    })
    const unit = someInstallation([stage], { people: 0 })
    expect(dueDatesOf(unit, usualDefaults)).toMatchObject([{ dueOn: '2027-05-01', reason: '12 months, nobody there' }])
    expect(remarksOnUnit(unit, usualDefaults, today)).toEqual([
      'Nobody is counted in this household. Write how many drink from the unit, or leave it blank.',
    ])
  })

  test('DUE-32 a stage changed before its unit was fitted is pointed out', () => {
    const stage = someStage('carbon', { changedOn: calendarDate('2020-05-01') })
    expect(told(stage, { fittedOn: calendarDate('2021-05-03') }).remarks).toEqual([
      'By the books it was changed before the unit was fitted, on May 3, 2021. One of the two dates is wrong.',
    ])
  })

  test('DUE-27 a recalled lot is pointed out', () => {
    const recall = { on: calendarDate('2026-11-02'), lot: 'K-77' }
    const { due, remarks } = told(someStage('carbon', { changedOn: calendarDate('2026-05-01'), recall }))
    expect(due).toMatchObject({ dueOn: '2026-11-02', rule: 'recall', reason: 'lot K-77 was recalled' })
    expect(remarks).toEqual(['Lot K-77 is fitted here and was recalled. Change it soon.'])
  })

  test('DUE-27 a lot that was fitted although it was recalled is due on the day it was fitted', () => {
    const recall = { on: calendarDate('2026-01-02'), lot: 'K-77' }
    expect(told(someStage('carbon', { changedOn: calendarDate('2026-05-01'), recall })).due?.dueOn).toBe('2026-05-01')
  })
})

describe('what is odd in the readings', () => {
  const read = (takenOn: string, rejectionPercent: number | null, meter: number | null = null) => ({
    takenOn: calendarDate(takenOn),
    rejectionPercent,
    meter: meter === null ? null : millilitres(meter),
    unlikely: false,
  })

  test('DUE-32 two readings on one day are said to count by their mean, and one may be struck out', () => {
    expect(remarksOnReadings([read('2026-05-01', 91), read('2026-05-01', 89)], today, 'en-US')).toEqual([
      '2 readings on May 1, 2026: their mean counts. Strike out the one that is wrong.',
    ])
  })

  test('DUE-32 a reading dated ahead and a meter that went back are pointed out', () => {
    const readings = [read('2026-05-01', null, 5000), read('2026-06-01', null, 0), read('2027-05-01', 91)]
    expect(remarksOnReadings(readings, today, 'en-US')).toEqual([
      'A reading is dated May 1, 2027, a day that has not come. Strike it out.',
      'On June 1, 2026 the meter stood lower than before: it is taken as a new one.',
    ])
    expect(remarksOnReadings([read('2026-05-01', 91)], today, 'en-US')).toEqual([])
  })
})
