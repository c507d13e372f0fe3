import {
  callCentsOn,
  changeCents,
  creditCents,
  type PlanDay,
  type PlannableStage,
  type PlannedVisit,
  type VisitPlanQuestion,
} from './visit-plan.ts'

/*
 * Why only a few days and a few sets of stages need to be looked at.
 *
 * Let the last day of a stage be its due date plus its grace. Between visits all that matters is the last day of every stage: it says
 * what must happen when, and a later last day is never worse.
 *
 * 1. Which days. Take a best plan and a visit in it on which no stage stands at its last day. Do the visit a day later, with the same
 *    changes. No stage runs over. What was changed falls due again no sooner than before, so everything after it still fits, and the
 *    life left at the horizon is no less. If the next visit is reached, the two become one and a call is saved. Only two things stop
 *    this: a call that costs more tomorrow than today, and a stage that is never changed early, for which a later change means a later
 *    first day next time. So a visit lies on the last day of some stage, on the last day before the call grows dearer, or, if it
 *    changes a stage that is never changed early, on one of the days on which that stage may be changed.
 * 2. Which stages. Say the days are settled. A stage that costs the same on every day is then best changed as late as can be: at the
 *    last visit on or before its last day. Moving one of its changes to a later visit leaves no fewer days until the next, so it needs
 *    no more changes, and the life left is no less. One more change near the horizon brings at most its own price in life left, so it
 *    does not pay. Hence at a visit exactly those stages are changed whose last day comes before the next visit: the choice of what to
 *    change is the choice of the next day, and there are no more such choices than stages.
 *    Two kinds of stage are chosen openly instead: one that carries another along (a membrane, with its tank to be sanitised), for the
 *    other may want it sooner, and one that is never changed early.
 * 3. Which states. Of two ways to arrive at the same next day, one that cost no more and leaves every last day no earlier makes the
 *    other needless (a stage that is never changed early must agree to the day). A way that cannot end below the best known cost,
 *    even with the fewest changes and calls still to come, is needless too.
 *
 * Stages whose cost depends on the day fall outside 2; then every day and every set of stages is looked at, which is for small
 * questions only.
 */

/** A way of having come so far: what it cost, the last day of every stage, and the day of the visit to come. */
interface Way {
  readonly cost: number
  /** The least that is still to come. */
  readonly least: number
  readonly lastDays: Int32Array
  readonly before: Way | null
  /** The visit that led here; -1 at the start. */
  readonly day: PlanDay
  readonly changed: number
}

/** The visits of a best plan. RangeError: more than 30 stages at one call, or a stage that is carried along and never changed early. */
export function searchVisits(question: VisitPlanQuestion): PlannedVisit[] {
  if (question.stages.length > 30) throw new RangeError('No more than 30 stages at one call')
  for (const { carries } of question.stages)
    if (carries.some((index) => question.stages[index]?.neverEarly))
      throw new RangeError('What is carried along goes with its carrier, early or not')
  return new VisitSearch(question).run()
}

class VisitSearch {
  private readonly stages: readonly PlannableStage[]
  private readonly firstDay: PlanDay
  private readonly horizon: PlanDay
  /** Changed at the last visit before their last day. */
  private readonly followers: readonly number[]
  /** Chosen openly. */
  private readonly chosenOpenly: readonly number[]
  private readonly neverEarly: readonly number[]
  private readonly everything: boolean
  private readonly dearerTomorrow: readonly PlanDay[]
  private readonly callCents: Float64Array | null
  private readonly leastCall: number
  private readonly waiting: (Way[] | undefined)[]
  private readonly costs: readonly number[]
  /** The followers, kept in the order in which they were wanted last. */
  private readonly order: number[]
  /** What the visit being tried comes to: last days, cost so far, and the stages changed, as bits. */
  private readonly scratch: Int32Array
  private cost = 0
  private changed = 0
  private best: Way | null = null
  private bestCost = Number.POSITIVE_INFINITY

  private readonly question: VisitPlanQuestion

