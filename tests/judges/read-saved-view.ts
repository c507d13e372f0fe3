import { parse } from 'csv-parse/sync'

/** A view that was saved, read back by strangers' rules, and whatever breaks them. */
export interface SavedView {
  readonly headers: readonly string[]
  readonly rows: readonly (readonly string[])[]
  readonly faults: readonly string[]
}

/** What a spreadsheet takes for a formula when a cell begins so. Source: OWASP, "CSV Injection" (from memory). */
const LIVE = /^[=+\-@\t\r]/
const NUMBER = /^-?\d+(?:\.\d+)?$/

/**
 * Reads a saved view as strictly as may be: UTF-8 with its mark, RFC 4180 with CRLF after every row, as many cells in every row as there
 * are headers, no header blank or twice, and no cell that a spreadsheet would run.
 */
export function readSavedView(bytes: Uint8Array): SavedView {
  const faults: string[] = []
  if (bytes[0] !== 0xef || bytes[1] !== 0xbb || bytes[2] !== 0xbf) faults.push('The mark of UTF-8 is missing.')
  const text = new TextDecoder('utf-8', { fatal: true }).decode(bytes)
  if (!text.endsWith('\r\n')) faults.push('The last row does not end with CRLF.')
  const records: string[][] = parse(text, { record_delimiter: '\r\n', relax_column_count: false, relax_quotes: false })
  const [headers = [], ...rows] = records
  if (headers.some((header) => header.trim() === '')) faults.push('A column has no name.')
  if (new Set(headers).size < headers.length) faults.push('Two columns have one name.')
  for (const [at, row] of rows.entries())
    for (const cell of row)
      if (LIVE.test(cell) && !NUMBER.test(cell))
        faults.push(`Row ${at + 1} holds ${JSON.stringify(cell)}, a live cell.`)
  return { headers, rows, faults }
}
