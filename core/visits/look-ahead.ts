import type { StageKind } from '../installations/stage-kinds.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import type { TechnicianTime } from './check-booking.ts'
import { hoursByWeek, mondaysFrom, weekCounter } from './look-ahead-hours.ts'
import { type BoundMinutes, compareShares, evenOut, NO_SHARE, type Share } from './look-ahead-peak.ts'
import type { LookAhead, Moves, WeekAhead } from './look-ahead-shapes.ts'
import { type AlikeVisits, type Placed, type Shifted, shiftVisits } from './look-ahead-shift.ts'

export const WEEKS_AHEAD = 52

/** The last day that is looked at. */
export function lastDayAhead(today: CalendarDate): CalendarDate {
  const [first] = mondaysFrom(today, 1)
  return addDays(first ?? today, WEEKS_AHEAD * 7 - 1)
}

/** So many planned visits with the same days and the same length. */
export interface PlannedAhead {
  /** The first day on which a visit is worth the drive; what lies before today counts as today. */
  readonly earliestOn: CalendarDate
  readonly plannedOn: CalendarDate
  /** The last day that the grace allows. */
  readonly latestOn: CalendarDate
  /** The grace is over already. */
  readonly isLate: boolean
  /** Of one visit, with its drive. */
  readonly minutes: number
  readonly visits: number
  /** Of these, the ones that are their household's next visit. */
  readonly nextVisits: number
}

/** Booked visits of a day: they stay where they are. */
export interface BookedAhead {
  readonly on: CalendarDate
  readonly visits: number
  /** Of all of them, with their drives. */
  readonly minutes: number
}

/** Stages that visits of a day see to. */
export interface StagesAhead {
  readonly on: CalendarDate
  readonly isLate: boolean
  readonly kind: StageKind
  readonly count: number
}

export interface LookAheadQuestion {
  readonly today: CalendarDate
  readonly planned: readonly PlannedAhead[]
  readonly booked: readonly BookedAhead[]
  readonly stages: readonly StagesAhead[]
  readonly technicians: readonly TechnicianTime[]
  /** Households that have something to plan, and of these the ones without a plan so far. */
  readonly households: number
  readonly notPlanned: number
}

/**
 * The next 52 weeks, the present one with what is left of it: what is planned and booked against the hours there are, what each week
 * could give to others within grace, and how even the year can be made (see `look-ahead-peak.ts`, `look-ahead-shift.ts`).
 * A visit is bound to the weeks of its days; what could wait beyond the last week is taken to be done in it. Each visit is looked at by
 * itself: that a household's next one moves along with it, its plan says once the first is booked. Visits whose grace is over stand
 * apart, and so do those that can only be in weeks in which nobody works.
 */
export function lookAhead(question: LookAheadQuestion): LookAhead {
  const { today, technicians } = question
  const hours = hoursByWeek(technicians, today, WEEKS_AHEAD)
  const { alike, homeless, late } = sortedVisits(question, hours)
  const booked = bookedByWeek(question)
  const fixed = booked.map((week, at) => ((hours[at] ?? 0) > 0 ? week.minutes : 0))
  const asPlanned = loadsAsPlanned(alike, fixed)
  const bound = boundMinutes(alike, fixed)
  const { shares, fullest } = evenOut(bound, hours)
  const evened = betterOf(
    { loads: asPlanned, placed: leftAlone(alike) },
    shiftVisits(alike, fixed, hours, shares),
    hours,
  )
  const households = householdsByWeek(question)
  const caughtUp = caughtUpBy(bound, hours, shares, totalOf(late))
  const weeks = mondaysFrom(today, WEEKS_AHEAD).map(
    (monday, at): WeekAhead => ({
      monday,
      hours: hours[at] ?? 0,
      booked: booked[at] ?? NONE,
      planned: totalOf([...alike, ...homeless].filter((group) => group.planned === at)),
      households: households[at] ?? 0,
      homeless: totalOf(homeless.filter((group) => group.planned === at)),
      stages: stagesOf(question, at),
      ...roomToMove(alike, at),
      evenedMinutes: evened.loads[at] ?? 0,
      moves: movesFrom(evened.placed, at),
    }),
  )
  return {
    weeks,
    late: {
      ...totalOf(late),
      stages: stagesOf(question, 'late'),
      caughtUpBy: caughtUp === null ? null : (weeks[caughtUp]?.monday ?? null),
    },
    households: question.households,
    notPlanned: question.notPlanned,
    technicians: technicians.length,
    peaks: fullest && { least: fullest, asPlanned: peakOf(asPlanned, hours), reached: peakOf(evened.loads, hours) },
    longestMinutes: alike.reduce((most, group) => Math.max(most, group.minutes), 0),
  }
}

