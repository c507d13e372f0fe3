import { type Clipped, clippedBinomial, convolved, spread } from './clipped-chances.ts'

/** A toss that asks for so many pieces at once with a chance, and for none otherwise. */
export interface Toss {
  /** Between 0 and 1. */
  readonly chance: number
  /** Whole pieces, 1 or more. */
  readonly pieces: number
}

/**
 * How many of these tosses come up: `distributionOf([0.1, 0.2])[1]` is the chance of exactly one, 0.26. Its length is the
 * number of tosses plus 1. Exact but for rounding: tosses of one chance are a binomial, different chances are convolved in
 * halves. Everything added is positive, so that nothing cancels and the tails keep their digits; a chance far below anything
 * that could matter (see `CLIP`) is left at 0. RangeError for what is no chance.
 */
export function distributionOf(chances: readonly number[]): Float64Array {
  return unclipped(sumOfTosses(chances), chances.length + 1)
}

/** The same where a toss is for several pieces at once; its length is the sum of all pieces plus 1. */
export function weightedDistributionOf(tosses: readonly Toss[]): Float64Array {
  const byPieces = new Map<number, number[]>()
  let most = 0
  for (const { chance, pieces } of tosses) {
    if (!Number.isSafeInteger(pieces) || pieces < 1) throw new RangeError(`Not a number of pieces: ${pieces}`)
    most += pieces
    const group = byPieces.get(pieces)
    if (group) group.push(chance)
    else byPieces.set(pieces, [chance])
  }
  const sums = [...byPieces].map(([pieces, chances]) => spread(sumOfTosses(chances), pieces))
  return unclipped(inHalves(sums), most + 1)
}

/** The chances of at most so many: running sums, the last one 1. */
export function cumulated(chances: Float64Array): Float64Array {
  const sums = new Float64Array(chances.length)
  let sum = 0
  for (let k = 0; k < chances.length; k++) {
    sum += chances[k] as number
    sums[k] = Math.min(1, sum)
  }
  if (sums.length > 0) sums[sums.length - 1] = 1
  return sums
}

/** A hair for rounding: a level of exactly 0.95 that is reached but for the sixteenth digit is reached. */
const ROUNDING = 1e-12

/** The least number of pieces that is enough with at least this chance, between 0 and 1: `quantityAtServiceLevel(pmf, 0.95)`. */
export function quantityAtServiceLevel(chances: Float64Array, level: number): number {
  let sum = 0
  for (let k = 0; k < chances.length; k++) {
    sum += chances[k] as number
    if (sum >= level - ROUNDING) return k
  }
  return Math.max(0, chances.length - 1)
}

/** Pieces that will be missing on average when there are so many. */
export function expectedShortage(chances: Float64Array, quantity: number): number {
  let missing = 0
  for (let k = chances.length - 1; k > quantity; k--) missing += (k - quantity) * (chances[k] as number)
  return missing
}

/** The mean of tosses and how far their sum strays from it (standard deviation), without any distribution. */
export function meanAndDeviation(tosses: readonly Toss[]): { readonly mean: number; readonly deviation: number } {
  let mean = 0
  let variance = 0
  for (const { chance, pieces } of tosses) {
    mean += chance * pieces
    variance += chance * (1 - chance) * pieces * pieces
  }
  return { mean, deviation: Math.sqrt(variance) }
}

/** Fewer equal tosses than this are convolved like all others. */
const FEW_EQUAL = 24

function sumOfTosses(chances: readonly number[]): Clipped {
  // In order of size equal ones lie together, the halves are of one width, and any order of the same tosses adds up in the same way
  const sorted = Float64Array.from(chances).sort()
  const parts: Clipped[] = []
  const single: number[] = []
  let certain = 0
  for (let at = 0; at < sorted.length; ) {
    const chance = sorted[at] as number
    if (!(chance >= 0 && chance <= 1)) throw new RangeError(`Not a chance: ${chance}`)
    const times = equalFrom(sorted, at)
    at += times
    if (chance === 1) certain = times
    else if (chance > 0 && times >= FEW_EQUAL) parts.push(clippedBinomial(times, chance))
    else if (chance > 0) for (let each = 0; each < times; each++) single.push(chance)
  }
  for (let at = 0; at < single.length; at += FEW_EQUAL) parts.push(oneByOne(single.slice(at, at + FEW_EQUAL)))
  parts.push({ from: certain, chances: Float64Array.of(1) })
  return inHalves(parts)
}

/** How many equal numbers begin at this place. */
function equalFrom(sorted: Float64Array, at: number): number {
  let end = at + 1
  while (end < sorted.length && sorted[end] === sorted[at]) end++
  return end - at
}

/** The plain convolution, a toss after the other: right for a few. */
function oneByOne(chances: readonly number[]): Clipped {
  const sum = new Float64Array(chances.length + 1)
  sum[0] = 1
  for (let at = 0; at < chances.length; at++) {
    const chance = chances[at] as number
    for (let k = at + 1; k > 0; k--) sum[k] = (sum[k] as number) * (1 - chance) + (sum[k - 1] as number) * chance
    sum[0] = (sum[0] as number) * (1 - chance)
  }
  return { from: 0, chances: sum }
}

function inHalves(parts: readonly Clipped[]): Clipped {
  if (parts.length === 0) return { from: 0, chances: Float64Array.of(1) }
  if (parts.length === 1) return parts[0] as Clipped
  const middle = parts.length >> 1
  return convolved(inHalves(parts.slice(0, middle)), inHalves(parts.slice(middle)))
}

function unclipped(sum: Clipped, length: number): Float64Array {
  const all = new Float64Array(length)
  all.set(sum.chances, sum.from)
  return all
}
