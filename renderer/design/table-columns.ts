import type { ReactNode } from 'react'

/** What a column knows. Columns stand in an `x-columns.tsx` file, at module scope, and nowhere else. */
export interface TableColumn<Item> {
  /** Short and lasting: sorting and the remembered choice of columns go by it. */
  readonly id: string
  readonly header: string
  /** What it sorts by here, and what it shows and exports unless told otherwise. */
  readonly value: (item: Item) => string | number | null
  readonly cell?: (item: Item) => ReactNode
  /** What the exported list says; `value` when absent. */
  readonly csv?: (item: Item) => string | number | null
  /** px, or a share of what is left over: `{ share: 2, least: 160 }`. */
  readonly width: number | { readonly share: number; readonly least: number }
  /** Figures stand under each other, flush right. */
  readonly figures?: boolean
  /** Whether the header sorts. Default true for tables that sort at all. */
  readonly sorts?: boolean
  /** Sorts latest or largest first when first pressed. */
  readonly largestFirst?: boolean
  /** Not shown until chosen. */
  readonly hidden?: boolean
  /** Always shown. */
  readonly fixed?: boolean
}

export interface TableSort {
  readonly column: string
  readonly descending: boolean
}

/** A key that does something with the chosen rows, or with the row in hand when none is chosen. */
export interface TableKey<Item> {
  /** One letter, as typed: "b". */
  readonly key: string
  /** What it does, for the line at the foot: "books" gives "B books". */
  readonly does: string
  readonly run: (items: readonly Item[]) => void
}

/** Widths of the shown columns as a CSS grid template. */
export function columnTemplate<Item>(columns: readonly TableColumn<Item>[], withChoice: boolean): string {
  const widths = columns.map((column) =>
    typeof column.width === 'number' ? `${column.width}px` : `minmax(${column.width.least}px, ${column.width.share}fr)`,
  )
  return [...(withChoice ? ['36px'] : []), ...widths].join(' ')
}

/** The least width at which no column is cut, px. */
export function leastWidth<Item>(columns: readonly TableColumn<Item>[], withChoice: boolean): number {
  const widths = columns.map((column) => (typeof column.width === 'number' ? column.width : column.width.least))
  return widths.reduce((sum, width) => sum + width, withChoice ? 36 : 0)
}

/** A view as lines for `writeCsv`: the shown columns, every item. */
export function exportLines<Item>(
  columns: readonly TableColumn<Item>[],
  items: readonly Item[],
): { readonly headers: string[]; readonly lines: (string | number | null)[][] } {
  return {
    headers: columns.map((column) => column.header),
    lines: items.map((item) => columns.map((column) => (column.csv ?? column.value)(item))),
  }
}
