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
 * Lays whole visits into the weeks, given the share of its hours that each week carries when visits may be cut (`evenOut`), and moves
 * little: what is planned in a week goes before what was put off, and that before what would come early, which is
 * taken from weeks that hold too much.
 *
 * No visit misses its latest week. Before week w it holds for every later week b: what is not placed yet and bound to the weeks up to
 * b is no more than the shares of the weeks w to b. At the beginning that is what `evenOut` makes sure of. In week w so much of what
 * can be there and is bound to the weeks up to b is taken that the rest fits the shares of w + 1 to b; by what held before, that is
 * never more than the share of w itself, for the tightest b. So it holds before week w + 1, and with b = w it says that nothing is left.
 * No week runs over its share by a whole visit: what has to be in it is at most its share, and what it is filled up with stops there.
 * The fullest week is therefore less than one visit above the least that there can be.
 *
 * What ran over is made good by the week after when it is filled up, or a year of it would leave the last weeks empty.
 */
export function shiftVisits(
  alike: readonly AlikeVisits[],
  fixed: readonly number[],
  hours: readonly number[],
  shares: readonly Share[],
): Shifted {
  const room = roomOf(fixed, hours, shares)
  const boundWithin = withinTable(alike, hours.length)
  const surplus = surplusOf(alike, room)
  const placed: Placed[] = []
  const loads: number[] = []
  let waiting: Waiting[] = []
  let over = 0
  for (const [week, share] of room.entries()) {
    waiting.push(...alike.filter((group) => group.earliest === week).map((group) => ({ group, left: group.visits })))
    waiting.sort((a, b) => preference(a.group, week) - preference(b.group, week) || a.group.latest - b.group.latest)
    let taken = 0
    const take = (one: Waiting, count: number): void => {
      const minutes = count * one.group.minutes
      one.left -= count
      taken += minutes
      surplus[one.group.planned] = (surplus[one.group.planned] ?? 0) - minutes
      placed.push({ from: one.group.planned, to: week, visits: count, minutes })
    }
    for (const { until, minutes } of needsOf(week, waiting, boundWithin, room))
      for (const one of waiting)
        if (one.group.latest <= until) take(one, Math.min(one.left, upTo(minutes - taken, one.group.minutes)))
    for (const one of waiting)
      take(one, Math.min(one.left, upTo(share - over - taken, one.group.minutes), spareOf(one.group, week, surplus)))
    waiting = waiting.filter((one) => one.left > 0)
    over = Math.max(0, taken + over - share)
    loads.push(taken + (fixed[week] ?? 0))
  }
  return { loads, placed: placed.filter(({ visits }) => visits > 0) }
}

interface Waiting {
  readonly group: AlikeVisits
  left: number
}

/** The weeks' shares in minutes, less what is fixed. Rounded up: a whole visit that ends below it ends below the share itself. */
function roomOf(fixed: readonly number[], hours: readonly number[], shares: readonly Share[]): number[] {
  return hours.map((there, week) => {
    const share = shares[week] ?? NO_SHARE
    return Math.ceil((share.minutes * there) / share.hours) - (fixed[week] ?? 0)
  })
}

/** Minutes bound within the weeks from the row to the column. */
function withinTable(alike: readonly AlikeVisits[], weeks: number): readonly Float64Array[] {
  const table = Array.from({ length: weeks + 1 }, () => new Float64Array(weeks))
  for (const { earliest, latest, minutes, visits } of alike) {
    const row = table[earliest]
    if (row) row[latest] = (row[latest] ?? 0) + minutes * visits
  }
  for (let from = weeks - 1; from >= 0; from -= 1) {
    let ownUntil = 0
    const row = table[from] ?? new Float64Array()
    for (let until = 0; until < weeks; until += 1) {
      ownUntil += row[until] ?? 0
      row[until] = ownUntil + (table[from + 1]?.[until] ?? 0)
    }
  }
  return table
}

/** What each week is planned to hold above its share; below nothing where it holds less. */
function surplusOf(alike: readonly AlikeVisits[], room: readonly number[]): number[] {
  const surplus = room.map((minutes) => -minutes)
  for (const { planned, minutes, visits } of alike) surplus[planned] = (surplus[planned] ?? 0) + minutes * visits
  return surplus
}

/** In order: planned in this very week, put off from earlier ones (the longest since first), coming early (the nearest first). */
function preference({ planned }: AlikeVisits, week: number): number {
  if (planned === week) return -1000
  return planned < week ? planned - week : planned
}

/** How much of what is bound to the weeks up to each later one has to be in this week. */
function needsOf(
  week: number,
  waiting: readonly Waiting[],
  boundWithin: readonly Float64Array[],
  room: readonly number[],
): { readonly until: number; readonly minutes: number }[] {
  const byLatest = room.map(() => 0)
  for (const { group, left } of waiting) byLatest[group.latest] = (byLatest[group.latest] ?? 0) + left * group.minutes
  const needs: { until: number; minutes: number }[] = []
  let here = 0
  let later = 0
  for (let until = week; until < room.length; until += 1) {
    here += byLatest[until] ?? 0
    later += until > week ? (room[until] ?? 0) : 0
    // What takes no minutes has its last week, too.
    if (here > 0 || until === week) needs.push({ until, minutes: here + (boundWithin[week + 1]?.[until] ?? 0) - later })
  }
  return needs.filter(({ until, minutes }) => minutes > 0 || until === week)
}

/** The fewest visits with which so many minutes are reached; visits without length all at once. */
function upTo(missing: number, minutes: number): number {
  if (minutes === 0) return Number.MAX_SAFE_INTEGER
  return missing <= 0 ? 0 : Math.ceil(missing / minutes)
}

/** How many may come early: only what their own week holds above its share. */
function spareOf({ planned, minutes }: AlikeVisits, week: number, surplus: readonly number[]): number {
  if (planned <= week) return Number.MAX_SAFE_INTEGER
  return minutes === 0 ? 0 : Math.max(0, Math.floor((surplus[planned] ?? 0) / minutes))
}
