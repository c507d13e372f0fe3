import { ReachFlow, type Want } from './reach-flow.ts'
import { ScarcePrices, type ScarceQuestion } from './scarce-prices.ts'
import type { Stepwise } from './stepwise.ts'

/*
 * Which visits to serve whole when pieces are short: the set that is worth most, exactly.
 *
 * Whether a set can be served is a question of flow: every want of its visits (so many pieces, from any of these heaps: the own van's, the
 * warehouse's, those of the parts that may stand in) has to be met in whole pieces and no heap overdrawn. ReachFlow answers it with whole
 * pieces, and with it every set that is given out here was shared out in full before it counted.
 *
 * The set is found by branch and bound. Why nothing better is left out: give each heap h any price p(h) >= 0 a piece. A visit pays
 * for each piece it wants at least the price of its cheapest heap. So whichever set S is served, its wants cost at most all that lies there:
 *     sum over S of cost(v)  <=  sum of p(h) * pieces(h),   cost(v) = sum over its wants of quantity * min p(h)
 * and hence
 *     worth(S)  <=  sum of p(h) * pieces(h)  +  sum over v in S of (worth(v) - cost(v)),
 * where a visit that is still open adds at most max(0, worth - cost), a settled one exactly what it is settled for. Whatever the prices, this
 * bound holds; the simplex (ScarcePrices) only looks for prices that make it small. A branch is given up when its bound, rounded
 * down to whole points, does not exceed the best set found; a visit is settled at once when the other choice would bring the bound down so far.
 *
 * Sets of equal worth: a second, shorter search starts from the best set. In it each visit adds, beneath all whole points, first itself and
 * beneath that its place counted from the end of the given order, so that of two equals the one with more visits wins, then the one with the
 * earlier ones.
 */

/** Cells of tables and steps of flows that a question may cost before the best set found so far is taken: about half a second. */
export const MOST_EFFORT = 120_000_000
/** The share of it that may go into choosing among sets of equal worth. */
const SHARE_FOR_EQUALS = 0.2
/** What giving a visit its pieces costs, in the same measure. */
const EFFORT_OF_GIVING = 60
/** The effort after which the search stops for breath: about a hundredth of a second. */
const EFFORT_AT_A_STRETCH = 2_500_000
/** So deep in the search every branch tries to make a set of its relaxation; deeper down every eighth. */
const DEPTH_TRIED = 8

export interface ScarceAnswer {
  readonly served: readonly boolean[]
  /** False when the effort ran out first: the set can be served, and is the best that was found. */
  readonly proved: boolean
}

type Settled = Int8Array
const OPEN = -1

/** The most valuable set of visits that can be served whole, in the order of which equals are preferred; stops for breath every hundredth of a second. */
export function* serveScarceStepwise(question: ScarceQuestion, mostEffort: number): Stepwise<ScarceAnswer> {
  const { visits } = question
  const worths = visits.map((visit) => visit.worth)
  const step = worths.reduce(greatestDivisor, 0) || 1
  const search = new ScarceSearch(
    question,
    { worths: worths.map((worth) => worth / step), scale: 1 / step },
    mostEffort,
  )
  yield* search.run(visits.map(() => false))
  const count = visits.length
  const fine = count * (count * count + count) + 1
  const finely = worths.map((worth, index) => worth * fine + count * count + count - index)
  const equals = new ScarceSearch(question, { worths: finely, scale: fine }, mostEffort * SHARE_FOR_EQUALS)
  yield* equals.run(search.best)
  return { served: equals.best, proved: search.proved }
}

/** Whole worths; a point is so many of them. */
interface Worths {
  readonly worths: readonly number[]
  readonly scale: number
}

const greatestDivisor = (a: number, b: number): number => (b === 0 ? a : greatestDivisor(b, a % b))

class ScarceSearch {
  best: readonly boolean[] = []
  proved = true
  readonly #question: ScarceQuestion
  readonly #mostEffort: number
  readonly #worths: readonly number[]
  readonly #scale: number
  readonly #flow: ReachFlow
  readonly #wants: readonly { readonly kind: number; readonly quantity: number }[][]
  #bestWorth = -1
  #effort = 0
  #branches = 0
  /** The effort at which it stops for breath. */
  #breath = EFFORT_AT_A_STRETCH

  constructor(question: ScarceQuestion, { worths, scale }: Worths, mostEffort: number) {
    this.#question = question
    this.#mostEffort = mostEffort
    this.#worths = worths
    this.#scale = scale
    this.#flow = new ReachFlow(question.pieces)
    this.#wants = question.visits.map((visit) =>
      visit.wants.map(({ heaps, quantity }) => ({ kind: this.#flow.kind(heaps.join(), heaps), quantity })),
    )
  }

  /** Looks for a set that is better than this one. */
  *run(start: readonly boolean[]): Stepwise<void> {
    const order = this.#worths.map((_, index) => index)
    this.best = start
    this.#bestWorth = order.reduce((sum, visit) => sum + (start[visit] ? (this.#worths[visit] ?? 0) : 0), 0)
    this.#tryInOrder(order)
    this.#tryInOrder(byWorth(this.#worths))
    const visits = this.#question.visits.map((visit, index) => ({
      ...visit,
      worth: (this.#worths[index] ?? 0) / this.#scale,
    }))
    yield* this.#branch(new ScarcePrices({ ...this.#question, visits }), new Int8Array(order.length).fill(OPEN), 0)
  }