  constructor(question: VisitPlanQuestion) {
    this.question = question
    const { stages, firstDay, horizonDay } = question
    this.stages = stages
    this.firstDay = firstDay
    this.horizon = horizonDay
    const isOpen = (stage: PlannableStage) => stage.neverEarly || stage.carries.length > 0
    this.followers = stages.flatMap((stage, index) => (isOpen(stage) ? [] : [index]))
    this.chosenOpenly = stages.flatMap((stage, index) => (isOpen(stage) ? [index] : []))
    this.neverEarly = this.chosenOpenly.filter((index) => stages[index]?.neverEarly)
    this.order = [...this.followers]
    this.scratch = new Int32Array(stages.length)
    this.costs = stages.map((stage) => (typeof stage.costCents === 'number' ? stage.costCents : 0))
    this.everything = stages.some((stage) => typeof stage.costCents !== 'number')
    this.callCents = question.callDifferences.length === 0 ? null : callsByDay(question)
    this.dearerTomorrow = this.callCents === null ? [] : daysBeforeDearer(this.callCents, firstDay)
    this.leastCall = this.callCents === null ? question.callCents : Math.min(...this.callCents.subarray(firstDay))
    this.waiting = new Array<Way[] | undefined>(Math.max(horizonDay + 1, 0))
  }

  run(): PlannedVisit[] {
    const lastDays = Int32Array.from(this.stages, (stage) => Math.max(stage.dueDay + stage.graceDays, this.firstDay))
    this.bestCost = this.costOfRulesOfThumb(lastDays) + 1
    this.scratch.set(lastDays)
    if (this.everything) this.waitAnyDay(null, -1, this.firstDay)
    else this.waitForNext(null, -1, this.firstDay - 1, earliestOf(lastDays))
    for (let day = this.firstDay; day <= this.horizon; day += 1) {
      const ways = this.waiting[day]
      if (ways === undefined) continue
      for (const way of this.worthFollowing(ways)) {
        if (this.everything) this.visitInEveryWay(way, day)
        else this.visit(way, day)
      }
      this.waiting[day] = undefined
    }
    return visitsOf(this.best)
  }

  /** One visit: for every open choice, the followers that must be changed before the next, for every day the next may be on. */
  private visit(way: Way, day: PlanDay): void {
    const call = way.cost + (this.callCents === null ? this.question.callCents : (this.callCents[day] ?? 0))
    const choices = 1 << this.chosenOpenly.length
    for (let choice = 0; choice < choices; choice += 1) {
      const set = this.openSet(choice, way, day)
      if (set >= 0) this.visitWith(way, day, call, set)
    }
  }

  /** The stages of an open choice with those they carry, as bits; -1 when the choice is not allowed. */
  private openSet(choice: number, way: Way, day: PlanDay): number {
    let set = 0
    for (let at = 0; at < this.chosenOpenly.length; at += 1) {
      const index = this.chosenOpenly[at] ?? 0
      const stage = this.stages[index]
      if (!stage || (choice & (1 << at)) === 0) continue
      if (stage.neverEarly && (way.lastDays[index] ?? 0) - stage.graceDays > day) return -1
      set |= 1 << index
      for (const carried of stage.carries) set |= 1 << carried
    }
    for (const index of this.chosenOpenly)
      if ((set & (1 << index)) === 0 && (way.lastDays[index] ?? 0) <= day) return -1
    return set
  }

  private visitWith(way: Way, day: PlanDay, call: number, openSet: number): void {
    const lastDays = this.scratch
    lastDays.set(way.lastDays)
    this.cost = call
    this.changed = 0
    for (let index = 0; index < this.stages.length; index += 1)
      if ((openSet & (1 << index)) !== 0) this.change(index, day)
    const order = this.followersInOrder(way.lastDays)
    let changedUpTo = day
    for (let at = 0; ; at += 1) {
      const following = order[at]
      if (following !== undefined && (openSet & (1 << following)) !== 0) continue
      const nextLast = following === undefined ? Number.POSITIVE_INFINITY : (way.lastDays[following] ?? 0)
      if (this.changed !== 0 && nextLast > changedUpTo) {
        const until = earliestOf(lastDays)
        if (until > changedUpTo) this.waitForNext(way, day, changedUpTo, until)
      }
      if (following === undefined || nextLast > this.horizon) return
      this.change(following, day)
      changedUpTo = Math.max(changedUpTo, nextLast)
    }
  }

  private change(index: number, day: PlanDay): void {
    const stage = this.stages[index]
    if (!stage) return
    this.scratch[index] = (stage.next.dueAt[day] ?? day) + stage.graceDays
    this.cost += this.costs[index] ?? 0
    this.changed |= 1 << index
  }

