/** What a cell of an exported list may hold. A number stays a number for the spreadsheet; null is a blank cell. */
export type CsvCell = string | number | null

/**
 * What makes a spreadsheet take a cell for a formula: = + - @, tab, line breaks, and the full-width forms of the four signs,
 * also behind spaces. Source: OWASP, "CSV Injection" (from memory).
 */
const FORMULA_START = '[=+\\-@\\uFF1D\\uFF0B\\uFF0D\\uFF20\\t\\r\\n]'
const LOOKS_LIVE = new RegExp(`^'*[\\s\\uFEFF]*${FORMULA_START}`, 'u')
/** A cell that already begins like a text mark of ours gets one more, so that reading takes exactly one away. */
const LOOKS_MARKED = /^'+\d/
/** The mark is taken off only where it guards something: "'t Hooft" keeps its apostrophe. */
const MARKED = new RegExp(`^'(?='*[\\s\\uFEFF]*${FORMULA_START}|'*\\d)`, 'u')

const NEEDS_QUOTES = /["\r\n,;\t]|^\s|\s$|^'/

/** So that spreadsheets read the file as UTF-8. */
export const BYTE_ORDER_MARK = '\uFEFF'

/**
 * A list as CSV: RFC 4180 (comma, quotes doubled, CRLF after every row), UTF-8 with a byte order mark, and safe to open in a
 * spreadsheet: text that would be taken for a formula is given a leading apostrophe, the spreadsheets' own mark for "this is text".
 * `writeCsv(['Note'], [['=1+1']])` holds the cell `'=1+1`. Money and measures belong in as numbers.
 */
export function writeCsv(columns: readonly string[], rows: readonly (readonly CsvCell[])[]): string {
  const lines = [columns, ...rows].map(csvLine)
  return `${BYTE_ORDER_MARK}${lines.join('\r\n')}\r\n`
}

/** Takes back the apostrophe that `writeCsv`, or a spreadsheet, put before text: `'02134` is `02134`. */
export function withoutTextMark(cell: string): string {
  return cell.replace(MARKED, '')
}

function csvLine(cells: readonly CsvCell[]): string {
  const line = cells.map(csvCell).join(',')
  // A row of one blank cell would be an empty line, which readers skip.
  return line === '' ? '""' : line
}

function csvCell(cell: CsvCell): string {
  if (cell === null) return ''
  if (typeof cell === 'number') return Number.isFinite(cell) ? String(cell) : ''
  const text = LOOKS_LIVE.test(cell) || LOOKS_MARKED.test(cell) ? `'${cell}` : cell
  return NEEDS_QUOTES.test(text) ? `"${text.replaceAll('"', '""')}"` : text
}
