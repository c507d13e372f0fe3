import { type DayNumber, dateOfDayNumber, partsOf } from '../units/calendar-date.ts'
import { KPA_PER_PSI } from '../units/measures.ts'
import type { Chance } from './chance.ts'
import type { DemoHousehold, DemoReading } from './demo-records.ts'

/** What the meters said: rejection falls with the membrane's age, faster on hard water; cold water in winter slows the flow. */
export function demoReading(
  chance: Chance,
  household: DemoHousehold,
  changedOn: readonly DayNumber[],
  on: DayNumber,
): DemoReading {
  const membrane = household.stages.findIndex((stage) => stage.kind === 'membrane')
  const ageYears = Math.max(0, (on - (changedOn[membrane] ?? household.since)) / 365.25)
  const wear = 0.012 + Math.min(household.hardness, 300) / 9_000
  const rejection = Math.min(0.985, Math.max(0.6, 0.966 - wear * ageYears + chance.noise(0.008)))
  const tdsIn = Math.max(30, Math.round(household.tds * (1 + chance.noise(0.06))))
  const { month } = partsOf(dateOfDayNumber(on))
  const temperatureC =
    Math.round((13 - 6 * Math.cos(((month - 7) * Math.PI) / 6 + Math.PI) + chance.noise(2)) * 10) / 10
  const psi = 58 + chance.noise(9)
  const flowMlMin = Math.round(150 * (1 - 0.06 * ageYears) * 1.03 ** (temperatureC - 25) * (1 + chance.noise(0.05)))
  return {
    tdsIn,
    tdsOut: Math.max(1, Math.round(tdsIn * (1 - rejection))),
    feedKpa: Math.round(psi * KPA_PER_PSI),
    tankKpa: Math.round((7 + chance.noise(1.2)) * KPA_PER_PSI),
    flowMlMin,
    temperatureC,
  }
}
