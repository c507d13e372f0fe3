import fc from 'fast-check'
import { expect, test } from 'vitest'
import { dueDatesOf } from '../../core/due/due-dates.ts'
import type { InstallationFacts } from '../../core/due/due-facts.ts'
import { nextDueRule, nextDueRules } from '../../core/due/next-due-date.ts'
import { intervalRulesByKind } from '../../core/installations/interval-rules.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { hardness, millilitres } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from '../builders/an-installation-facts.ts'
import { anyDate, anyDefaults, anyInstallation } from '../builders/any-installation.ts'

const may1 = calendarDate('2026-05-01')

function nextOf(installation: InstallationFacts) {
  return nextDueRules(installation, usualDefaults).map((rule) => rule?.after(may1) ?? null)
}

test('DUE-30 months and volume, whichever ends first; the membrane by rule of thumb, the tank by its own interval', () => {
  const rated = { ratedMillilitres: millilitres(1_500_000) }
  const installation = someInstallation(
    [
      someStage('sediment'),
      someStage('carbon', rated),
      someStage('membrane'),
      someStage('tank'),
      someStage('post-carbon', rated),
    ],
    { hardness: hardness(200) },
  )
  // 12 months; 1,500 L at 24 L a day; 24 months; a year; 1,500 L at 6 L a day.
  expect(nextOf(installation)).toEqual(['2027-05-01', '2026-07-02', '2028-05-01', '2027-05-01', '2027-01-06'])
})

test('DUE-30 a stage that nothing wears out never falls due again by itself', () => {
  const intervals = intervalRulesByKind([{ stageKind: 'other', basis: 'none', monthsMost: 0, monthsLeast: 0 }])
  const stage = someStage('other')
  expect(nextDueRule(stage, someInstallation([stage]), { ...usualDefaults, intervals })).toBeNull()
})

test('DUE-30 an interval of nothing is a day, so that a plan comes to an end', () => {
  const none = someStage('carbon', { ownMonths: 0 })
  const drop = someStage('carbon', { ratedMillilitres: millilitres(1) })
  expect(nextOf(someInstallation([none, drop]))).toEqual(['2026-05-02', '2026-05-02'])
})

test('DUE-30 own date, recall and readings end with the change', () => {
  const plain = someStage('membrane', { changedOn: may1 })
  const held = someStage('membrane', {
    changedOn: may1,
    ownDueOn: calendarDate('2026-06-01'),
    recall: { on: may1, lot: 'K-77' },
  })
  const readings = [{ takenOn: calendarDate('2026-05-02'), rejectionPercent: 60, meter: null, unlikely: false }]
  expect(nextOf(someInstallation([held], { readings }))).toEqual(nextOf(someInstallation([plain])))
})

test('DUE-21 a later change never falls due earlier, and every change falls due after its day', () => {
  fc.assert(
    fc.property(
      anyInstallation,
      anyDefaults,
      anyDate,
      fc.integer({ min: 0, max: 500 }),
      (facts, defaults, on, later) => {
        for (const rule of nextDueRules(facts, defaults)) {
          if (!rule) continue
          expect(rule.after(on) > on).toBe(true)
          expect(rule.after(addDays(on, later)) >= rule.after(on)).toBe(true)
        }
      },
    ),
  )
})

test('DUE-30 what falls due again is what the due date says once the stage was changed', () => {
  fc.assert(
    fc.property(anyInstallation, anyDefaults, anyDate, (facts, defaults, on) => {
      // Changed that day, all at once, with nothing by hand, no recall, and only the readings that tell the use.
      const stages = facts.stages.map((stage) => ({ ...stage, changedOn: on, ownDueOn: null, recall: null }))
      const readings = facts.readings.map((reading) => ({ ...reading, rejectionPercent: null }))
      const changed = { ...facts, stages, readings }
      const rules = nextDueRules(changed, defaults)
      dueDatesOf(changed, defaults).forEach((due, index) => {
        if (due.rule === 'with-membrane') return
        const next = rules[index]?.after(on) ?? null
        expect(next).toBe(due.dueOn === on ? addDays(on, 1) : due.dueOn)
      })
    }),
  )
})

test('DUE-30 two rules with one key give the same dates', () => {
  const byKey = new Map<string, string[]>()
  const days = Array.from({ length: 60 }, (_, at) => addDays(may1, at * 31))
  fc.assert(
    fc.property(anyInstallation, anyDefaults, (facts, defaults) => {
      for (const rule of nextDueRules(facts, defaults)) {
        if (!rule) continue
        const dates = days.map(rule.after)
        expect(byKey.get(rule.key) ?? dates).toEqual(dates)
        byKey.set(rule.key, dates)
      }
    }),
  )
  expect(byKey.size).toBeGreaterThan(50)
})