  *#branch(prices: ScarcePrices, settled: Settled, depth: number): Stepwise<void> {
    if (this.#effort > this.#mostEffort) {
      this.proved = false
      return
    }
    const before = prices.effort
    const possible = prices.work()
    this.#effort += prices.effort - before + prices.size
    this.#branches += 1
    if (this.#effort > this.#breath) {
      this.#breath = this.#effort + EFFORT_AT_A_STRETCH
      yield
    }
    if (!possible) return
    const bound = this.#settleByPrice(prices, settled)
    if (!this.#mayBeat(bound)) return
    const shares = prices.shares()
    settled.forEach((state, visit) => {
      if (state !== OPEN) shares[visit] = state
    })
    if (depth < DEPTH_TRIED || this.#branches % 8 === 0) this.#tryInOrder(byShare(shares, this.#worths))
    if (!this.#mayBeat(bound)) return
    const visit = mostUndecided(shares, settled, this.#worths)
    if (visit < 0) {
      this.#tryInOrder(byShare(shares, this.#worths))
      return
    }
    const first = (shares[visit] ?? 0) >= 0.5
    for (const served of [first, !first]) {
      const branch = settled.slice()
      branch[visit] = served ? 1 : 0
      const table = new ScarcePrices(prices)
      table.settle(visit, served)
      if (this.#isPossible(branch)) yield* this.#branch(table, branch, depth + 1)
    }
  }

  /** What this branch can be worth at most; settles what the prices settle. */
  #settleByPrice(prices: ScarcePrices, settled: Settled): number {
    const price = prices.prices()
    let bound = 0
    price.forEach((each, heap) => {
      bound += each * this.#scale * (this.#question.pieces[heap] ?? 0)
    })
    const gains = this.#question.visits.map(
      ({ wants }, visit) => (this.#worths[visit] ?? 0) - this.#scale * costOf(wants, price),
    )
    gains.forEach((gain, visit) => {
      if (settled[visit] === OPEN) bound += Math.max(0, gain)
      else if (settled[visit] === 1) bound += gain
    })
    if (!this.#mayBeat(bound)) return bound
    gains.forEach((gain, visit) => {
      if (settled[visit] !== OPEN || this.#mayBeat(bound - Math.abs(gain))) return
      settled[visit] = gain > 0 ? 1 : 0
      prices.settle(visit, gain > 0)
    })
    return this.#isPossible(settled) ? bound : -1
  }

  /** Whether a bound leaves room for a better set; worths are whole, and the margin is far above any rounding. */
  #mayBeat(bound: number): boolean {
    return Math.floor(bound + 0.01 + bound * 1e-13) > this.#bestWorth
  }

  /** Whether those settled as served can be served together. */
  #isPossible(settled: Settled): boolean {
    const chosen: number[] = []
    let possible = true
    for (const [visit, state] of settled.entries()) {
      if (state !== 1) continue
      if (!this.#flow.giveAll(this.#wants[visit] ?? [])) {
        possible = false
        break
      }
      chosen.push(visit)
    }
    this.#takeBack(chosen)
    this.#effort += chosen.length * EFFORT_OF_GIVING
    return possible
  }

  /** Serves whom it can in this order, and keeps the set when it is the best so far. */
  #tryInOrder(order: readonly number[]): void {
    const chosen: number[] = []
    let worth = 0
    for (const visit of order) {
      if (!this.#flow.giveAll(this.#wants[visit] ?? [])) continue
      chosen.push(visit)
      worth += this.#worths[visit] ?? 0
    }
    this.#takeBack(chosen)
    this.#effort += order.length * EFFORT_OF_GIVING
    if (worth <= this.#bestWorth) return
    this.#bestWorth = worth
    const served = new Set(chosen)
    this.best = order.map((_, visit) => served.has(visit))
  }

  #takeBack(chosen: readonly number[]): void {
    for (const visit of chosen)
      for (const want of this.#wants[visit] ?? []) this.#flow.takeBack(want.kind, want.quantity)
  }
}

const costOf = (wants: readonly Want[], price: Float64Array): number =>
  wants.reduce(
    (sum, want) =>
      sum + want.quantity * want.heaps.reduce((least, heap) => Math.min(least, price[heap] ?? 0), Number.MAX_VALUE),
    0,
  )

const byWorth = (worths: readonly number[]): number[] =>
  worths.map((_, index) => index).sort((a, b) => (worths[b] ?? 0) - (worths[a] ?? 0))

const byShare = (shares: Float64Array, worths: readonly number[]): number[] =>
  worths
    .map((_, index) => index)
    .sort((a, b) => (shares[b] ?? 0) - (shares[a] ?? 0) || (worths[b] ?? 0) - (worths[a] ?? 0))

/**
 * The open visit that is furthest from being served whole or not at all, the more it is worth the sooner; any open one when the relaxation
 * leaves nothing undecided and the search still has to; -1 when that is settled too.
 */
function mostUndecided(shares: Float64Array, settled: Settled, worths: readonly number[]): number {
  let best = settled.indexOf(OPEN)
  let most = 0
  for (const [visit, share] of shares.entries()) {
    if (settled[visit] !== OPEN) continue
    const undecided = Math.min(share, 1 - share)
    const weight = undecided < 1e-6 ? 0 : undecided * (worths[visit] ?? 0)
    if (weight <= most) continue
    most = weight
    best = visit
  }
  return best
}
