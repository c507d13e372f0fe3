import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { cumulated, quantityAtServiceLevel, type Toss, weightedDistributionOf } from './poisson-binomial.ts'
import type { Wanted } from './proposal-shapes.ts'
import type { LikelyUse, ReorderInput, ReorderPart } from './reorder-shapes.ts'

/** What may be wanted of one part. Days count from today, 0; what is overdue stands on today. */
export interface PartDemand {
  /** Whether due dates or visits speak for it; otherwise it is planned by its use of late. */
  readonly isKnown: boolean
  /** Pieces on visits that are booked, by day. */
  readonly booked: Float64Array
  /** Pieces to be expected beside these, by day. */
  readonly expected: Float64Array
  /** The chances of 0, 1, 2 ... pieces beside the booked ones until a day. */
  readonly within: (days: number) => Float64Array
}

/** The chance that a visit of these households uses the part until a day. */
export function chanceWithin({ visitedBy, from }: Pick<LikelyUse, 'visitedBy' | 'from'>, days: number): number {
  if (from > days) return 0
  const until = visitedBy[Math.min(days, visitedBy.length - 1)] ?? 0
  const before = from > 0 ? (visitedBy[Math.min(from, visitedBy.length) - 1] ?? 0) : 0
  return Math.min(1, Math.max(0, until - before))
}

/**
 * The demand of each part as it is asked for. Households answer one by one and each once: the demand of a part is a sum of tosses that
 * do not depend on each other, each for all the pieces that its household uses.
 */
export function demandOfParts(input: ReorderInput, horizon: number): (part: ReorderPart) => PartDemand {
  const likely = grouped(input.likely)
  const booked = grouped(input.booked)
  const visits = demandOfVisits(input, horizon)
  return (part) => {
    const uses = likely.get(part.partId) ?? []
    const own = bookedByDay(booked.get(part.partId) ?? [], input.today, horizon)
    if (part.perVisitQuantity > 0 && uses.length === 0) return visits(part.perVisitQuantity, own)
    const everyVisit = part.perVisitQuantity > 0 ? visits(part.perVisitQuantity, own) : null
    const all = [...uses, ...(everyVisit ? usesOfVisits(input, part.perVisitQuantity) : [])]
    return {
      isKnown: uses.length > 0,
      booked: everyVisit?.booked ?? own,
      expected: expectedByDay(all, horizon),
      within: (days) => weightedDistributionOf(tossesWithin(all, days)),
    }
  }
}

type Use = Pick<LikelyUse, 'pieces' | 'households' | 'visitedBy' | 'from'>

const usesOfVisits = (input: ReorderInput, pieces: number): Use[] =>
  input.visits.likely.map((use) => ({ ...use, pieces, from: 0 }))

/** What every visit uses: the same for all such parts but for the pieces, so it is reckoned once. */
function demandOfVisits(input: ReorderInput, horizon: number) {
  const known = new Map<string, Float64Array>()
  let once: { readonly booked: Float64Array; readonly expected: Float64Array } | null = null
  return (pieces: number, own: Float64Array): PartDemand => {
    once ??= {
      booked: bookedByDay(
        input.visits.booked.map(({ on, visits }) => ({ on, quantity: visits })),
        input.today,
        horizon,
      ),
      expected: expectedByDay(usesOfVisits(input, 1), horizon),
    }
    const { booked, expected } = once
    return {
      isKnown: true,
      booked: booked.map((visits, day) => visits * pieces + (own[day] ?? 0)),
      expected: expected.map((visits) => visits * pieces),
      within: (days) => {
        const key = `${days}/${pieces}`
        const found = known.get(key) ?? weightedDistributionOf(tossesWithin(usesOfVisits(input, pieces), days))
        known.set(key, found)
        return found
      },
    }
  }
}

function tossesWithin(uses: readonly Use[], days: number): Toss[] {
  const tosses: Toss[] = []
  for (const use of uses) {
    const chance = chanceWithin(use, days)
    if (chance > 0) for (let each = 0; each < use.households; each++) tosses.push({ chance, pieces: use.pieces })
  }
  return tosses
}

function bookedByDay(
  uses: readonly { readonly on: CalendarDate; readonly quantity: number }[],
  today: CalendarDate,
  horizon: number,
): Float64Array {
  const days = new Float64Array(horizon + 1)
  for (const { on, quantity } of uses) {
    const day = Math.max(0, daysBetween(today, on))
    if (day <= horizon) days[day] = (days[day] ?? 0) + quantity
  }
  return days
}

function expectedByDay(uses: readonly Use[], horizon: number): Float64Array {
  const days = new Float64Array(horizon + 1)
  for (const { visitedBy, from, pieces, households } of uses) {
    let before = from > 0 ? (visitedBy[from - 1] ?? 0) : 0
    const last = Math.min(horizon, visitedBy.length - 1)
    for (let day = from; day <= last; day++) {
      const by = visitedBy[day] ?? 0
      days[day] = (days[day] ?? 0) + (by - before) * pieces * households
      before = by
    }
  }
  return days
}

export const sumUntil = (days: Float64Array, last: number): number => {
  let sum = 0
  for (let day = 0; day <= Math.min(last, days.length - 1); day++) sum += days[day] ?? 0
  return sum
}

/** Chances below this are left out of what is shown. */
const TOO_UNLIKELY = 1e-4

/** How many may be wanted until a day, and the least number that is enough at the service level. `there` may be below zero. */
export function wantedWithin(demand: PartDemand, days: number, servicePercent: number, there: number): Wanted {
  const booked = sumUntil(demand.booked, days)
  const chances = demand.within(days)
  const level = booked + quantityAtServiceLevel(chances, servicePercent / 100)
  const enough = cumulated(chances)
  const enoughFor = (pieces: number): number =>
    pieces < booked ? 0 : (enough[Math.min(pieces - booked, enough.length - 1)] ?? 1)
  const first = chances.findIndex((chance) => chance >= TOO_UNLIKELY)
  const last = chances.findLastIndex((chance) => chance >= TOO_UNLIKELY)
  return {
    from: booked + Math.max(0, first),
    chances: Array.from(chances.subarray(Math.max(0, first), last + 1), (chance) => Math.min(1, chance)),
    booked,
    possible: chances.length - 1,
    expected: sumUntil(demand.expected, days),
    level,
    there,
    servicePercent,
    enoughNow: enoughFor(there),
    enoughAtLevel: enoughFor(level),
  }
}

export function grouped<Row extends { readonly partId: number }>(rows: readonly Row[]): Map<Row['partId'], Row[]> {
  const groups = new Map<Row['partId'], Row[]>()
  for (const row of rows) {
    const group = groups.get(row.partId)
    if (group) group.push(row)
    else groups.set(row.partId, [row])
  }
  return groups
}
