/** One visit of a day as its windows see it; minutes since midnight. */
export interface Door {
  readonly windowFrom: number
  readonly windowUntil: number
  readonly minutes: number
}

/** Beyond this many doors a day is too full to be reckoned through; nobody serves so many. */
export const MOST_DOORS = 14

/**
 * Whether one person can be at every door within its window, in some order, driving the same minutes between any two.
 * Exact: for every set of doors the earliest moment at which all of them can be done. Null beyond `MOST_DOORS`.
 */
export function canReachEveryDoor(doors: readonly Door[], dayStartsAt: number, driveMinutes: number): boolean | null {
  if (doors.length > MOST_DOORS) return null
  const sets = 2 ** doors.length
  const doneAt = new Float64Array(sets).fill(Number.POSITIVE_INFINITY)
  doneAt[0] = dayStartsAt
  for (let set = 0; set < sets; set += 1) {
    const free = doneAt[set] ?? Number.POSITIVE_INFINITY
    if (free === Number.POSITIVE_INFINITY) continue
    for (const [index, door] of doors.entries()) {
      const bit = 2 ** index
      if ((set & bit) !== 0) continue
      const arrives = Math.max(free + driveMinutes, door.windowFrom)
      if (arrives > door.windowUntil) continue
      const next = set | bit
      doneAt[next] = Math.min(doneAt[next] ?? Number.POSITIVE_INFINITY, arrives + door.minutes)
    }
  }
  return doneAt[sets - 1] !== Number.POSITIVE_INFINITY
}
