/** Tosses alike: so many, each for so many pieces with a chance. */
export interface PlainTosses {
  readonly times: number
  readonly pieces: number
  readonly chance: number
}

/** What lies below this at either end adds up to nothing in any digit that is looked at. */
const NOTHING = 1e-25

/**
 * The chances of 0, 1, 2 ... pieces, one toss after the other as it is taught: for the judge, who must not lean on what he judges.
 */
export function plainSum(tosses: readonly PlainTosses[]): Float64Array {
  const most = tosses.reduce((sum, { times, pieces, chance }) => sum + (chance > 0 ? times * pieces : 0), 0)
  const chances = new Float64Array(most + 1)
  chances[0] = 1
  let first = 0
  let last = 0
  for (const { times, pieces, chance } of tosses) {
    if (chance <= 0) continue
    for (let toss = 0; toss < times; toss++) {
      last += pieces
      for (let at = last; at >= first; at--) {
        const before = at - pieces >= first ? (chances[at - pieces] ?? 0) : 0
        chances[at] = (chances[at] ?? 0) * (1 - chance) + before * chance
      }
      while (last > first && (chances[last] ?? 0) < NOTHING && last - pieces > first) last -= 1
      while (first < last && (chances[first] ?? 0) < NOTHING) chances[first++] = 0
    }
  }
  return chances
}

export function plainCumulated(chances: Float64Array): Float64Array {
  let sum = 0
  return chances.map((chance) => {
    sum += chance
    return Math.min(1, sum)
  })
}
