import type { TableKey } from './table-columns.ts'
import { rowAfterKey } from './table-hands.ts'

/** What a key press says, without the window around it. */
export interface Press {
  readonly key: string
  readonly shiftKey: boolean
  readonly ctrlKey: boolean
  readonly metaKey: boolean
}

/** What the table can do with a press. Indexes are rows in the shown order; `hand` is -1 before any row is in hand. */
export interface TableActions {
  readonly count: number
  readonly page: number
  readonly hand: number
  readonly goTo: (index: number) => void
  readonly choose: (index: number, range: boolean) => void
  readonly extend: (to: number) => void
  readonly chooseAll: () => void
  readonly open: (index: number) => void
  /** True when a key of the screen took it. */
  readonly letter: (key: string) => boolean
}

/** Acts on a key press in the table; false when the press means nothing here. */
export function handleTableKey(press: Press, actions: TableActions): boolean {
  const command = press.ctrlKey || press.metaKey
  if (command && press.key.toLowerCase() === 'a') {
    actions.chooseAll()
    return true
  }
  if (command) return false
  if (press.key === ' ' || press.key === 'Enter') {
    if (actions.hand < 0 || actions.hand >= actions.count) return false
    if (press.key === ' ') actions.choose(actions.hand, press.shiftKey)
    else actions.open(actions.hand)
    return true
  }
  const next = rowAfterKey(press.key, actions.hand, actions.count, actions.page)
  if (next !== null) {
    if (press.shiftKey) actions.extend(next)
    actions.goTo(next)
    return true
  }
  return press.key.length === 1 && !press.shiftKey && actions.letter(press.key.toLowerCase())
}

/** Runs the screen's key on the chosen rows, or on the row in hand. False when there is no such key or nothing to act on. */
export function runTableKey<Item>(keys: readonly TableKey<Item>[], key: string, items: readonly Item[]): boolean {
  const found = keys.find((candidate) => candidate.key.toLowerCase() === key)
  if (!found || items.length === 0) return false
  found.run(items)
  return true
}

/** The chosen rows in shown order, or else the row in hand. */
export function itemsInHand<Item>(
  items: readonly Item[],
  keys: readonly string[],
  chosen: ReadonlySet<string>,
  hand: number,
): readonly Item[] {
  const picked = chosen.size === 0 ? [] : items.filter((_, index) => chosen.has(keys[index] ?? ''))
  if (picked.length > 0) return picked
  const item = items[hand]
  return item === undefined ? [] : [item]
}
