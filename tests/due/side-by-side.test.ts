import fc from 'fast-check'
import { expect, test } from 'vitest'
import { dueDatesOf } from '../../core/due/due-dates.ts'
import { DUE_RULES, type InstallationFacts, type StageFacts } from '../../core/due/due-facts.ts'
import { rulesSideBySide } from '../../core/due/side-by-side.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { hardness, millilitres } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from '../builders/an-installation-facts.ts'
import { anyDefaults, anyInstallation } from '../builders/any-installation.ts'

const may1 = calendarDate('2026-05-01')

/** "months 2027-05-01 decides" for each rule of the first stage. */
function told(stage: StageFacts, facts: Partial<InstallationFacts> = {}, behind: readonly StageFacts[] = []): string[] {
  const [first] = rulesSideBySide(someInstallation([stage, ...behind], facts), usualDefaults)
  return first?.answers.map(({ rule, dueOn, standing }) => `${rule} ${dueOn ?? 'none'} ${standing}`) ?? []
}

test('DUE-28 a filter shows its months and its volume, the earlier of which decides', () => {
  const carbon = someStage('carbon', { changedOn: may1, ratedMillilitres: millilitres(1_500_000) })
  expect(told(carbon)).toEqual(['months 2027-05-01 later', 'volume 2027-01-06 decides'])
  expect(told(someStage('carbon', { changedOn: may1 }))).toEqual(['months 2027-05-01 decides', 'volume none silent'])
})

test('DUE-28 a membrane shows its rule of thumb beside the readings that take its place', () => {
  const membrane = someStage('membrane', { changedOn: calendarDate('2022-05-01') })
  const read = (takenOn: string, rejectionPercent: number) => ({
    takenOn: calendarDate(takenOn),
    rejectionPercent,
    meter: null,
    unlikely: false,
  })
  const hard = { hardness: hardness(200) }
  expect(told(membrane, hard)).toEqual([
    'volume none silent',
    'feed-water 2024-05-01 decides',
    'measurement none silent',
  ])
  const readings = [read('2024-05-01', 92), read('2025-05-01', 92), read('2026-05-01', 92)]
  expect(told(membrane, { ...hard, readings })).toEqual([
    'volume none silent',
    'feed-water 2024-05-01 set-aside-by-readings',
    'measurement 2027-11-01 decides',
  ])
})

test('DUE-28 a tank shows its year beside the membrane it goes with', () => {
  const membrane = someStage('membrane', { changedOn: calendarDate('2024-09-10') })
  const tank = someStage('tank', { changedOn: may1 })
  expect(told(tank, { hardness: hardness(200) }, [membrane])).toEqual([
    'sanitise 2027-05-01 later',
    'with-membrane 2026-09-10 decides',
  ])
})

test('DUE-28 a date set by hand sets all rules aside', () => {
  const own = someStage('carbon', {
    changedOn: may1,
    ownDueOn: calendarDate('2026-12-24'),
    ownDueNote: 'back from abroad',
  })
  expect(told(own)).toEqual([
    'own-date 2026-12-24 decides',
    'months 2027-05-01 set-aside-by-hand',
    'volume none silent',
  ])
})

test('DUE-27 a recall comes before a date set by hand', () => {
  const recall = { on: calendarDate('2026-11-02'), lot: 'K-77' }
  const own = someStage('carbon', { changedOn: may1, ownDueOn: calendarDate('2027-12-24'), recall })
  expect(told(own)).toEqual([
    'own-date 2027-12-24 later',
    'months 2027-05-01 set-aside-by-hand',
    'volume none silent',
    'recall 2026-11-02 decides',
  ])
})

test('DUE-28 a rule that has nothing to say says what it lacks', () => {
  const [membrane] = rulesSideBySide(someInstallation([someStage('membrane')]), usualDefaults)
  expect(membrane?.answers.map(({ reason, standingWords }) => `${reason}: ${standingWords}`)).toEqual([
    'the part has no rated volume: says nothing',
    'not known when it was last changed: says nothing',
    'no reading of this membrane that counts: says nothing',
  ])
})

test('DUE-28 whatever the installation, exactly one rule decides, and it is the one that gives the date', () => {
  const seen = new Set<string>()
  fc.assert(
    fc.property(anyInstallation, anyDefaults, (installation, defaults) => {
      const dues = dueDatesOf(installation, defaults)
      const sheets = rulesSideBySide(installation, defaults)
      expect(sheets.map(({ due }) => due)).toEqual(dues)
      for (const { due, answers } of sheets) {
        const deciding = answers.filter(({ standing }) => standing === 'decides')
        expect(deciding.map(({ rule, dueOn, reason }) => ({ rule, dueOn, reason }))).toEqual(
          due.dueOn === null ? [] : [{ rule: due.rule, dueOn: due.dueOn, reason: due.reason }],
        )
        for (const { standing, dueOn } of answers) {
          expect(dueOn === null).toBe(standing === 'silent')
          if (standing === 'later' && dueOn !== null && due.dueOn !== null) expect(dueOn >= due.dueOn).toBe(true)
        }
        seen.add(due.rule)
      }
    }),
    { numRuns: 600, seed: 20_261_125 },
  )
  // What the property looked at reaches every rule there is.
  expect([...seen].sort()).toEqual([...DUE_RULES].sort())
})
