import type { StageGroup } from './alike-stages.ts'
import { type Alone, aloneUntil, lifeLeftAt } from './alone.ts'
import { creditOf } from './rules-of-thumb.ts'
import type { PlanDay, PlannedVisit, VisitPlanQuestion } from './visit-plan.ts'
import { WayPool } from './way-pool.ts'

/** What the search came to: better visits than were known, by groups, earliest first, or null where there are none. */
export interface SearchedVisits {
  readonly visits: PlannedVisit[] | null
  /** What they cost; or what is known to be possible. */
  readonly cents: number
  readonly proved: boolean
}

/** The search itself; why it is right stands in `search-visits.ts`. One object a question. */
export class VisitSearch {
  private readonly groups: readonly StageGroup[]
  private readonly question: VisitPlanQuestion
  private readonly firstDay: PlanDay
  private readonly horizon: PlanDay
  private readonly alone: readonly Alone[]
  /** Chosen openly: those that carry another, and those never changed early. */
  private readonly open: readonly number[]
  private readonly neverEarly: readonly number[]
  /** The followers, kept in the order in which they were wanted last. */
  private readonly order: number[]
  private readonly callCents: Float64Array | null
  private readonly leastCall: number
  private readonly dearerTomorrow: readonly PlanDay[]
  private readonly pool: WayPool
  /** What the visit being tried comes to: last days, cost so far, and the groups changed, as bits. */
  private readonly scratch: Int32Array
  private cost = 0
  private changed = 0
  private steps = 0
  private bestCost: number
  private bestWay = -1
  private bestDay = -1
  private bestChanged = 0

  constructor(question: VisitPlanQuestion, groups: readonly StageGroup[], knownCents: number) {
    this.bestCost = knownCents
    this.question = question
    this.groups = groups
    this.firstDay = question.firstDay
    this.horizon = question.horizonDay
    this.alone = groups.map(({ next, graceDays }) => aloneUntil(next, graceDays, question.horizonDay))
    const isOpen = (group: StageGroup) => group.neverEarly || group.carries.length > 0
    this.open = groups.flatMap((group, index) => (isOpen(group) ? [index] : []))
    this.neverEarly = this.open.filter((index) => groups[index]?.neverEarly)
    this.order = groups.flatMap((group, index) => (isOpen(group) ? [] : [index]))
    this.callCents = question.callDifferences.length === 0 ? null : callsByDay(question)
    this.dearerTomorrow = this.callCents === null ? [] : daysBeforeDearer(this.callCents, question.firstDay)
    this.leastCall = this.callCents === null ? question.callCents : leastOf(this.callCents, question.firstDay)
    this.scratch = new Int32Array(groups.length)
    this.pool = new WayPool(groups.length, Math.max(question.horizonDay, 0))
  }

  /** Looks for visits that cost less than what is known; `proved` is false when `mostSteps` steps did not suffice to tell.
   * With `widest`, only so many of the most promising ways are followed from each day: quick, and nothing is proved. */
  run(mostSteps: number, widest = Number.POSITIVE_INFINITY): SearchedVisits {
    this.scratch.set(this.groups.map(({ lastDay }) => lastDay))
    this.waitForNext(-1, -1, this.firstDay - 1, earliestOf(this.scratch))
    for (let day = this.firstDay; day <= this.horizon; day += 1) {
      if (!this.pool.has(day)) continue
      const entries = this.worthFollowing(day)
      if (entries.length > widest) entries.length = this.mostPromisingFirst(entries, widest)
      for (const entry of entries) {
        this.visit(entry, day)
        if (this.steps > mostSteps) return this.found(false)
      }
    }
    return this.found(widest === Number.POSITIVE_INFINITY)
  }

  private mostPromisingFirst(entries: number[], widest: number): number {
    const { pool } = this
    const promise = (entry: number) => pool.costOf(pool.wayOf(entry)) + pool.leastOf(pool.wayOf(entry))
    entries.sort((one, other) => promise(one) - promise(other))
    return widest
  }

  /** One visit: for every open choice, the followers that must be changed before the next, for every day the next may be on. */
  private visit(entry: number, day: PlanDay): void {
    const way = this.pool.wayOf(entry)
    const must = this.pool.mustOf(entry)
    const call =
      this.pool.costOf(way) + (this.callCents === null ? this.question.callCents : (this.callCents[day] ?? 0))
    this.putFollowersInOrder(way)
    const choices = 1 << this.open.length
    for (let choice = 0; choice < choices; choice += 1) {
      const set = this.openSet(choice, way, day)
      if (set >= 0 && (set & must) === must) this.visitWith(way, day, call, set)
    }
  }

