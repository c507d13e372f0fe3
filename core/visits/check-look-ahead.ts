import type { LookAhead } from './look-ahead-shapes.ts'
import type { AlikeVisits, Placed } from './look-ahead-shift.ts'

/** What a shifting was made of, and what came out. Weeks are counted from 0; everything in minutes. */
export interface JudgedShift {
  readonly alike: readonly AlikeVisits[]
  readonly fixed: readonly number[]
  readonly hours: readonly number[]
  readonly loads: readonly number[]
  readonly placed: readonly Placed[]
}

/**
 * Whether every visit lies in a week it can be in, none is lost or made up, and the loads are what was placed. Reckoned from the placed
 * visits alone, without the planner: by matching them to the visits they can be. Sentences; none when all is well.
 */
export function checkShift({ alike, fixed, hours, loads, placed }: JudgedShift): string[] {
  const found: string[] = []
  const sums = [...fixed]
  for (const { to, minutes } of placed) sums[to] = (sums[to] ?? 0) + minutes
  for (const [week] of hours.entries())
    if ((sums[week] ?? 0) !== (loads[week] ?? 0))
      found.push(`Week ${week} holds ${loads[week]}, placed are ${sums[week]}`)
  const kinds = new Set(
    [...placed, ...alike.map(({ planned, minutes }) => ({ from: planned, minutes, visits: 1 }))].map(
      ({ from, minutes, visits }) => `${from} ${visits === 0 ? 0 : minutes / visits}`,
    ),
  )
  for (const kind of kinds) found.push(...checkKind(kind, alike, placed))
  return found
}

/** Visits of one planned week and one length are told apart by their spans only: they fit when no stretch holds fewer than are bound to it. */
function checkKind(kind: string, alike: readonly AlikeVisits[], placed: readonly Placed[]): string[] {
  const own = alike.filter(({ planned, minutes }) => `${planned} ${minutes}` === kind)
  const there = placed.filter(({ from, minutes, visits }) => `${from} ${visits === 0 ? 0 : minutes / visits}` === kind)
  const count = (each: readonly { readonly visits: number }[]): number =>
    each.reduce((sum, { visits }) => sum + visits, 0)
  if (count(own) !== count(there)) return [`Of ${count(own)} visits (${kind}) ${count(there)} were placed`]
  const weeks = [
    ...new Set([...own.flatMap(({ earliest, latest }) => [earliest, latest]), ...there.map(({ to }) => to)]),
  ]
  return weeks.flatMap((from) =>
    weeks
      .filter((until) => until >= from)
      .filter(
        (until) =>
          count(own.filter(({ earliest, latest }) => from <= earliest && latest <= until)) >
            count(there.filter(({ to }) => from <= to && to <= until)) ||
          count(own.filter(({ earliest, latest }) => earliest <= until && latest >= from)) <
            count(there.filter(({ to }) => from <= to && to <= until)),
      )
      .map((until) => `Visits (${kind}) do not fit into the weeks ${from} to ${until}`),
  )
}

/**
 * Whether a look-ahead agrees with itself: nothing lost between the weeks, the three peaks in their order, the fullest week less than
 * one visit above what no shifting can get below. Sentences; none when all is well.
 */
export function checkLookAhead(ahead: LookAhead): string[] {
  const found: string[] = []
  const { weeks, peaks } = ahead
  const counted = weeks.filter((week) => week.hours > 0)
  const before = counted.reduce((sum, week) => sum + week.booked.minutes, 0)
  const planned = weeks.reduce((sum, week) => sum + week.planned.minutes - week.homeless.minutes, 0)
  const after = weeks.reduce((sum, week) => sum + week.evenedMinutes, 0)
  if (before + planned !== after) found.push(`${before + planned} minutes went in, ${after} came out`)
  for (const [at, week] of weeks.entries()) {
    if (week.evenedMinutes > 0 && week.hours === 0) found.push(`Week ${at} is filled though nobody works`)
    const gone = week.moves.reduce((sum, move) => sum + move.minutes, 0)
    const come = weeks.reduce(
      (sum, other) => sum + other.moves.reduce((own, move) => own + (move.to === at ? move.minutes : 0), 0),
      0,
    )
    const own = week.planned.minutes - week.homeless.minutes + (week.hours > 0 ? week.booked.minutes : 0)
    if (own - gone + come !== week.evenedMinutes)
      found.push(`Week ${at}: the moves do not lead to its evened-out minutes`)
    for (const { to, visits } of week.moves)
      if (visits > (week.couldGo.find((each) => each.to === to)?.visits ?? 0))
        found.push(`More is moved from week ${at} to week ${to} than could be`)
  }
  if (peaks === null) return found
  const { least, asPlanned, reached } = peaks
  const above = (a: { minutes: number; hours: number }, b: { minutes: number; hours: number }): boolean =>
    BigInt(a.minutes) * BigInt(b.hours) > BigInt(b.minutes) * BigInt(a.hours)
  if (above(least, reached)) found.push('The fullest week lies below what no shifting can get below')
  if (above(reached, asPlanned)) found.push('Shifting made the fullest week fuller')
  for (const [at, week] of counted.entries())
    if (above({ minutes: week.evenedMinutes, hours: week.hours }, reached))
      found.push(`Week ${at} is fuller than the fullest`)
  const overBy = reached.minutes * least.hours - least.minutes * reached.hours
  if (overBy >= ahead.longestMinutes * least.hours && overBy > 0)
    found.push('A whole visit could be saved in the fullest week')
  return found
}