  /** The followers, earliest last day first. Few, so that inserting one by one is the quickest. */
  private followersInOrder(lastDays: Int32Array): readonly number[] {
    const { order } = this
    for (let at = 1; at < order.length; at += 1) {
      const moving = order[at] ?? 0
      const last = lastDays[moving] ?? 0
      let to = at
      for (; to > 0; to -= 1) {
        const before = order[to - 1] ?? 0
        if ((lastDays[before] ?? 0) <= last) break
        order[to] = before
      }
      order[to] = moving
    }
    return order
  }

  /**
   * What was changed on `day` waits for its next visit: on the earliest last day, or sooner where that may pay; always after
   * `after`. Of `this.scratch` a copy is made once it is known to be worth it.
   */
  private waitForNext(before: Way | null, day: PlanDay, after: PlanDay, until: PlanDay): void {
    const { cost } = this
    if (until > this.horizon) {
      const total = cost - this.creditOf(this.scratch)
      if (total >= this.bestCost) return
      this.bestCost = total
      this.best = { cost, least: 0, lastDays: this.scratch.slice(), before, day, changed: this.changed }
      return
    }
    const least = this.leastToCome(this.scratch)
    if (cost + least >= this.bestCost) return
    const way: Way = { cost, least, lastDays: this.scratch.slice(), before, day, changed: this.changed }
    this.wait(way, until)
    for (const sooner of this.dearerTomorrow) if (sooner > after && sooner < until) this.wait(way, sooner)
    for (const index of this.neverEarly) this.waitForOwnDays(way, index, after, until)
  }

  /** The days on which a stage that is never changed early may be changed, as long as it would fall due again within the horizon. */
  private waitForOwnDays(way: Way, index: number, after: PlanDay, until: PlanDay): void {
    const stage = this.stages[index]
    if (!stage) return
    const opens = (way.lastDays[index] ?? 0) - stage.graceDays
    for (let day = Math.max(opens, after + 1); day < until; day += 1) {
      if ((stage.next.dueAt[day] ?? 0) > this.horizon) return
      this.wait(way, day)
    }
  }

  private wait(way: Way, day: PlanDay): void {
    const ways = this.waiting[day]
    if (ways === undefined) this.waiting[day] = [way]
    else ways.push(way)
  }

  /** Leaves out every way that another one makes needless. */
  private worthFollowing(ways: Way[]): Way[] {
    if (ways.length > 1) ways.sort((a, b) => a.cost - b.cost)
    const kept: Way[] = []
    for (const way of ways) {
      if (way.cost + way.least >= this.bestCost) continue
      if (!kept.some((other) => this.makesNeedless(other, way))) kept.push(way)
    }
    return kept
  }

  private makesNeedless(cheaper: Way, dearer: Way): boolean {
    const { lastDays } = dearer
    for (let index = 0; index < lastDays.length; index += 1)
      if ((cheaper.lastDays[index] ?? 0) < (lastDays[index] ?? 0)) return false
    for (const index of this.neverEarly) {
      const last = cheaper.lastDays[index] ?? 0
      if (last !== lastDays[index] && (lastDays[index] ?? 0) <= this.horizon) return false
    }
    return true
  }

  /** The fewest changes and calls that can still come, less the most that can be credited. */
  private leastToCome(lastDays: Int32Array): number {
    let most = 0
    let cost = 0
    for (let index = 0; index < this.stages.length; index += 1) {
      const stage = this.stages[index]
      if (!stage) continue
      const last = lastDays[index] ?? 0
      const span = stage.next.longestDays + stage.graceDays
      const times = last > this.horizon ? 0 : 1 + Math.floor((this.horizon - last) / span)
      if (times > most) most = times
      cost += times * (this.costs[index] ?? 0)
      cost -= creditCents(this.question, stage, last - stage.graceDays + times * span)
    }
    if (this.everything) return this.question.creditsLifeLeft ? Number.NEGATIVE_INFINITY : 0
    return cost + most * this.leastCall
  }

  private creditOf(lastDays: Int32Array): number {
    let sum = 0
    for (let index = 0; index < this.stages.length; index += 1) {
      const stage = this.stages[index]
      if (stage) sum += creditCents(this.question, stage, (lastDays[index] ?? 0) - stage.graceDays)
    }
    return sum
  }

