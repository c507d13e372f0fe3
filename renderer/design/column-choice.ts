import { useState } from 'react'
import type { TableColumn } from './table-columns.ts'

const KEY = 'penstock.columns.'

/** Which columns of a table are shown; remembered on this machine by the table's name. The fixed ones always are. */
export function useColumnChoice<Item>(
  table: string,
  columns: readonly TableColumn<Item>[],
): [ReadonlySet<string>, (shown: ReadonlySet<string>) => void] {
  const [shown, setShown] = useState<ReadonlySet<string>>(() => remembered(table) ?? usualColumns(columns))
  const choose = (next: ReadonlySet<string>): void => {
    const withFixed = new Set([...next, ...columns.filter((column) => column.fixed).map((column) => column.id)])
    setShown(withFixed)
    try {
      localStorage.setItem(KEY + table, JSON.stringify([...withFixed]))
    } catch {
      // A full or forbidden store: the choice holds until the window is closed.
    }
  }
  const known = new Set(columns.filter((column) => column.fixed || shown.has(column.id)).map((column) => column.id))
  return [known.size > 0 ? known : usualColumns(columns), choose]
}

export function usualColumns<Item>(columns: readonly TableColumn<Item>[]): ReadonlySet<string> {
  return new Set(columns.filter((column) => !column.hidden).map((column) => column.id))
}

function remembered(table: string): ReadonlySet<string> | null {
  try {
    const text = localStorage.getItem(KEY + table)
    const ids: unknown = text === null ? null : JSON.parse(text)
    return Array.isArray(ids) ? new Set(ids.filter((id): id is string => typeof id === 'string')) : null
  } catch {
    return null
  }
}
