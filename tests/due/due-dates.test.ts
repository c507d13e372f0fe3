import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkDueDates } from '../../core/due/check-due-dates.ts'
import { dueDatesOf } from '../../core/due/due-dates.ts'
import type { DueDefaults, InstallationFacts, StageDue, StageFacts } from '../../core/due/due-facts.ts'
import { intervalRulesByKind } from '../../core/installations/interval-rules.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { gallonsToMillilitres, grainsToHardness, hardness, millilitres } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from '../builders/an-installation-facts.ts'
import { anyDefaults, anyInstallation } from '../builders/any-installation.ts'

const may1 = calendarDate('2026-05-01')

function dueOf(
  stage: StageFacts,
  facts: Partial<InstallationFacts> = {},
  defaults: DueDefaults = usualDefaults,
): StageDue {
  const [due] = dueDatesOf(someInstallation([stage], facts), defaults)
  if (!due) throw new Error('one stage in, one answer out')
  return due
}

describe('months by use', () => {
  // Common practice, no source: 12 months for one or two people, 6 months from five on, linear in between.
  test.each([
    [1, '2027-05-01', '12 months, one person'],
    [2, '2027-05-01', '12 months, household of two'],
    [3, '2027-03-01', '10 months, household of three'],
    [4, '2027-01-01', '8 months, household of four'],
    [5, '2026-11-01', '6 months, family of five'],
    [6, '2026-11-01', '6 months, family of six'],
    [13, '2026-11-01', '6 months, family of 13'],
  ])('DUE-1 a filter goes by the people in the house: %i', (people, dueOn, reason) => {
    expect(dueOf(someStage('sediment', { changedOn: may1 }), { people })).toMatchObject({
      dueOn,
      reason,
      rule: 'months',
    })
  })

  test('DUE-1 every kind that goes by the household is 12 months for two and 6 for six', () => {
    for (const kind of ['sediment', 'carbon', 'post-carbon', 'remineraliser'] as const) {
      expect(dueOf(someStage(kind, { changedOn: may1 }), { people: 2 }).dueOn).toBe('2027-05-01')
      expect(dueOf(someStage(kind, { changedOn: may1 }), { people: 6 }).dueOn).toBe('2026-11-01')
    }
  })

  test('DUE-2 months set for the stage beat those set for the unit, which beat the table', () => {
    const unit = { people: 2, ownMonths: 9 }
    expect(dueOf(someStage('carbon', { changedOn: may1 }), unit)).toMatchObject({
      dueOn: '2027-02-01',
      reason: '9 months, set for this unit',
    })
    expect(dueOf(someStage('carbon', { changedOn: may1, ownMonths: 3 }), unit)).toMatchObject({
      dueOn: '2026-08-01',
      reason: '3 months, set for this stage',
    })
  })

  test('DUE-2 months set for the unit leave the membrane and the lamp alone', () => {
    expect(dueOf(someStage('uv-lamp', { changedOn: may1 }), { ownMonths: 3 }).dueOn).toBe('2027-05-01')
    expect(dueOf(someStage('membrane', { changedOn: may1 }), { ownMonths: 3, hardness: hardness(200) }).dueOn).toBe(
      '2028-05-01',
    )
  })

  test('DUE-3 a household of unknown size is taken as the usual one, and the reason says so', () => {
    expect(dueOf(someStage('sediment', { changedOn: may1 }), { people: null })).toMatchObject({
      dueOn: '2027-03-01',
      reason: '10 months, household size not known, taken as three',
    })
  })

  test('DUE-4 a filter changed on the 31st is due at the end of a shorter month', () => {
    const due = dueOf(someStage('sediment', { changedOn: calendarDate('2024-08-31') }), { people: 6 })
    expect(due.dueOn).toBe('2025-02-28')
  })

  test('DUE-2 no time at all, set by hand, is due on the day it was changed', () => {
    expect(dueOf(someStage('sediment', { changedOn: may1, ownMonths: 0 })).dueOn).toBe('2026-05-01')
  })

  test('DUE-1 a kind without months in the table has no date, and says why', () => {
    const defaults = {
      ...usualDefaults,
      intervals: intervalRulesByKind([{ stageKind: 'other', basis: 'none', monthsMost: 0, monthsLeast: 0 }]),
    }
    expect(dueOf(someStage('other', { changedOn: may1 }), {}, defaults)).toMatchObject({
      dueOn: null,
      rule: 'not-dated',
      reason: 'no interval is set for this kind of stage',
    })
  })
})

