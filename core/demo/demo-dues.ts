import { readMonthsAway } from '../customers/months-away.ts'
import { dueDatesOf } from '../due/due-dates.ts'
import type { DueDefaults, InstallationFacts, UnitReading } from '../due/due-facts.ts'
import { type DayNumber, dateOfDayNumber, dayNumberOf } from '../units/calendar-date.ts'
import { stageIdSchema } from '../units/ids.ts'
import { gallonsToMillilitres, hardness, millilitres } from '../units/measures.ts'
import type { DemoHousehold, DemoReading } from './demo-records.ts'
import { heldBackOf } from './demo-water.ts'
import { SCENARIO } from './scenario.ts'

export interface DemoDue {
  /** Place in the household's stages. */
  readonly stage: number
  readonly day: DayNumber
  readonly reason: string
  readonly rule: string
}

/** A reading of one of the household's units, as due dates rest on it. */
export interface DemoUnitReading extends UnitReading {
  readonly unit: number
}

export function unitReading(on: DayNumber, reading: DemoReading): DemoUnitReading {
  return {
    unit: reading.unit,
    takenOn: dateOfDayNumber(on),
    rejectionPercent: heldBackOf(reading),
    meter: reading.meterMl === null ? null : millilitres(reading.meterMl),
    unlikely: reading.unlikely,
  }
}

/** Due dates by the office's own rules, readings included, earliest first. `changedOn` by the place of the stage. */
export function demoDues(
  household: DemoHousehold,
  changedOn: readonly DayNumber[],
  readings: readonly DemoUnitReading[],
  defaults: DueDefaults,
): DemoDue[] {
  return household.units
    .flatMap((_, unit) => {
      const places = household.stages.flatMap((stage, place) => (stage.unit === unit ? [place] : []))
      const own = readings.filter((reading) => reading.unit === unit)
      return dueDatesOf(factsOf(household, places, changedOn, own), defaults).flatMap((due, index) => {
        const stage = places[index]
        return due.dueOn === null || stage === undefined
          ? []
          : [{ stage, day: dayNumberOf(due.dueOn), reason: due.reason, rule: due.rule }]
      })
    })
    .sort((a, b) => a.day - b.day || a.stage - b.stage)
}

function factsOf(
  household: DemoHousehold,
  places: readonly number[],
  changedOn: readonly DayNumber[],
  readings: readonly UnitReading[],
): InstallationFacts {
  return {
    people: household.people,
    hardness: hardness(household.hardness),
    fittedOn: dateOfDayNumber(household.since),
    ownMonths: null,
    recoveryPercent: null,
    drunkPerDay: null,
    monthsAway: readMonthsAway(household.monthsAway),
    readings,
    stages: places.map((place) => {
      const stage = household.stages[place]
      const gallons = stage?.part == null ? 0 : (SCENARIO.parts[stage.part]?.ratedGallons ?? 0)
      return {
        stageId: stageIdSchema.parse(place + 1),
        kind: stage?.kind ?? 'other',
        changedOn: dateOfDayNumber(changedOn[place] ?? household.since),
        ownMonths: null,
        ratedMillilitres: gallons > 0 ? gallonsToMillilitres(gallons) : null,
        ownDueOn: null,
        ownDueNote: '',
        recall: null,
      }
    }),
  }
}
