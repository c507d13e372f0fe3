import fc from 'fast-check'
import type { DueDefaults, InstallationFacts, StageFacts, UnitReading } from '../../core/due/due-facts.ts'
import { DEFAULT_INTERVAL_RULES, intervalRulesByKind } from '../../core/installations/interval-rules.ts'
import { STAGE_KINDS } from '../../core/installations/stage-kinds.ts'
import { calendarDate, dateOfDayNumber, dayNumberOf } from '../../core/units/calendar-date.ts'
import { hardness, millilitres } from '../../core/units/measures.ts'
import { someInstallation, someStage, usualDefaults } from './an-installation-facts.ts'

/** Any date of two decades. */
export const anyDate = fc
  .integer({ min: dayNumberOf(calendarDate('2015-01-01')), max: dayNumberOf(calendarDate('2035-12-31')) })
  .map((day) => dateOfDayNumber(day))

const orNothing = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> => fc.option(value, { nil: null, freq: 3 })
const rarely = <T>(value: fc.Arbitrary<T>): fc.Arbitrary<T | null> =>
  fc.oneof({ weight: 4, arbitrary: fc.constant(null) }, { weight: 1, arbitrary: value })

const someMonths = fc.integer({ min: 0, max: 60 })

/** Months away: none for most, never all twelve. */
export const anyMonthsAway = fc.oneof(
  fc.constant<number[]>([]),
  fc
    .uniqueArray(fc.integer({ min: 1, max: 12 }), { maxLength: 11 })
    .map((months) => months.sort((one, other) => one - other)),
)

export const anyStage: fc.Arbitrary<StageFacts> = fc
  .record({
    kind: fc.oneof(fc.constantFrom(...STAGE_KINDS), fc.constant('membrane' as const)),
    changedOn: orNothing(anyDate),
    ownMonths: rarely(someMonths),
    ratedMillilitres: orNothing(fc.integer({ min: 0, max: 20_000_000 }).map(millilitres)),
    ownDueOn: rarely(anyDate),
    recall: rarely(fc.record({ on: anyDate, lot: fc.constant('K-77') })),
  })
  .map((facts) => someStage(facts.kind, facts))

const anyReading: fc.Arbitrary<UnitReading> = fc.record({
  takenOn: anyDate,
  rejectionPercent: orNothing(fc.integer({ min: 500, max: 990 }).map((tenths) => tenths / 10)),
  meter: rarely(fc.integer({ min: 0, max: 60_000_000 }).map(millilitres)),
  unlikely: fc.boolean(),
})

/** A membrane that wears out slowly, read now and then, with a little scatter: so that trends come out of all kinds. */
const wornMembrane: fc.Arbitrary<UnitReading[]> = fc
  .record({
    firstOn: anyDate,
    percent: fc.integer({ min: 780, max: 980 }),
    perYear: fc.integer({ min: -90, max: 20 }),
    gaps: fc.array(fc.integer({ min: 0, max: 400 }), { minLength: 2, maxLength: 7 }),
    scatter: fc.array(fc.integer({ min: -8, max: 8 }), { minLength: 8, maxLength: 8 }),
  })
  .map(({ firstOn, percent, perYear, gaps, scatter }) => {
    let day = dayNumberOf(firstOn)
    return gaps.map((gap, at) => {
      day += gap
      const tenths = percent + (perYear * (day - dayNumberOf(firstOn))) / 365 + (scatter[at] ?? 0)
      const rejectionPercent = Math.min(100, Math.max(0, Math.round(tenths) / 10))
      return { takenOn: dateOfDayNumber(day), rejectionPercent, meter: null, unlikely: false }
    })
  })

export const anyReadings: fc.Arbitrary<UnitReading[]> = fc.oneof(
  fc.constant<UnitReading[]>([]),
  fc.array(anyReading, { maxLength: 8 }),
  wornMembrane,
)

export const anyInstallation: fc.Arbitrary<InstallationFacts> = fc
  .record({
    stages: fc.array(anyStage, { maxLength: 7 }),
    facts: fc.record({
      people: orNothing(fc.integer({ min: 0, max: 12 })),
      hardness: orNothing(
        fc.oneof(fc.integer({ min: 0, max: 240 }), fc.constantFrom(60.5, 119.5, 120.5)).map(hardness),
      ),
      fittedOn: orNothing(anyDate),
      ownMonths: rarely(someMonths),
      recoveryPercent: orNothing(fc.integer({ min: 1, max: 100 })),
      drunkPerDay: rarely(fc.integer({ min: 0, max: 40_000 }).map(millilitres)),
      monthsAway: anyMonthsAway,
      readings: anyReadings,
    }),
  })
  .map(({ stages, facts }) => someInstallation(stages, facts))

export const anyDefaults: fc.Arbitrary<DueDefaults> = fc
  .record({
    small: fc.integer({ min: 1, max: 4 }),
    more: fc.integer({ min: 1, max: 5 }),
    usual: fc.integer({ min: 1, max: 8 }),
    least: fc.integer({ min: 0, max: 24 }),
    span: fc.integer({ min: 0, max: 36 }),
    speaks: fc.integer({ min: 1, max: 36 }),
    widest: fc.integer({ min: 1, max: 1500 }),
  })
  .map(({ small, more, usual, least, span, speaks, widest }): DueDefaults => {
    const own = DEFAULT_INTERVAL_RULES.map((rule) =>
      rule.basis === 'fixed' ? rule : { ...rule, monthsLeast: least, monthsMost: least + span },
    )
    const settings = {
      ...usualDefaults.settings,
      smallHouseholdPeople: small,
      largeHouseholdPeople: small + more,
      usualPeople: usual,
      readingSpeaksMonths: speaks,
      widestBandDays: widest,
    }
    return { intervals: intervalRulesByKind(own), settings }
  })