describe('volume', () => {
  const rated = { changedOn: may1, ratedMillilitres: millilitres(1_500_000) }
  const membrane = someStage('membrane', { changedOn: may1 })

  test('DUE-5 a rated stage behind the membrane sees what is drunk', () => {
    // 1,500 L at 2 people x 3 L: 250 days.
    const [, post] = dueDatesOf(someInstallation([membrane, someStage('post-carbon', rated)]), usualDefaults)
    expect(post).toMatchObject({ dueOn: '2027-01-06', rule: 'volume' })
  })

  test('DUE-5 a rated stage ahead of the membrane sees the reject water too: four times as much at 25 % recovery', () => {
    // 1,500 L at 24 L a day: 62.5 days, rounded down.
    const [sediment] = dueDatesOf(someInstallation([someStage('sediment', rated), membrane]), usualDefaults)
    expect(sediment).toMatchObject({
      dueOn: '2026-07-02',
      rule: 'volume',
      reason: 'rated for 396.3 gal, sees 6.3 gal a day, household of two',
    })
  })

  test('DUE-5 recovery after the WaterSense draft: 2.3 parts rejected for one drunk is a recovery of 30.3 %', () => {
    // 1 / (1 + 2.3) = 30.3 %: EPA WaterSense draft for point-of-use reverse osmosis, second-hand from the trade press.
    const recoveryPercent = 100 / 3.3
    const [sediment] = dueDatesOf(
      someInstallation([someStage('sediment', rated), membrane], { recoveryPercent }),
      usualDefaults,
    )
    expect(sediment?.dueOn).toBe('2026-07-15') // 1,500 L at 19.8 L a day: 75.76 days
  })

  test('DUE-5 a unit without a membrane has no reject water', () => {
    expect(dueOf(someStage('carbon', rated))).toMatchObject({ dueOn: '2027-01-06', rule: 'volume' })
  })

  test('DUE-5 what a unit is known to use beats the people in the house', () => {
    expect(dueOf(someStage('carbon', rated), { drunkPerDay: millilitres(30_000), people: null })).toMatchObject({
      dueOn: '2026-06-20',
      reason: 'rated for 396.3 gal, sees 7.9 gal a day, as entered',
    })
  })

  test('DUE-5 a rating that would outlast a century, or a house where nobody drinks, leaves the months to speak', () => {
    expect(dueOf(someStage('carbon', { changedOn: may1, ratedMillilitres: millilitres(9_000_000_000) })).rule).toBe(
      'months',
    )
    expect(dueOf(someStage('carbon', rated), { drunkPerDay: millilitres(0) }).rule).toBe('months')
  })

  test('DUE-6 the earliest of the rules gives the date, and its reason', () => {
    const early = someStage('carbon', { changedOn: may1, ratedMillilitres: gallonsToMillilitres(100) })
    const late = someStage('carbon', { changedOn: may1, ratedMillilitres: gallonsToMillilitres(10_000) })
    expect(dueOf(early).rule).toBe('volume')
    expect(dueOf(late)).toMatchObject({ rule: 'months', dueOn: '2027-05-01' })
  })
})

describe('membrane by feed water', () => {
  // Months: common practice, no source (hard about 24, soft 36 to 60). Classes: USGS, "Do you have information about water hardness".
  test.each([
    [0, '2031-05-01', '60 months, soft water'],
    [30, '2030-05-01', '48 months, soft water'],
    [60, '2029-05-01', '36 months, soft water'],
    [60.5, '2029-05-01', '36 months, moderately hard water'],
    [90, '2028-11-01', '30 months, moderately hard water'],
    [120, '2028-05-01', '24 months, moderately hard water'],
    [121, '2028-05-01', '24 months, hard water'],
    [181, '2028-05-01', '24 months, very hard water'],
  ])('DUE-7 a membrane goes by the hardness of its feed: %d mg/L', (milligrams, dueOn, reason) => {
    expect(dueOf(someStage('membrane', { changedOn: may1 }), { hardness: hardness(milligrams) })).toMatchObject({
      dueOn,
      reason,
      rule: 'feed-water',
    })
  })

  test('DUE-7 nine grains a gallon is hard water: about 24 months', () => {
    expect(dueOf(someStage('membrane', { changedOn: may1 }), { hardness: grainsToHardness(9) })).toMatchObject({
      reason: '24 months, hard water',
    })
  })

  test('DUE-3 feed water of unknown hardness is taken as the usual one, and the reason says so', () => {
    expect(dueOf(someStage('membrane', { changedOn: may1 })).reason).toBe(
      '24 months, hardness not known, taken as hard',
    )
  })
})

describe('sanitising', () => {
  const hard = { hardness: hardness(200) }

  test('DUE-8 a tank is sanitised once a year', () => {
    expect(dueOf(someStage('tank', { changedOn: may1 }))).toMatchObject({
      dueOn: '2027-05-01',
      rule: 'sanitise',
      reason: 'sanitise, once a year',
    })
  })

  test('DUE-8 a tank with its own months keeps to them', () => {
    expect(dueOf(someStage('tank', { changedOn: may1, ownMonths: 6 }))).toMatchObject({
      dueOn: '2026-11-01',
      reason: 'sanitise, 6 months, set for this stage',
    })
  })

  test('DUE-9 a tank is sanitised with the membrane at the latest', () => {
    const membrane = someStage('membrane', { changedOn: calendarDate('2024-09-10') })
    const [, tank] = dueDatesOf(
      someInstallation([membrane, someStage('tank', { changedOn: may1 })], hard),
      usualDefaults,
    )
    expect(tank).toMatchObject({ dueOn: '2026-09-10', rule: 'with-membrane', reason: 'sanitise, with the membrane' })
  })

  test('DUE-9 a membrane changed without sanitising leaves the tank owed since that day', () => {
    const membrane = someStage('membrane', { changedOn: calendarDate('2026-09-10') })
    const [, tank] = dueDatesOf(
      someInstallation([membrane, someStage('tank', { changedOn: may1 })], hard),
      usualDefaults,
    )
    expect(tank).toMatchObject({ dueOn: '2026-09-10', reason: 'sanitise, left out when the membrane was changed' })
  })

  test('DUE-9 membrane and sanitising on the same day: the year runs from there', () => {
    const [, tank] = dueDatesOf(
      someInstallation([someStage('membrane', { changedOn: may1 }), someStage('tank', { changedOn: may1 })], hard),
      usualDefaults,
    )
    expect(tank?.dueOn).toBe('2027-05-01')
  })
})

