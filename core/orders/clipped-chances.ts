/** Chances of `from`, `from + 1` and so on; whatever lies outside is too unlikely to keep. */
export interface Clipped {
  readonly from: number
  readonly chances: Float64Array
}

/**
 * What is less likely than this at either end is dropped. A sum of thousands of tosses lies within some twelve deviations of
 * its mean but for this, so that its distribution is hundreds of numbers wide and not thousands: that makes convolution in
 * halves as fast as it is. All that is ever dropped adds up to far less than a billionth of the sixteenth digit.
 */
export const CLIP = 1e-36

/** The sum of two that do not depend on each other. All terms are positive: no digits cancel. */
export function convolved(one: Clipped, other: Clipped): Clipped {
  const [short, long] =
    one.chances.length < other.chances.length ? [one.chances, other.chances] : [other.chances, one.chances]
  const sum = new Float64Array(short.length + long.length - 1)
  // Four at a time: each place of the sum is then read and written once for four products
  const fours = short.length - (short.length % 4)
  for (let i = 0; i < fours; i += 4) addFour(sum, short, long, i)
  for (let i = fours; i < short.length; i++) {
    const chance = short[i] as number
    for (let j = 0; j < long.length; j++) sum[i + j] = (sum[i + j] as number) + chance * (long[j] as number)
  }
  return clipped(one.from + other.from, sum)
}

/** Adds `long` four times, from the places `at` to `at + 3` on, each time by the chance that stands there in `short`. */
function addFour(sum: Float64Array, short: Float64Array, long: Float64Array, at: number): void {
  const a = short[at] as number
  const b = short[at + 1] as number
  const c = short[at + 2] as number
  const d = short[at + 3] as number
  // Rows of nothing, as tosses for several pieces have them
  if (a === 0 && b === 0 && c === 0 && d === 0) return
  let [one, two, three] = [0, 0, 0]
  for (let j = 0; j < long.length; j++) {
    const next = long[j] as number
    sum[at + j] = (sum[at + j] as number) + a * next + b * one + c * two + d * three
    three = two
    two = one
    one = next
  }
  const end = at + long.length
  sum[end] = (sum[end] as number) + b * one + c * two + d * three
  sum[end + 1] = (sum[end + 1] as number) + c * one + d * two
  sum[end + 2] = (sum[end + 2] as number) + d * one
}

/** Without what is less likely than `CLIP` at either end. */
function clipped(from: number, chances: Float64Array): Clipped {
  let first = 0
  let last = chances.length - 1
  while (first < last && (chances[first] as number) < CLIP) first++
  while (last > first && (chances[last] as number) < CLIP) last--
  return { from: from + first, chances: chances.subarray(first, last + 1) }
}

/** Every toss for so many pieces instead of one. */
export function spread(sum: Clipped, pieces: number): Clipped {
  if (pieces === 1) return sum
  const chances = new Float64Array((sum.chances.length - 1) * pieces + 1)
  for (let k = 0; k < sum.chances.length; k++) chances[k * pieces] = sum.chances[k] as number
  return { from: sum.from * pieces, chances }
}

/** So many tosses of one chance strictly between 0 and 1, from the likeliest outwards by the ratio of neighbours, then made to add up to 1. */
export function clippedBinomial(count: number, chance: number): Clipped {
  const likeliest = Math.min(count, Math.floor((count + 1) * chance))
  const odds = chance / (1 - chance)
  const above: number[] = []
  for (let k = likeliest, term = 1; k < count; k++) {
    term *= ((count - k) / (k + 1)) * odds
    if (term < CLIP) break
    above.push(term)
  }
  const below: number[] = []
  for (let k = likeliest, term = 1; k > 0; k--) {
    term *= k / (count - k + 1) / odds
    if (term < CLIP) break
    below.push(term)
  }
  const chances = Float64Array.from([...below.reverse(), 1, ...above])
  const sum = chances.reduce((total, term) => total + term, 0)
  return { from: likeliest - below.length, chances: chances.map((term) => term / sum) }
}
