import { ok, type Result, refused } from '../result.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { readCsv, recogniseSeparator, SEPARATOR_WORDS } from './csv-records.ts'
import { findSheet, type ListSheet, skippedInWords } from './find-sheet.ts'
import { type ColumnGuess, guessMapping } from './guess-mapping.ts'
import { stageColumnParts } from './list-fields.ts'
import { type ListMapping, USUAL_STAGES, useOfRefusedColumn } from './list-mapping.ts'

export interface OpenedList {
  readonly sheet: ListSheet
  /** How it was read, aloud. */
  readonly said: readonly string[]
}

/** More rows than any one dealer has households; a list beyond that would not fit into a usual machine while it is judged. */
export const MOST_ROWS = 100_000

/** Opens a list from its text: separator, header, rows. Refuses what has no rows, no columns, or too many rows. */
export function openList(file: string, text: string, today: CalendarDate): Result<OpenedList> {
  const separator = recogniseSeparator(text)
  const { records, openQuoteLines } = readCsv(text, separator, MOST_ROWS + 1)
  if (records.length > MOST_ROWS)
    return refused('IMPORT_TOO_MANY_ROWS', { file, most: MOST_ROWS.toLocaleString('en-US') })
  if (records.length === 0) return refused('IMPORT_FILE_EMPTY', { file })
  const sheet = findSheet(records, today)
  if (sheet.columns.length < 2) return refused('IMPORT_ONE_COLUMN', { file })
  if (sheet.rows.length === 0) return refused('IMPORT_NO_ROWS', { file })
  const skipped = skippedInWords(sheet.skipped)
  const said = [
    `Cells are parted by ${SEPARATOR_WORDS[separator]}.`,
    sheet.headerLine === null
      ? 'No line names the columns; they are called by their letters.'
      : `The columns are named in line ${sheet.headerLine}.`,
    ...(skipped === '' ? [] : [`${skipped}.`]),
    ...(openQuoteLines.length === 0
      ? []
      : [
          `A quotation mark that never closes, in line ${openQuoteLines.slice(0, 5).join(', ')}, was taken as it stands.`,
        ]),
  ]
  return ok({ sheet, said })
}

const SAMPLE_CELLS = 300

/** Guesses every column of a list; the columns that we put beside refused rows are known for what they are. */
export function guessColumns(sheet: ListSheet, today: CalendarDate): ColumnGuess[] {
  const isOurs = (name: string): boolean => useOfRefusedColumn(name, true) !== null
  const guesses = guessMapping(
    sheet.columns.map((name, index) => ({
      name: isOurs(name) ? '' : name,
      cells: isOurs(name) ? [] : sampleOf(sheet, index),
    })),
    today,
  )
  const isStageARow = guesses.some(({ use }) => use === 'stage')
  return guesses.map((guess, index) => {
    const ours = useOfRefusedColumn(sheet.columns[index] ?? '', isStageARow)
    return ours === null ? guess : { use: ours, confidence: 1 }
  })
}

function sampleOf(sheet: ListSheet, index: number): string[] {
  const cells: string[] = []
  for (const row of sheet.rows) {
    const cell = row.cells[index] ?? ''
    if (cell.trim() !== '') cells.push(cell)
    if (cells.length === SAMPLE_CELLS) break
  }
  return cells
}

/** The mapping that follows from guesses. A list that dates all filters at once is given the usual stages to date. */
export function mappingOfGuesses(guesses: readonly ColumnGuess[]): ListMapping {
  const uses = guesses.map((guess) => guess.use)
  const datesAllFilters = uses.includes('filters-changed-on')
  const namesCartridges = uses.some(
    (use) => use === 'stage' || stageColumnParts(use)?.kind === 'sediment' || stageColumnParts(use)?.kind === 'carbon',
  )
  return {
    uses,
    dateOrder: null,
    hardnessUnit: null,
    usualStages: datesAllFilters && !namesCartridges ? [...USUAL_STAGES] : [],
  }
}
