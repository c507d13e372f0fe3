import type { IntervalRule } from '../installations/interval-rules.ts'
import type { Hardness } from '../units/measures.ts'
import { MODERATELY_HARD_UP_TO, SOFT_UP_TO } from '../water/hardness-classes.ts'

/** Where the straight line between "few people" and "many people" begins and ends. */
export interface HouseholdSizes {
  readonly smallHouseholdPeople: number
  readonly largeHouseholdPeople: number
}

/**
 * Months by use: the longest interval up to the small household, the shortest from the large one, a straight line between.
 * Rounded to whole months, an exact half to the shorter. With 12 and 6 months, two and five people: three people 10, four 8.
 * Common practice, no source.
 */
export function monthsByPeople(rule: IntervalRule, people: number, sizes: HouseholdSizes): number {
  const { smallHouseholdPeople: small, largeHouseholdPeople: large } = sizes
  if (people <= small) return rule.monthsMost
  if (people >= large) return rule.monthsLeast
  return between(rule.monthsMost, rule.monthsLeast, (people - small) / (large - small))
}

/**
 * Months of a membrane by the hardness of its feed, mg/L as CaCO3. Straight lines through three points: no hardness at all, the
 * longest; the end of "soft", two thirds of the way down; the end of "moderately hard" and anything harder, the shortest.
 * With 60 and 24 months: soft 60 to 36, moderately hard 36 to 24, hard 24. Common practice for the months; the classes are the USGS's.
 */
export function monthsByHardness(rule: IntervalRule, hardness: Hardness): number {
  if (hardness >= MODERATELY_HARD_UP_TO) return rule.monthsLeast
  if (hardness <= SOFT_UP_TO) return between(rule.monthsMost, rule.monthsLeast, (hardness / SOFT_UP_TO) * (2 / 3))
  const beyondSoft = (hardness - SOFT_UP_TO) / (MODERATELY_HARD_UP_TO - SOFT_UP_TO)
  return between(rule.monthsMost, rule.monthsLeast, 2 / 3 + beyondSoft / 3)
}

/** A guard against a half that floating point puts a hair above itself. */
const HAIR = 1e-9

function between(most: number, least: number, share: number): number {
  return Math.ceil(most - (most - least) * share - 0.5 - HAIR)
}