  /** The groups of an open choice with those they carry, as bits; -1 when the choice is not allowed. */
  private openSet(choice: number, way: number, day: PlanDay): number {
    let set = 0
    for (let at = 0; at < this.open.length; at += 1) {
      const index = this.open[at] ?? 0
      const group = this.groups[index]
      if (!group || (choice & (1 << at)) === 0) continue
      if (group.notBefore > day) return -1
      if (group.neverEarly && this.pool.lastDayOf(way, index) - group.graceDays > day) return -1
      set |= 1 << index
      for (const carried of group.carries) {
        if ((this.groups[carried]?.notBefore ?? 0) > day) return -1
        set |= 1 << carried
      }
    }
    for (const index of this.open) if ((set & (1 << index)) === 0 && this.pool.lastDayOf(way, index) <= day) return -1
    return set
  }

  private visitWith(way: number, day: PlanDay, call: number, openSet: number): void {
    const { pool, scratch, order } = this
    this.steps += 1
    pool.lastDaysInto(way, scratch)
    this.cost = call
    this.changed = 0
    for (let index = 0; index < scratch.length; index += 1) if ((openSet & (1 << index)) !== 0) this.change(index, day)
    let changedUpTo = day
    for (let at = 0; ; at += 1) {
      const following = order[at]
      if (following !== undefined && (openSet & (1 << following)) !== 0) continue
      const nextLast = following === undefined ? Number.POSITIVE_INFINITY : pool.lastDayOf(way, following)
      if (this.changed !== 0 && nextLast > changedUpTo) {
        const until = earliestOf(scratch)
        if (until > changedUpTo) this.waitForNext(way, day, changedUpTo, until)
      }
      if (following === undefined || nextLast > this.horizon) return
      if ((this.groups[following]?.notBefore ?? 0) > day) return
      this.change(following, day)
      if (nextLast > changedUpTo) changedUpTo = nextLast
    }
  }

  private change(index: number, day: PlanDay): void {
    const group = this.groups[index]
    if (!group) return
    this.scratch[index] = (group.next.dueAt[day] ?? day) + group.graceDays
    this.cost += group.cost
    this.changed |= 1 << index
  }

  /** The followers, earliest last day first. Few, so that inserting one by one is the quickest. */
  private putFollowersInOrder(way: number): void {
    const { order, pool } = this
    for (let at = 1; at < order.length; at += 1) {
      const moving = order[at] ?? 0
      const last = pool.lastDayOf(way, moving)
      let to = at
      for (; to > 0; to -= 1) {
        const before = order[to - 1] ?? 0
        if (pool.lastDayOf(way, before) <= last) break
        order[to] = before
      }
      order[to] = moving
    }
  }

  /**
   * What was changed on `day` waits for its next visit: on the earliest last day, or sooner where that may pay; always after
   * `after`. It is written down only once it is known to be worth it.
   */
  private waitForNext(before: number, day: PlanDay, after: PlanDay, until: PlanDay): void {
    const { cost, pool } = this
    if (until > this.horizon) {
      const total = cost - creditOf(this.question, this.groups, this.scratch)
      if (total >= this.bestCost) return
      this.bestCost = total
      this.bestWay = before
      this.bestDay = day
      this.bestChanged = this.changed
      return
    }
    const least = this.leastToCome(this.scratch)
    if (cost + least >= this.bestCost) return
    const way = pool.keep(cost, least, before, day, this.changed, this.scratch)
    pool.wait(way, until, 0)
    for (const sooner of this.dearerTomorrow) if (sooner > after && sooner < until) pool.wait(way, sooner, 0)
    for (const index of this.neverEarly) this.waitForOwnDays(way, index, after, until)
  }

  /** The days on which a group that is never changed early may be changed, as long as it would fall due again within the horizon. */
  private waitForOwnDays(way: number, index: number, after: PlanDay, until: PlanDay): void {
    const group = this.groups[index]
    if (!group) return
    const opens = this.pool.lastDayOf(way, index) - group.graceDays
    for (let day = Math.max(opens, after + 1); day < until; day += 1) {
      if ((group.next.dueAt[day] ?? 0) > this.horizon) return
      this.pool.wait(way, day, 1 << index)
    }
  }

