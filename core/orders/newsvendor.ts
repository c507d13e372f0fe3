import { normalBelow, normalLoss, normalQuantile } from './normal.ts'
import { expectedShortage, quantityAtServiceLevel } from './poisson-binomial.ts'

/** What a piece too many and a piece too few cost, over one period; both above zero. */
export interface OverAndUnder {
  readonly tooMany: number
  readonly tooFew: number
}

export interface BestLevel {
  readonly level: number
  /** Cost to be expected at that level. */
  readonly cost: number
}

/** The service level at which a piece more costs as much as it saves: `p / (p + h)`, between 0 and 1. */
export function criticalRatio({ tooMany, tooFew }: OverAndUnder): number {
  if (!(tooMany > 0 && tooFew > 0)) throw new RangeError('A piece too many and a piece too few both cost something')
  return tooFew / (tooFew + tooMany)
}

/** The best level for a demand known by its distribution, chances of 0, 1, 2 ... pieces. */
export function bestLevel(chances: Float64Array, costs: OverAndUnder): BestLevel {
  const level = quantityAtServiceLevel(chances, criticalRatio(costs))
  return { level, cost: costAtLevel(chances, costs, level) }
}

/** What that level may be expected to cost. */
export function costAtLevel(chances: Float64Array, { tooMany, tooFew }: OverAndUnder, level: number): number {
  const mean = expectedShortage(chances, 0)
  const missing = expectedShortage(chances, level)
  return tooMany * (level - mean + missing) + tooFew * missing
}

/** The same for a normal demand; the level is not rounded. Source: Snyder and Shen, ch. 4. */
export function bestNormalLevel(mean: number, deviation: number, costs: OverAndUnder): BestLevel {
  const level = mean + normalQuantile(criticalRatio(costs)) * deviation
  return { level, cost: normalCostAtLevel(mean, deviation, costs, level) }
}

/** What that level may be expected to cost under a normal demand. */
export function normalCostAtLevel(mean: number, deviation: number, costs: OverAndUnder, level: number): number {
  const z = (level - mean) / deviation
  const missing = deviation * normalLoss(z)
  return costs.tooMany * (level - mean + missing) + costs.tooFew * missing
}

/** The chances of 0, 1, 2 ... of a Poisson demand of this mean, from the likeliest outwards, to where nothing is left to speak of. */
export function poissonChances(mean: number): Float64Array {
  if (!(mean >= 0 && mean < 1e7)) throw new RangeError(`Not a mean demand: ${mean}`)
  const likeliest = Math.floor(mean)
  const top = Math.ceil(mean + 14 * Math.sqrt(mean) + 40)
  const chances = new Float64Array(top + 1)
  chances[likeliest] = 1
  for (let k = likeliest; k < top; k++) chances[k + 1] = ((chances[k] as number) * mean) / (k + 1)
  for (let k = likeliest; k > 0; k--) chances[k - 1] = ((chances[k] as number) * k) / mean
  const sum = chances.reduce((total, chance) => total + chance, 0)
  return chances.map((chance) => chance / sum)
}

/** How likely it is that so many are enough for a normal demand. */
export function normalService(mean: number, deviation: number, level: number): number {
  return deviation === 0 ? Number(level >= mean) : normalBelow((level - mean) / deviation)
}
