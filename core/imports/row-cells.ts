import type { ListSheet, SheetRow } from './find-sheet.ts'
import { type ListField, type StageColumnParts, stageColumnParts } from './list-fields.ts'
import type { ListMapping } from './list-mapping.ts'
import { withoutTextMark } from './write-csv.ts'

/** Where each thing stands in a row, worked out once for a list. */
export interface ColumnPlaces {
  readonly columns: readonly string[]
  readonly fields: ReadonlyMap<ListField, number>
  readonly notes: readonly number[]
  readonly stages: readonly (StageColumnParts & { readonly index: number })[]
}

export function columnPlaces(sheet: ListSheet, mapping: ListMapping): ColumnPlaces {
  const fields = new Map<ListField, number>()
  const notes: number[] = []
  const stages: (StageColumnParts & { index: number })[] = []
  for (const [index, use] of mapping.uses.entries()) {
    const parts = stageColumnParts(use)
    if (parts !== null) stages.push({ ...parts, index })
    else if (use === 'notes') notes.push(index)
    else if (use !== 'ignore') fields.set(use as ListField, index)
  }
  return { columns: sheet.columns, fields, notes, stages }
}

/** The cells of one row by what they hold, tidied: no spaces around, no text mark in front, no-break spaces as spaces. */
export class RowCells {
  readonly line: number
  private readonly row: SheetRow
  private readonly places: ColumnPlaces

  constructor(row: SheetRow, places: ColumnPlaces) {
    this.line = row.line
    this.row = row
    this.places = places
  }

  at(index: number): string {
    return tidyCell(this.row.cells[index] ?? '')
  }

  /** The cell of a field; empty when the list has no such column. */
  of(field: ListField): string {
    const index = this.places.fields.get(field)
    return index === undefined ? '' : this.at(index)
  }

  /** The column's own name for a field, for findings. */
  nameOf(field: ListField): string {
    return this.places.columns[this.places.fields.get(field) ?? -1] ?? ''
  }
}

/** Line breaks stay (they are meant, in notes and addresses); other blanks become single spaces. */
export function tidyCell(cell: string): string {
  return withoutTextMark(cell.trim())
    .replaceAll(/[^\S\r\n]+/gu, ' ')
    .replaceAll(/\r\n?/g, '\n')
    .trim()
}