const NONE: Moves = { visits: 0, minutes: 0 }

function totalOf(groups: readonly AlikeVisits[]): Moves {
  return groups.reduce<Moves>(
    (sum, { visits, minutes }) => ({ visits: sum.visits + visits, minutes: sum.minutes + visits * minutes }),
    NONE,
  )
}

interface SortedVisits {
  readonly alike: readonly AlikeVisits[]
  /** Nobody works in any week they could be in. */
  readonly homeless: readonly AlikeVisits[]
  readonly late: readonly AlikeVisits[]
}

/** Added up by weeks and length: how many households there are makes no difference afterwards. */
function sortedVisits({ today, planned }: LookAheadQuestion, hours: readonly number[]): SortedVisits {
  const weekOf = weekCounter(today)
  const within = (week: number): number => Math.min(Math.max(week, 0), WEEKS_AHEAD - 1)
  const sums = new Map<number, AlikeVisits & { visits: number }>()
  const late: AlikeVisits[] = []
  for (const { earliestOn, plannedOn, latestOn, isLate, minutes, visits } of planned) {
    const week = weekOf(plannedOn)
    if (isLate) late.push({ earliest: 0, planned: 0, latest: 0, minutes, visits })
    if (isLate || week >= WEEKS_AHEAD) continue
    const at = within(week)
    const earliest = Math.min(within(weekOf(earliestOn)), at)
    const latest = Math.max(within(weekOf(latestOn)), at)
    const key = ((minutes * WEEKS_AHEAD + earliest) * WEEKS_AHEAD + at) * WEEKS_AHEAD + latest
    const known = sums.get(key)
    if (known) known.visits += visits
    else sums.set(key, { earliest, planned: at, latest, minutes, visits })
  }
  const isHomeless = (group: AlikeVisits): boolean =>
    hours.slice(group.earliest, group.latest + 1).every((minutes) => minutes === 0)
  const groups = [...sums.values()]
  return { alike: groups.filter((group) => !isHomeless(group)), homeless: groups.filter(isHomeless), late }
}

function householdsByWeek({ today, planned }: LookAheadQuestion): number[] {
  const weekOf = weekCounter(today)
  const weeks = Array.from({ length: WEEKS_AHEAD }, () => 0)
  for (const { plannedOn, isLate, nextVisits } of planned) {
    const week = Math.max(weekOf(plannedOn), 0)
    if (!isLate && week < WEEKS_AHEAD) weeks[week] = (weeks[week] ?? 0) + nextVisits
  }
  return weeks
}

function bookedByWeek({ today, booked }: LookAheadQuestion): Moves[] {
  const weekOf = weekCounter(today)
  const weeks = Array.from({ length: WEEKS_AHEAD }, () => ({ ...NONE }))
  for (const { on, visits, minutes } of booked) {
    const week = weeks[weekOf(on)]
    if (!week) continue
    week.visits += visits
    week.minutes += minutes
  }
  return weeks
}

function loadsAsPlanned(alike: readonly AlikeVisits[], fixed: readonly number[]): number[] {
  const loads = [...fixed]
  for (const { planned, visits, minutes } of alike) loads[planned] = (loads[planned] ?? 0) + visits * minutes
  return loads
}

function boundMinutes(alike: readonly AlikeVisits[], fixed: readonly number[]): BoundMinutes[] {
  return [
    ...alike.map(({ earliest, latest, visits, minutes }) => ({ earliest, latest, minutes: visits * minutes })),
    ...fixed.map((minutes, week) => ({ earliest: week, latest: week, minutes })),
  ]
}

const leftAlone = (alike: readonly AlikeVisits[]): Placed[] =>
  alike.map(({ planned, visits, minutes }) => ({ from: planned, to: planned, visits, minutes: visits * minutes }))

