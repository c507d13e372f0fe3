import type { ChoiceQuestion } from '../../core/stock/choose-visits.ts'

/**
 * The most that a set of visits can be worth, by trying every set, and for each every way to share out the pieces, one at a time. For
 * questions of a few visits only. Shares no code with the planner.
 */
export function mostWorthOfAllSets(question: ChoiceQuestion): number {
  let most = 0
  for (let set = 0; set < 2 ** question.visits.length; set += 1) {
    const chosen = question.visits.filter((_, visit) => Math.floor(set / 2 ** visit) % 2 === 1)
    const worth = chosen.reduce((sum, visit) => sum + visit.worth, 0)
    if (worth > most && canBeServed(question, set)) most = worth
  }
  return most
}

/** Whether a set, as bits, can be served whole. */
export function canBeServed(question: ChoiceQuestion, set: number): boolean {
  const wanted = question.visits.flatMap(({ wants }, visit) =>
    Math.floor(set / 2 ** visit) % 2 === 1 ? wants.flatMap((want) => new Array(want.quantity).fill(want.heaps)) : [],
  )
  const dead = new Set<string>()
  const share = (next: number, left: readonly number[]): boolean => {
    const heaps = wanted[next]
    if (!heaps) return true
    const seen = `${next} ${left.join()}`
    if (dead.has(seen)) return false
    for (const heap of heaps) {
      if ((left[heap] ?? 0) === 0) continue
      if (
        share(
          next + 1,
          left.map((pieces, each) => (each === heap ? pieces - 1 : pieces)),
        )
      )
        return true
    }
    dead.add(seen)
    return false
  }
  return share(0, question.pieces)
}
