/** Minutes of visits that must lie in a span of weeks; both ends belong to it. */
export interface BoundMinutes {
  readonly earliest: number
  readonly latest: number
  readonly minutes: number
}

/** Minutes of visits against minutes there are: an exact share, never rounded. */
export interface Share {
  readonly minutes: number
  readonly hours: number
}

/** Weeks from one to another, and what lies in them. */
export interface Stretch extends Share {
  readonly from: number
  readonly until: number
}

export const NO_SHARE: Share = { minutes: 0, hours: 1 }

/** Above 0 when `a` is the larger share. Whole minutes of a large office stay far below 2^53 when multiplied. */
export function compareShares(a: Share, b: Share): number {
  return a.minutes * b.hours - b.minutes * a.hours
}

export interface EvenedOut {
  /** The share of its hours that each week carries. */
  readonly shares: readonly Share[]
  /** The weeks that say how low the fullest week can be; null when there is nothing to do. */
  readonly fullest: Stretch | null
}

/**
 * Spreads minutes over the weeks they are bound to as evenly as that can be done, when a visit may be cut at any minute.
 *
 * Let D(a, b) be the minutes that are bound within the weeks a to b, and H(a, b) the hours of these weeks. Then the smallest share of
 * its hours that the fullest week can be brought to is p = max D(a, b) / H(a, b) over all stretches of weeks.
 *
 * Not below: what is bound within a to b has nowhere else to go, and together these weeks hold p H(a, b) at most.
 * Reached: let minutes flow from their source to each bound piece, from a piece to every week of its span, and from a week w to the
 * end, there p H(w) at most. By max-flow min-cut everything flows when no cut is smaller. A cut of finite size is a set W of weeks:
 * pieces that lie wholly in W may stay uncut, all others are cut, and so are the weeks of W; it is too small only if the pieces bound
 * within W exceed p H(W) (Hall's condition). W falls apart into stretches without a gap; a span lies in W only if it lies in one
 * of them; so a set that is too full has a stretch that is too full, and there is none.
 *
 * The weeks of the fullest stretch carry p each and nothing from outside can be added or taken away below p. Without them, the rest
 * is the same question again on the weeks left over: a piece that reached into the stretch keeps the weeks it has outside it. So
 * every week gets the least that the fuller ones allow. That is the critical-interval argument of Yao, Demers and Shenker (A
 * scheduling model for reduced CPU energy, FOCS 1995): the result is least for every convex measure of unevenness at once.
 *
 * Weeks without hours take nothing; what is bound to such weeks alone has to be left out by whoever asks. Of stretches that are
 * equally full the widest is taken, and so no week without hours is ever left alone with a piece. At most one round a week of it,
 * each in the square of the weeks: the number of visits does not matter once they are added up.
 */
export function evenOut(bound: readonly BoundMinutes[], hours: readonly number[]): EvenedOut {
  const shares: Share[] = hours.map(() => NO_SHARE)
  let weeks = hours.map((_, week) => week)
  let table = tableOf(bound, weeks.length)
  let fullest: Stretch | null = null
  for (;;) {
    const found = fullestStretch(
      table,
      weeks.map((week) => hours[week] ?? 0),
    )
    if (found === null) return { shares, fullest }
    const taken = weeks.slice(found.from, found.until + 1)
    for (const week of taken) shares[week] = { minutes: found.minutes, hours: found.hours }
    fullest ??= found
    table = withoutStretch(table, weeks.length, found)
    weeks = [...weeks.slice(0, found.from), ...weeks.slice(found.until + 1)]
  }
}

/** Minutes by earliest week (row) and latest week (column). */
type SpanTable = readonly Float64Array[]

function emptyTable(weeks: number): Float64Array[] {
  return Array.from({ length: weeks }, () => new Float64Array(weeks))
}

function tableOf(bound: readonly BoundMinutes[], weeks: number): SpanTable {
  const table = emptyTable(weeks)
  for (const { earliest, latest, minutes } of bound) {
    const row = table[earliest]
    if (!row || latest < earliest || latest >= weeks) throw new RangeError(`Not a span of weeks: ${earliest} ${latest}`)
    row[latest] = (row[latest] ?? 0) + minutes
  }
  return table
}

/** The stretch with the largest share, the widest of several; null when nothing is bound any more. */
function fullestStretch(table: SpanTable, hours: readonly number[]): Stretch | null {
  const weeks = hours.length
  const within = emptyTable(weeks)
  let best: Stretch | null = null
  for (let length = 1; length <= weeks; length += 1) {
    let total = hours.slice(0, length).reduce((sum, each) => sum + each, 0)
    for (let from = 0; from + length <= weeks; from += 1) {
      const until = from + length - 1
      const inner = from + 1 <= until - 1 ? (within[from + 1]?.[until - 1] ?? 0) : 0
      const both = length > 1 ? (within[from + 1]?.[until] ?? 0) + (within[from]?.[until - 1] ?? 0) - inner : 0
      const minutes = both + (table[from]?.[until] ?? 0)
      const row = within[from]
      if (row) row[until] = minutes
      if (minutes > 0 && total > 0) {
        const stretch: Stretch = { from, until, minutes, hours: total }
        if (best === null || compareShares(stretch, best) >= 0) best = stretch
      }
      total += (hours[from + length] ?? 0) - (hours[from] ?? 0)
    }
  }
  return best
}

/** The same spans on the weeks that are left when a stretch is taken out; what lay wholly in it is gone. */
function withoutStretch(table: SpanTable, weeks: number, { from, until }: Stretch): SpanTable {
  const gone = until - from + 1
  const left = emptyTable(weeks - gone)
  for (let earliest = 0; earliest < weeks; earliest += 1)
    for (let latest = earliest; latest < weeks; latest += 1) {
      const minutes = table[earliest]?.[latest] ?? 0
      if (minutes === 0 || (earliest >= from && latest <= until)) continue
      const newEarliest = earliest < from ? earliest : earliest <= until ? from : earliest - gone
      const newLatest = latest < from ? latest : latest <= until ? from - 1 : latest - gone
      const row = left[newEarliest]
      if (row) row[newLatest] = (row[newLatest] ?? 0) + minutes
    }
  return left
}
