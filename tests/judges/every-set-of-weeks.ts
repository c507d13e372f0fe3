/** A span of weeks and the minutes that are bound to it. */
interface Bound {
  readonly earliest: number
  readonly latest: number
  readonly minutes: number
}

/**
 * The smallest share of its hours that the fullest week can have, by Hall's condition over every set of weeks there is, with gaps or
 * without: none may have more bound within it than it holds. As a fraction; for some eight weeks.
 */
export function leastShareOfEverySet(bound: readonly Bound[], hours: readonly number[]): readonly [number, number] {
  let best: readonly [number, number] = [0, 1]
  for (let set = 1; set < 1 << hours.length; set += 1) {
    const has = (week: number) => (set & (1 << week)) !== 0
    const there = hours.reduce((sum, each, week) => sum + (has(week) ? each : 0), 0)
    const within = bound.reduce((sum, { earliest, latest, minutes }) => {
      for (let week = earliest; week <= latest; week += 1) if (!has(week)) return sum
      return sum + minutes
    }, 0)
    if (there > 0 && within * best[1] > best[0] * there) best = [within, there]
  }
  return best
}

interface WholeVisit {
  readonly earliest: number
  readonly latest: number
  readonly minutes: number
}

/** The fullest week's share in the best of all ways to lay whole visits into their weeks. As a fraction; for some seven visits. */
export function leastShareOfWholeVisits(
  visits: readonly WholeVisit[],
  fixed: readonly number[],
  hours: readonly number[],
): readonly [number, number] {
  const loads = [...fixed]
  let best: readonly [number, number] | null = null
  const fullest = (): readonly [number, number] =>
    loads.reduce<readonly [number, number]>(
      (most, load, week) => (load * most[1] > most[0] * (hours[week] ?? 0) ? [load, hours[week] ?? 0] : most),
      [0, 1],
    )
  const lay = (index: number): void => {
    const visit = visits[index]
    if (!visit) {
      const found = fullest()
      if (best === null || found[0] * best[1] < best[0] * found[1]) best = found
      return
    }
    for (let week = visit.earliest; week <= visit.latest; week += 1) {
      if (hours[week] === 0) continue
      loads[week] = (loads[week] ?? 0) + visit.minutes
      lay(index + 1)
      loads[week] = (loads[week] ?? 0) - visit.minutes
    }
  }
  lay(0)
  return best ?? [0, 1]
}