  /** Leaves out every way that another one makes needless. */
  private worthFollowing(day: PlanDay): number[] {
    const { pool } = this
    const entries = pool.entriesOf(day)
    if (entries.length > 1) entries.sort((a, b) => pool.costOf(pool.wayOf(a)) - pool.costOf(pool.wayOf(b)))
    const kept: number[] = []
    for (const entry of entries) {
      const way = pool.wayOf(entry)
      if (pool.costOf(way) + pool.leastOf(way) >= this.bestCost) continue
      let needless = false
      // Comparing is cheaper than trying a visit, but there may be very much of it.
      this.steps += kept.length / 16
      for (let at = 0; at < kept.length && !needless; at += 1) needless = this.makesNeedless(kept[at] ?? 0, entry)
      if (!needless) kept.push(entry)
    }
    return kept
  }

  private makesNeedless(cheaperEntry: number, dearerEntry: number): boolean {
    const { pool } = this
    if ((pool.mustOf(cheaperEntry) & ~pool.mustOf(dearerEntry)) !== 0) return false
    const cheaper = pool.wayOf(cheaperEntry)
    const dearer = pool.wayOf(dearerEntry)
    for (let index = 0; index < this.groups.length; index += 1)
      if (pool.lastDayOf(cheaper, index) < pool.lastDayOf(dearer, index)) return false
    for (const index of this.neverEarly) {
      const last = pool.lastDayOf(dearer, index)
      if (last <= this.horizon && pool.lastDayOf(cheaper, index) !== last) return false
    }
    return true
  }

  /** The least that can still come: every group by itself, and the calls of the one that needs most. */
  private leastToCome(lastDays: Int32Array): number {
    const { horizon, groups, alone } = this
    const credits = this.question.creditsLifeLeft
    let most = 0
    let cost = 0
    for (let index = 0; index < groups.length; index += 1) {
      const group = groups[index]
      if (!group) continue
      const last = lastDays[index] ?? 0
      let left = 0
      if (last > horizon) left = lifeLeftAt(group.next, last - group.graceDays, horizon)
      else {
        const times = alone[index]?.times[last] ?? 0
        left = alone[index]?.left[last] ?? 0
        if (times > most) most = times
        cost += times * group.cost
      }
      if (credits) cost -= (group.cost * left) / group.next.lifeDays
    }
    return cost + most * this.leastCall
  }

  private found(proved: boolean): SearchedVisits {
    return { visits: this.foundVisits(), cents: this.bestCost, proved }
  }

  private foundVisits(): PlannedVisit[] | null {
    if (this.bestWay < 0) return null
    const visits: PlannedVisit[] = [{ day: this.bestDay, changes: indexesOf(this.bestChanged) }]
    for (let way = this.bestWay; this.pool.beforeOf(way) >= 0; way = this.pool.beforeOf(way))
      visits.push({ day: this.pool.dayOf(way), changes: indexesOf(this.pool.changedOf(way)) })
    return visits.reverse()
  }
}

function indexesOf(set: number): number[] {
  const indexes: number[] = []
  for (let index = 0; index < 31; index += 1) if ((set & (1 << index)) !== 0) indexes.push(index)
  return indexes
}

function earliestOf(lastDays: Int32Array): PlanDay {
  let earliest = Number.POSITIVE_INFINITY
  for (let index = 0; index < lastDays.length; index += 1) {
    const last = lastDays[index] ?? 0
    if (last < earliest) earliest = last
  }
  return earliest
}

/** What a call costs on each day; filled in by stretches, for there are many days and few differences. */
function callsByDay({ horizonDay, callCents, callDifferences }: VisitPlanQuestion): Float64Array {
  const calls = new Float64Array(Math.max(horizonDay + 1, 0)).fill(callCents)
  for (const { from, until, cents } of callDifferences)
    for (let day = Math.max(from, 0); day <= Math.min(until, horizonDay); day += 1)
      calls[day] = (calls[day] ?? 0) + cents
  for (let day = 0; day < calls.length; day += 1) if ((calls[day] ?? 0) < 0) calls[day] = 0
  return calls
}

function leastOf(calls: Float64Array, firstDay: PlanDay): number {
  let least = Number.POSITIVE_INFINITY
  for (let day = firstDay; day < calls.length; day += 1) least = Math.min(least, calls[day] ?? least)
  return least
}

function daysBeforeDearer(calls: Float64Array, firstDay: PlanDay): PlanDay[] {
  const days: PlanDay[] = []
  for (let day = firstDay; day + 1 < calls.length; day += 1)
    if ((calls[day + 1] ?? 0) > (calls[day] ?? 0)) days.push(day)
  return days
}
