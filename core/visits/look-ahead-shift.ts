import { NO_SHARE, type Share } from './look-ahead-peak.ts'

/** Visits that are alike: from which week to which they can be, where they are planned, and how long each takes. */
export interface AlikeVisits {
  readonly earliest: number
  readonly planned: number
  readonly latest: number
  /** Minutes of one visit, with its drive. */
  readonly minutes: number
  readonly visits: number
}

/** Whole visits taken from the week they were planned in to another, or left there. */
export interface Placed {
  readonly from: number
  readonly to: number
  readonly visits: number
  readonly minutes: number
}

export interface Shifted {
  /** Minutes by week, what is fixed included. */
  readonly loads: readonly number[]
  readonly placed: readonly Placed[]
}

/**
 * Lays whole visits into the weeks, given the share of its hours that each week carries when visits may be cut (`evenOut`). Week after
 * week, what is fixed first, then the visits that can be there, those with the least time left first, until the week has its share;
 * the last one taken may run over.
 *
 * No visit misses its latest week: were one left over in week l, go back from l to the last week that either ran out of visits or
 * took one that could have waited beyond l. In that week nothing was left that had to be in by l, so all such visits could begin only
 * after it, and since then every week took at least its share of them; together with the one left over they exceed the shares of a
 * stretch within which all of them are bound, which `evenOut` excludes.
 * No week runs over its share by a whole visit: the fullest week is less than one visit above the least that there can be.
 *
 * What runs over is first tried to be made good by the week after, or a year of it would leave the last weeks empty. That can cost the
 * proof above its ground; so it counts only where, looked at afterwards, no week runs over by a whole visit.
 */
export function shiftVisits(
  alike: readonly AlikeVisits[],
  fixed: readonly number[],
  hours: readonly number[],
  shares: readonly Share[],
): Shifted {
  const longest = alike.reduce((most, group) => Math.max(most, group.minutes), 0)
  const madeGood = layVisits(alike, fixed, hours, shares, true)
  const isWithin = madeGood.loads.every((load, week) => {
    const share = shares[week] ?? NO_SHARE
    return load === 0 || (load - longest) * share.hours < share.minutes * (hours[week] ?? 0)
  })
  return isWithin ? madeGood : layVisits(alike, fixed, hours, shares, false)
}

function layVisits(
  alike: readonly AlikeVisits[],
  fixed: readonly number[],
  hours: readonly number[],
  shares: readonly Share[],
  makesGood: boolean,
): Shifted {
  const loads: number[] = []
  const placed: Placed[] = []
  const waiting: Waiting[][] = hours.map(() => [])
  const arriving: AlikeVisits[][] = hours.map(() => [])
  let over = 0
  for (const group of alike) arriving[group.earliest]?.push(group)
  for (const [week, minutesThere] of hours.entries()) {
    for (const group of inOrder(arriving[week] ?? [])) waiting[group.latest]?.push({ group, left: group.visits })
    const share = shares[week] ?? NO_SHARE
    const target: Share = { minutes: share.minutes * minutesThere - over * share.hours, hours: share.hours }
    const load = fillWeek(week, fixed[week] ?? 0, target, waiting, placed)
    loads.push(load)
    // Whole minutes, rounded down: a week makes good a little less than ran over, never more.
    over = makesGood ? Math.max(0, Math.floor((load * target.hours - target.minutes) / target.hours)) : 0
  }
  return { loads, placed }
}

/** Takes visits into a week, those with the least time left first, until it has its share; what can wait no longer in any case. */
function fillWeek(week: number, fixed: number, target: Share, waiting: Waiting[][], placed: Placed[]): number {
  let load = fixed
  for (let latest = week; latest < waiting.length; latest += 1) {
    if (latest > week && load * target.hours >= target.minutes) break
    for (const one of waiting[latest] ?? []) {
      const count = latest === week ? one.left : Math.min(one.left, stillNeeded(load, target, one.group.minutes))
      if (count === 0) continue
      one.left -= count
      const minutes = count * one.group.minutes
      load += minutes
      placed.push({ from: one.group.planned, to: week, visits: count, minutes })
    }
    waiting[latest] = (waiting[latest] ?? []).filter((one) => one.left > 0)
  }
  return load
}

interface Waiting {
  readonly group: AlikeVisits
  left: number
}

/** Planned first, first; of those the longest, so that a small one is the last to be taken. */
function inOrder(groups: readonly AlikeVisits[]): AlikeVisits[] {
  return groups.toSorted((a, b) => a.planned - b.planned || b.minutes - a.minutes)
}

/** The fewest visits with which a week has its share. */
function stillNeeded(load: number, target: Share, minutes: number): number {
  const missing = target.minutes - load * target.hours
  if (missing <= 0) return 0
  return minutes === 0 ? Number.MAX_SAFE_INTEGER : Math.ceil(missing / (minutes * target.hours))
}
