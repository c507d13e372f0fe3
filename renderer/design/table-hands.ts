/** Where the hand is in a table, and what is chosen. Plain data, so that the keyboard can be tried without a window. */

/** The row the key leads to, or null when the key does not move. `page` is the number of rows in sight. */
export function rowAfterKey(key: string, current: number, count: number, page: number): number | null {
  if (count === 0) return null
  const last = count - 1
  const at = Math.min(Math.max(current, 0), last)
  switch (key) {
    case 'ArrowDown':
      return current < 0 ? 0 : Math.min(at + 1, last)
    case 'ArrowUp':
      return current < 0 ? 0 : Math.max(at - 1, 0)
    case 'PageDown':
      return Math.min(at + Math.max(1, page - 1), last)
    case 'PageUp':
      return Math.max(at - Math.max(1, page - 1), 0)
    case 'Home':
      return 0
    case 'End':
      return last
    default:
      return null
  }
}

/** The choice after a row is chosen or let go. */
export function toggled(chosen: ReadonlySet<string>, key: string): Set<string> {
  const next = new Set(chosen)
  if (!next.delete(key)) next.add(key)
  return next
}

/** The choice with every row between two added (both included), in either direction. */
export function withRange(chosen: ReadonlySet<string>, keys: readonly string[], from: number, to: number): Set<string> {
  const next = new Set(chosen)
  for (const key of keys.slice(Math.min(from, to), Math.max(from, to) + 1)) next.add(key)
  return next
}

/** All in sight chosen becomes none of them; anything else becomes all of them. What is out of sight stays as it was. */
export function withAll(chosen: ReadonlySet<string>, keys: readonly string[]): Set<string> {
  const next = new Set(chosen)
  const everyOne = keys.length > 0 && keys.every((key) => chosen.has(key))
  for (const key of keys) {
    if (everyOne) next.delete(key)
    else next.add(key)
  }
  return next
}

/** Whether all, some or none of the rows in sight are chosen. */
export function choiceOf(chosen: ReadonlySet<string>, keys: readonly string[]): 'all' | 'some' | 'none' {
  const count = keys.reduce((sum, key) => sum + (chosen.has(key) ? 1 : 0), 0)
  if (count === 0) return 'none'
  return count === keys.length ? 'all' : 'some'
}
