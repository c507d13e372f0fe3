/** Chance with a seed: the same seed gives the same run, on every machine. */
export interface Chance {
  /** 0 <= x < 1. */
  readonly share: () => number
  /** Whole, both ends included. */
  readonly between: (least: number, most: number) => number
  readonly happens: (probability: number) => boolean
  readonly pick: <T>(from: readonly T[]) => T
  readonly pickWeighted: <T>(from: readonly T[], weight: (item: T) => number) => T
  /** Around 0 with the given spread; the sum of three uniform draws. */
  readonly noise: (spread: number) => number
}

/** A 32-bit mixing generator (a Weyl sequence with two multiplications): enough for a scenario, not for secrets. */
export function chanceOf(seed: number): Chance {
  let state = seed >>> 0
  const share = (): number => {
    state = (state + 0x6d2b79f5) >>> 0
    let mixed = Math.imul(state ^ (state >>> 15), state | 1)
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61)
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296
  }
  const between = (least: number, most: number): number => least + Math.floor(share() * (most - least + 1))
  const pick = <T>(from: readonly T[]): T => {
    const item = from[between(0, from.length - 1)]
    if (item === undefined) throw new RangeError('Nothing to pick from')
    return item
  }
  const pickWeighted = <T>(from: readonly T[], weight: (item: T) => number): T => {
    let left = share() * from.reduce((sum, item) => sum + weight(item), 0)
    for (const item of from) {
      left -= weight(item)
      if (left < 0) return item
    }
    return pick(from)
  }
  return {
    share,
    between,
    happens: (probability) => share() < probability,
    pick,
    pickWeighted,
    noise: (spread) => ((share() + share() + share()) / 1.5 - 1) * spread,
  }
}