  /** A good plan to begin with: at each forced visit everything that would run out within some weeks. Cents. */
  private costOfRulesOfThumb(start: Int32Array): number {
    if (this.everything) return Number.POSITIVE_INFINITY
    let best = Number.POSITIVE_INFINITY
    for (let reach = 1; reach <= this.horizon; reach = Math.ceil(reach * 1.6))
      best = Math.min(best, this.costOfReach(start, reach))
    return best
  }

  private costOfReach(start: Int32Array, reach: number): number {
    const lastDays = start.slice()
    let cost = 0
    for (;;) {
      const day = earliestOf(lastDays)
      if (day > this.horizon) return cost - this.creditOf(lastDays)
      cost += this.callCents === null ? this.question.callCents : (this.callCents[day] ?? 0)
      let set = 0
      for (let index = 0; index < lastDays.length; index += 1) {
        const last = lastDays[index] ?? 0
        const stage = this.stages[index]
        if (last > day && (last >= day + reach || last > this.horizon)) continue
        if (stage?.neverEarly && last - stage.graceDays > day) continue
        set |= 1 << index
        for (const carried of this.stages[index]?.carries ?? []) set |= 1 << carried
      }
      for (let index = 0; index < lastDays.length; index += 1) {
        const stage = this.stages[index]
        if (!stage || (set & (1 << index)) === 0) continue
        cost += this.costs[index] ?? 0
        lastDays[index] = (stage.next.dueAt[day] ?? day) + stage.graceDays
      }
    }
  }

  /** For costs that depend on the day: every set of stages that holds the forced ones, and every day after. */
  private visitInEveryWay(way: Way, day: PlanDay): void {
    const sets = 1 << this.stages.length
    for (let set = 1; set < sets; set += 1) {
      if (!this.isAllowedSet(way, day, set)) continue
      this.scratch.set(way.lastDays)
      this.changed = 0
      this.cost = way.cost + callCentsOn(this.question, day)
      for (let index = 0; index < this.stages.length; index += 1) {
        const stage = this.stages[index]
        if (!stage || (set & (1 << index)) === 0) continue
        this.change(index, day)
        this.cost += changeCents(stage, day)
      }
      this.waitAnyDay(way, day, day + 1)
    }
  }

  private isAllowedSet(way: Way, day: PlanDay, set: number): boolean {
    return this.stages.every((stage, index) => {
      const last = way.lastDays[index] ?? 0
      if ((set & (1 << index)) === 0) return last > day
      if (stage.neverEarly && last - stage.graceDays > day) return false
      return stage.carries.every((carried) => (set & (1 << carried)) !== 0)
    })
  }

  private waitAnyDay(before: Way | null, day: PlanDay, from: PlanDay): void {
    const until = earliestOf(this.scratch)
    this.waitForNext(before, day, from - 1, until)
    if (until > this.horizon) return
    const way: Way = { cost: this.cost, least: 0, lastDays: this.scratch.slice(), before, day, changed: this.changed }
    for (let next = from; next < until; next += 1) this.wait(way, next)
  }
}

function earliestOf(lastDays: Int32Array): PlanDay {
  let earliest = Number.POSITIVE_INFINITY
  for (let index = 0; index < lastDays.length; index += 1) earliest = Math.min(earliest, lastDays[index] ?? earliest)
  return earliest
}

function callsByDay(question: VisitPlanQuestion): Float64Array {
  return Float64Array.from({ length: question.horizonDay + 1 }, (_, day) => callCentsOn(question, day))
}

function daysBeforeDearer(calls: Float64Array, firstDay: PlanDay): PlanDay[] {
  const days: PlanDay[] = []
  for (let day = firstDay; day + 1 < calls.length; day += 1)
    if ((calls[day + 1] ?? 0) > (calls[day] ?? 0)) days.push(day)
  return days
}

function visitsOf(end: Way | null): PlannedVisit[] {
  const visits: PlannedVisit[] = []
  for (let way = end; way !== null && way.before !== null; way = way.before)
    visits.push({ day: way.day, changes: indexesOf(way.changed) })
  return visits.reverse()
}

function indexesOf(set: number): number[] {
  const indexes: number[] = []
  for (let index = 0; index < 31; index += 1) if ((set & (1 << index)) !== 0) indexes.push(index)
  return indexes
}