describe('what is not written down', () => {
  test('DUE-10 a stage that was never dated counts from the fitting of the unit, and says so', () => {
    expect(dueOf(someStage('sediment'), { fittedOn: may1 })).toMatchObject({
      dueOn: '2027-05-01',
      reason: '12 months, household of two, counted from the fitting',
    })
  })

  test('DUE-10 with no date at all there is no due date, and the reason says what is missing', () => {
    expect(dueOf(someStage('sediment'))).toMatchObject({
      dueOn: null,
      rule: 'not-dated',
      reason: 'not known when it was last changed',
    })
    expect(dueOf(someStage('tank'))).toMatchObject({
      dueOn: null,
      rule: 'not-dated',
      reason: 'not known when it was last sanitised',
    })
  })

  test('DUE-11 a date set by hand takes the place of every rule, with its note', () => {
    const ownDueOn = calendarDate('2026-12-24')
    expect(dueOf(someStage('carbon', { changedOn: may1, ownDueOn, ownDueNote: 'back from abroad' }))).toMatchObject({
      dueOn: '2026-12-24',
      rule: 'own-date',
      reason: 'set by hand: back from abroad',
    })
    expect(dueOf(someStage('tank', { ownDueOn })).reason).toBe('date set by hand')
  })

  test('DUE-1 a fitting that lies ahead starts the clock on that day', () => {
    expect(dueOf(someStage('carbon', { changedOn: calendarDate('2030-01-31') })).dueOn).toBe('2031-01-31')
  })

  test('DUE-1 an installation without stages has nothing due', () => {
    expect(dueDatesOf(someInstallation([]), usualDefaults)).toEqual([])
  })
})

test('DUE-6 whatever the installation, the judge who walks days, pours water and follows a membrane day by day finds the same dates', () => {
  fc.assert(
    fc.property(anyInstallation, anyDefaults, (installation, defaults) => {
      expect(checkDueDates(installation, defaults, dueDatesOf(installation, defaults))).toEqual([])
    }),
    { numRuns: 1500 },
  )
})

test('DUE-6 the judge is not blind: a date a day out, a lost stage and an empty reason are found', () => {
  const installation = someInstallation([someStage('carbon', { changedOn: may1 }), someStage('tank')])
  const [carbon, tank] = dueDatesOf(installation, usualDefaults)
  if (!carbon || !tank) throw new Error('two stages in, two answers out')
  expect(checkDueDates(installation, usualDefaults, [carbon])).not.toEqual([])
  expect(
    checkDueDates(installation, usualDefaults, [{ ...carbon, dueOn: calendarDate('2027-05-02') }, tank]),
  ).toHaveLength(1)
  expect(checkDueDates(installation, usualDefaults, [{ ...carbon, reason: ' ' }, tank])).toHaveLength(1)
  expect(checkDueDates(installation, usualDefaults, [carbon, { ...tank, rule: 'months' }])).toHaveLength(1)
})

test('DUE-24 the judge is not blind to readings, seasons, meters and recalls', () => {
  const readings = [
    { takenOn: calendarDate('2026-06-01'), rejectionPercent: 72, meter: millilitres(1_000_000), unlikely: false },
    { takenOn: calendarDate('2026-09-09'), rejectionPercent: null, meter: millilitres(1_200_000), unlikely: false },
  ]
  const stages = [
    someStage('carbon', { changedOn: may1 }),
    someStage('membrane', { changedOn: may1 }),
    someStage('post-carbon', { changedOn: may1, ratedMillilitres: millilitres(600_000) }),
    someStage('remineraliser', { changedOn: may1, recall: { on: calendarDate('2026-07-07'), lot: 'K-77' } }),
  ]
  const told = someInstallation(stages, { readings, monthsAway: [1, 2] })
  const dues = dueDatesOf(told, usualDefaults)
  expect(checkDueDates(told, usualDefaults, dues)).toEqual([])
  // What each stage would be due without the reading, the months away, the meter and the recall.
  const plain = dueDatesOf(someInstallation(stages.map((stage) => ({ ...stage, recall: null }))), usualDefaults)
  expect(checkDueDates(told, usualDefaults, plain)).toHaveLength(4)
})
