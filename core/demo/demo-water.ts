import { monthsByHardness } from '../due/months-by-use.ts'
import { intervalRulesByKind } from '../installations/interval-rules.ts'
import { type DayNumber, dateOfDayNumber, partsOf } from '../units/calendar-date.ts'
import { celsius, hardness, kilopascals, LITRES_PER_US_GALLON, psiToKilopascals, tds } from '../units/measures.ts'
import { STANDARD_CONDITIONS } from '../water/corrected-flow.ts'
import { drivingPressure } from '../water/driving-pressure.ts'
import { temperatureFactor } from '../water/temperature-factor.ts'
import { type Chance, chanceOf } from './chance.ts'
import type { DemoHousehold, DemoReading } from './demo-records.ts'
import { SCENARIO } from './scenario.ts'

/** What the water and the membrane are like at one unit: the same at every reading of it. */
export interface DemoWater {
  /** Percent held back by a membrane that is new. */
  readonly heldAtFirst: number
  /** Points that are lost in a year. */
  readonly losesAYear: number
  /** A new membrane's flow at standard conditions, mL/min. */
  readonly flowAtFirst: number
  /** Share of the flow that is lost in a year. */
  readonly foulsAYear: number
  readonly feedPsi: number
  /** Air in the tank while it is empty. */
  readonly tankPsi: number
}

/** What a membrane does at an age: percent held back, and the share of its first flow. */
export interface MembraneState {
  readonly heldBack: number
  readonly flowShare: number
}

/** From a new membrane to one that is replaced, in points: common practice, no source. */
const POINTS_OF_A_LIFE = 21
const LITRES_A_DAY_TO_ML_A_MINUTE = 1000 / 1440
const RULES = intervalRulesByKind([])

/**
 * The water of a household. A membrane lasts about as long as its feed water lets expect, some a third less and some half as much again; hard water
 * also leaves more on it.
 */
export function demoWater(seed: number, place: number, household: DemoHousehold): DemoWater {
  const chance = chanceOf(seed + place * 7919)
  const rule = RULES.membrane
  const months = rule ? monthsByHardness(rule, hardness(household.hardness)) : 36
  return {
    heldAtFirst: 96.3 + chance.noise(0.8),
    losesAYear: ((POINTS_OF_A_LIFE * 12) / months) * (0.95 + chance.noise(0.35)),
    flowAtFirst: flowWhenNew(household) * (1 + chance.noise(0.06)),
    foulsAYear: 0.015 + (Math.min(household.hardness, 300) / 300) * 0.03 + chance.noise(0.008),
    feedPsi: 57 + chance.noise(9),
    tankPsi: 7 + chance.noise(0.8),
  }
}

/** A membrane is called by the gallons that it gives a day at standard conditions. */
export function flowWhenNew(household: DemoHousehold): number {
  const membrane = household.stages.find(({ kind }) => kind === 'membrane')
  const name = membrane?.part == null ? '' : (SCENARIO.parts[membrane.part]?.name ?? '')
  const gallons = Number(/(\d+) gal\/day/.exec(name)?.[1] ?? 75)
  return gallons * LITRES_PER_US_GALLON * LITRES_A_DAY_TO_ML_A_MINUTE
}

export function membraneAt(water: DemoWater, age: number): MembraneState {
  const years = Math.max(0, age) / 365.25
  return {
    heldBack: Math.max(60, water.heldAtFirst - water.losesAYear * years),
    flowShare: Math.max(0.5, 1 - water.foulsAYear * years),
  }
}

/** What one visit finds different from what is usual at the unit. */
export interface DemoCircumstances {
  readonly unit?: number
  readonly feedPsi?: number
  readonly tankPsi?: number
  readonly meterMl?: number
  readonly unlikely?: boolean
  readonly note?: string
}

/**
 * What the meters say on a day: cold water and little pressure slow the flow by the same arithmetic by which the program puts it right again, and every
 * meter is off by a little. `spread` 1 is how meters of the trade differ from reading to reading.
 */
export function demoReading(
  chance: Chance,
  household: DemoHousehold,
  water: DemoWater,
  state: MembraneState,
  on: DayNumber,
  { unit = 0, feedPsi, tankPsi, meterMl, unlikely = false, note = '' }: DemoCircumstances = {},
  spread = 1,
): DemoReading {
  const held = Math.min(99, state.heldBack + chance.noise(0.7) * spread)
  const tdsIn = Math.max(30, Math.round(household.tds * (1 + chance.noise(0.05))))
  const tdsOut = Math.max(1, Math.round(tdsIn * (1 - held / 100)))
  const temperatureC = Math.round((warmthOf(on) + chance.noise(1)) * 10) / 10
  const feedKpa = Math.round(psiToKilopascals((feedPsi ?? water.feedPsi) + chance.noise(1.5) * spread))
  const driving = drivingPressure({
    ...STANDARD_CONDITIONS,
    feedPressure: kilopascals(feedKpa),
    tdsIn: tds(tdsIn),
    tdsOut: tds(tdsOut),
  })
  const flow =
    water.flowAtFirst *
    state.flowShare *
    (driving / drivingPressure(STANDARD_CONDITIONS)) *
    temperatureFactor(celsius(temperatureC)) *
    (1 + chance.noise(0.03) * spread)
  return {
    unit,
    tdsIn,
    tdsOut,
    feedKpa,
    tankKpa: Math.round(psiToKilopascals((tankPsi ?? water.tankPsi) + chance.noise(0.3) * spread) * 10) / 10,
    flowMlMin: Math.max(1, Math.round(flow)),
    temperatureC,
    meterMl: meterMl ?? null,
    unlikely,
    note,
  }
}

/** Feed water follows the year: about 7 degrees C in January, 19 in July. */
function warmthOf(on: DayNumber): number {
  const { month, day } = partsOf(dateOfDayNumber(on))
  return 13 - 6 * Math.cos(((month - 1 + day / 31 - 0.5) * Math.PI) / 6)
}

/** Percent held back, as the books reckon it. */
export const heldBackOf = ({ tdsIn, tdsOut }: DemoReading): number => 100 * (1 - tdsOut / tdsIn)