/** The plan itself where shifting whole visits neither brings the fullest week lower nor, with that one as it is, the others closer together. */
function betterOf(planned: Shifted, shifted: Shifted, hours: readonly number[]): Shifted {
  const lower = compareShares(peakOf(shifted.loads, hours), peakOf(planned.loads, hours))
  if (lower !== 0) return lower < 0 ? shifted : planned
  return unevenness(shifted.loads, hours) < unevenness(planned.loads, hours) ? shifted : planned
}

function unevenness(loads: readonly number[], hours: readonly number[]): number {
  return loads.reduce((sum, load, week) => sum + (load === 0 ? 0 : load ** 2 / (hours[week] ?? 0)), 0)
}

/** The fullest week by its share; one with visits and without hours is fuller than any other. */
function peakOf(loads: readonly number[], hours: readonly number[]): Share & { readonly week: number } {
  let best = { week: 0, minutes: 0, hours: 1 }
  for (const [week, minutes] of loads.entries()) {
    const share = { week, minutes, hours: hours[week] ?? 0 }
    if (minutes > 0 && compareShares(share, best) > 0) best = share
  }
  return best
}

function stagesOf({ today, stages }: LookAheadQuestion, wanted: number | 'late'): WeekAhead['stages'] {
  const weekOf = weekCounter(today)
  const counts = new Map<StageKind, number>()
  for (const { on, isLate, kind, count } of stages)
    if (isLate ? wanted === 'late' : wanted === Math.max(weekOf(on), 0))
      counts.set(kind, (counts.get(kind) ?? 0) + count)
  return [...counts].map(([kind, count]) => ({ kind, count })).sort((a, b) => b.count - a.count)
}

/** What of a week's planned minutes could be earlier, later, or only then; and where to. */
function roomToMove(alike: readonly AlikeVisits[], week: number) {
  const own = alike.filter((group) => group.planned === week)
  const targets = hoursSpan(own).filter((to) => to !== week)
  return {
    earlier: totalOf(own.filter((group) => group.earliest < week)),
    later: totalOf(own.filter((group) => group.latest > week)),
    bound: totalOf(own.filter((group) => group.earliest === week && group.latest === week)),
    couldGo: targets.map((to) => ({
      to,
      ...totalOf(own.filter((group) => group.earliest <= to && to <= group.latest)),
    })),
  }
}

function hoursSpan(groups: readonly AlikeVisits[]): number[] {
  if (groups.length === 0) return []
  const first = Math.min(...groups.map((group) => group.earliest))
  const last = Math.max(...groups.map((group) => group.latest))
  return Array.from({ length: last - first + 1 }, (_, index) => first + index)
}

function movesFrom(placed: readonly Placed[], week: number): WeekAhead['moves'] {
  const sums = new Map<number, { visits: number; minutes: number }>()
  for (const { from, to, visits, minutes } of placed) {
    if (from !== week || to === week) continue
    const before = sums.get(to) ?? NONE
    sums.set(to, { visits: before.visits + visits, minutes: before.minutes + minutes })
  }
  return [...sums].map(([to, sum]) => ({ to, ...sum })).sort((a, b) => a.to - b.to)
}

/**
 * The Monday of the first week by whose end all late visits can be done without any other losing its grace, when visits may be cut;
 * null when the hours of these weeks do not suffice. Weeks that have to run over their hours as it is give nothing. By the same
 * condition as in `evenOut`, with the late minutes bound to the weeks up to that one: only the stretches that begin with the present
 * week can be too full with them, since the others hold none of them.
 */
function caughtUpBy(
  bound: readonly BoundMinutes[],
  hours: readonly number[],
  shares: readonly Share[],
  { visits, minutes: owed }: Moves,
): number | null {
  if (visits === 0) return null
  const there = hours.map((each, week) => {
    const share = shares[week] ?? NO_SHARE
    return Math.max(each, Math.ceil((share.minutes * each) / share.hours))
  })
  let first: number | null = null
  let free = sumOf(there) - sumOf(bound.map(({ minutes }) => minutes))
  for (let week = there.length - 1; week >= 0 && free >= owed; week -= 1) {
    first = week
    const ending = bound.filter(({ latest }) => latest === week).map(({ minutes }) => minutes)
    free += sumOf(ending) - (there[week] ?? 0)
  }
  return first
}

const sumOf = (figures: readonly number[]): number => figures.reduce((sum, each) => sum + each, 0)
