import type { PlanDay } from './visit-plan.ts'

/**
 * Ways of having come so far, and the days on which they wait for their next visit. Kept in flat arrays: a plan makes hundreds of them,
 * and an office plans a hundred thousand households in a row.
 */
export class WayPool {
  readonly #groups: number
  #cost = new Float64Array(64)
  #least = new Float64Array(64)
  #before = new Int32Array(64)
  #day = new Int32Array(64)
  #changed = new Int32Array(64)
  #lastDays: Int32Array
  #ways = 0
  /** By day: the entry put there last, or -1; each entry names the one before it. */
  readonly #heads: Int32Array
  #entryWay = new Int32Array(64)
  #entryMust = new Int32Array(64)
  #entryBefore = new Int32Array(64)
  #entries = 0

  constructor(groups: number, horizonDay: PlanDay) {
    this.#groups = groups
    this.#lastDays = new Int32Array(64 * groups)
    this.#heads = new Int32Array(horizonDay + 1).fill(-1)
  }

  get ways(): number {
    return this.#ways
  }

  /** Writes a way down: its cost, the least that is to come, the way before it, and the visit that led here (-1 at the start). */
  keep(cost: number, least: number, before: number, day: PlanDay, changed: number, lastDays: Int32Array): number {
    const way = this.#ways
    if (way === this.#cost.length) this.#growWays()
    this.#cost[way] = cost
    this.#least[way] = least
    this.#before[way] = before
    this.#day[way] = day
    this.#changed[way] = changed
    const from = way * this.#groups
    for (let index = 0; index < this.#groups; index += 1) this.#lastDays[from + index] = lastDays[index] ?? 0
    this.#ways = way + 1
    return way
  }

  /** Lets a way wait for a visit on `day` that changes at least the groups `must`, as bits. */
  wait(way: number, day: PlanDay, must: number): void {
    const entry = this.#entries
    if (entry === this.#entryWay.length) this.#growEntries()
    this.#entryWay[entry] = way
    this.#entryMust[entry] = must
    this.#entryBefore[entry] = this.#heads[day] ?? -1
    this.#heads[day] = entry
    this.#entries = entry + 1
  }

  has(day: PlanDay): boolean {
    return (this.#heads[day] ?? -1) >= 0
  }

  entriesOf(day: PlanDay): number[] {
    const entries: number[] = []
    for (let entry = this.#heads[day] ?? -1; entry >= 0; entry = this.#entryBefore[entry] ?? -1) entries.push(entry)
    return entries
  }

  wayOf(entry: number): number {
    return this.#entryWay[entry] ?? 0
  }

  mustOf(entry: number): number {
    return this.#entryMust[entry] ?? 0
  }

  costOf(way: number): number {
    return this.#cost[way] ?? 0
  }

  leastOf(way: number): number {
    return this.#least[way] ?? 0
  }

  beforeOf(way: number): number {
    return this.#before[way] ?? -1
  }

  dayOf(way: number): PlanDay {
    return this.#day[way] ?? -1
  }

  changedOf(way: number): number {
    return this.#changed[way] ?? 0
  }

  lastDayOf(way: number, index: number): PlanDay {
    return this.#lastDays[way * this.#groups + index] ?? 0
  }

  lastDaysInto(way: number, lastDays: Int32Array): void {
    const from = way * this.#groups
    for (let index = 0; index < this.#groups; index += 1) lastDays[index] = this.#lastDays[from + index] ?? 0
  }

  #growWays(): void {
    const size = this.#cost.length * 2
    this.#cost = grown(new Float64Array(size), this.#cost)
    this.#least = grown(new Float64Array(size), this.#least)
    this.#before = grown(new Int32Array(size), this.#before)
    this.#day = grown(new Int32Array(size), this.#day)
    this.#changed = grown(new Int32Array(size), this.#changed)
    this.#lastDays = grown(new Int32Array(size * this.#groups), this.#lastDays)
  }

  #growEntries(): void {
    const size = this.#entryWay.length * 2
    this.#entryWay = grown(new Int32Array(size), this.#entryWay)
    this.#entryMust = grown(new Int32Array(size), this.#entryMust)
    this.#entryBefore = grown(new Int32Array(size), this.#entryBefore)
  }
}

function grown<Numbers extends Float64Array | Int32Array>(larger: Numbers, smaller: Numbers): Numbers {
  larger.set(smaller)
  return larger
}
