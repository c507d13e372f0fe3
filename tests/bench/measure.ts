/** One line of the bench: what was measured, and what it is held against. */
export interface MeasureLine {
  readonly name: string
  readonly value: number
  readonly unit: string
  /** Ours over the bare way, where there is one. */
  readonly ratio?: number
  /** What the value should stay under, in its own unit. */
  readonly floor?: number
}

/** A measure, or a few that share their set-up. */
export interface Measure {
  readonly name: string
  /**
   * `households` is how large the measured office is; measures of a fixed size take at most that many. `letters`: so many are drawn, too; 0
   * for none beyond the usual thousand.
   */
  readonly run: (households: number, letters: number) => Promise<readonly MeasureLine[]>
}

/** The middle of some goes, in milliseconds; a few before them do not count. */
export async function middleOf(goes: number, job: () => unknown): Promise<number> {
  for (let warm = 0; warm < 2; warm += 1) await job()
  const times: number[] = []
  for (let go = 0; go < goes; go += 1) {
    const begun = performance.now()
    await job()
    times.push(performance.now() - begun)
  }
  return middle(times)
}

/** The middle one of some times; 0 of none. */
export function middle(times: readonly number[]): number {
  const sorted = [...times].sort((a, b) => a - b)
  return sorted[Math.floor(sorted.length / 2)] ?? 0
}

/** The longest time that nobody else could be answered while a job ran: the middle of some goes, in milliseconds. */
export async function longestHold(goes: number, job: () => Promise<unknown>): Promise<number> {
  const holds: number[] = []
  for (let go = 0; go < goes; go += 1) {
    let [last, longest, isOver] = [performance.now(), 0, false]
    const look = () => {
      const now = performance.now()
      longest = Math.max(longest, now - last)
      last = now
      if (!isOver) setImmediate(look)
    }
    setImmediate(look)
    await job()
    look()
    isOver = true
    holds.push(longest)
  }
  return middle(holds)
}
