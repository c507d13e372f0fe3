import type { AriaAttributes } from 'react'

/**
 * What the table's parts are to a screen reader. They are no table elements: virtual rows lie on a CSS grid, and a browser
 * forgets what a table element is when its display changes.
 */
interface GridWords {
  readonly label: string
  readonly rows: number
  readonly columns: number
  readonly chooses: boolean
  readonly isBusy: boolean
  /** Id of the row in hand, when it is drawn. */
  readonly active: string | undefined
}

export function gridRole(words: GridWords): AriaAttributes & { readonly role: 'grid'; readonly tabIndex: 0 } {
  return {
    role: 'grid',
    tabIndex: 0,
    'aria-label': words.label,
    'aria-rowcount': words.rows,
    'aria-colcount': words.columns,
    'aria-multiselectable': words.chooses ? true : undefined,
    'aria-busy': words.isBusy,
    'aria-activedescendant': words.active,
  }
}

export const ROW_GROUP = { role: 'rowgroup' } as const

/** A row; `index` counts from 1 with the headers as the first. `isChosen` null where nothing can be chosen. */
export function rowRole(
  index: number,
  isChosen: boolean | null = null,
  isOpen = false,
): AriaAttributes & { readonly role: 'row' } {
  return {
    role: 'row',
    'aria-rowindex': index,
    'aria-selected': isChosen ?? undefined,
    'aria-current': isOpen || undefined,
  }
}

export function headerRole(
  sorted: 'ascending' | 'descending' | null = null,
): AriaAttributes & { readonly role: 'columnheader' } {
  return { role: 'columnheader', 'aria-sort': sorted ?? undefined }
}

export const CELL = { role: 'gridcell' } as const
