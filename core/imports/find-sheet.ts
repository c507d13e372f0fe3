import type { CalendarDate } from '../units/calendar-date.ts'
import { counted } from '../units/date-words.ts'
import { columnWords, nameSays, PHRASES_BY_FIELD, stageFactNamed, stageNamed } from './column-words.ts'
import type { CsvRecord } from './csv-records.ts'
import { looksLikeDate } from './judge-dates.ts'

/** One row of the list proper: as many cells as there are columns. */
export interface SheetRow {
  readonly line: number
  readonly cells: readonly string[]
  /** Filled cells beyond the last column: the row has slipped, and nothing in it can be trusted. */
  readonly tooLong: boolean
}

/** A list found among what else stands in the file. */
export interface ListSheet {
  /** Unique and never blank; a nameless column with cells is "Column D". */
  readonly columns: readonly string[]
  readonly rows: readonly SheetRow[]
  /** Null when the file begins with its first household. */
  readonly headerLine: number | null
  /** Lines that are no household, with what they are: a title above the header, a total below. */
  readonly skipped: readonly SkippedLine[]
}

export interface SkippedLine {
  readonly line: number
  readonly why: string
}

/** How far down a header is looked for. */
const HEADER_WITHIN = 30

/**
 * Finds the header among the first lines (titles, dates of printing and addresses may stand above it), a group line over it whose
 * names cover several columns, and the lines that are no household: totals, page feet, the header said again.
 */
export function findSheet(records: readonly CsvRecord[], today: CalendarDate): ListSheet {
  const skipped: SkippedLine[] = []
  const first = /^sep=.?$/i.test(records[0]?.cells[0] ?? '') ? 1 : 0
  const lines = records.slice(first)
  const at = headerPosition(lines, today)
  const header = at === null ? null : (lines[at] ?? null)
  const group = at !== null && at > 0 && header ? groupLine(lines[at - 1], header) : null
  for (const record of lines.slice(0, at ?? 0)) {
    skipped.push({
      line: record.line,
      why: record === group ? 'a line of group names over the header' : 'above the header',
    })
  }
  const body = lines.slice(at === null ? 0 : at + 1)
  const names = header ? joinedNames(group, header.cells) : []
  const width = usedWidth(names, body)
  const kept = body.filter((record) => {
    const why = whyNoHousehold(record.cells, header?.cells ?? [])
    if (why !== null) skipped.push({ line: record.line, why })
    return why === null
  })
  return {
    columns: uniqueNames(names, width),
    rows: kept.map((record) => asRow(record, width)),
    headerLine: header?.line ?? null,
    skipped,
  }
}

function asRow({ line, cells }: CsvRecord, width: number): SheetRow {
  const tooLong = cells.slice(width).some((cell) => cell.trim() !== '')
  const missing = width - cells.length
  return { line, cells: missing > 0 ? [...cells, ...Array<string>(missing).fill('')] : cells.slice(0, width), tooLong }
}

function headerPosition(lines: readonly CsvRecord[], today: CalendarDate): number | null {
  const typical = typicalWidth(lines)
  let best: { at: number; score: number } | null = null
  for (const [at, { cells }] of lines.slice(0, HEADER_WITHIN).entries()) {
    const score = headerScore(cells, typical, today)
    if (score > (best?.score ?? 0)) best = { at, score }
  }
  return best?.at ?? null
}

/** The usual count of filled cells in a line of the file. */
function typicalWidth(lines: readonly CsvRecord[]): number {
  const widths = lines.slice(0, 200).map(({ cells }) => filledOf(cells).length)
  widths.sort((a, b) => a - b)
  return widths[Math.floor(widths.length / 2)] ?? 0
}

/** Above zero for a line that names columns: known words count most; what looks like a household's own data speaks against it. */
function headerScore(cells: readonly string[], typical: number, today: CalendarDate): number {
  const filled = filledOf(cells)
  if (filled.length < 2 || filled.length < typical * 0.5) return 0
  let score = 0
  let known = 0
  for (const cell of filled) {
    if (isColumnName(cell)) {
      known += 1
      score += 2
    } else if (looksLikeData(cell, today)) score -= 2
    else score += 0.25
  }
  return known >= 1 && known >= filled.length * 0.25 ? score : 0
}

function filledOf(cells: readonly string[]): string[] {
  return cells.filter((cell) => cell.trim() !== '')
}

function isColumnName(cell: string): boolean {
  const words = columnWords(cell)
  if (words === '' || cell.length > 60) return false
  for (const phrases of PHRASES_BY_FIELD.values()) if (nameSays(words, phrases) >= 0.75) return true
  return stageNamed(cell) !== null && stageFactNamed(words) !== null
}

function looksLikeData(cell: string, today: CalendarDate): boolean {
  return /\d{3,}|@/.test(cell) || looksLikeDate(cell, today) || /^\d+$/.test(cell.trim())
}

/** A line over the header whose names reach over several columns: "Sediment, , Carbon, " over "Changed, Part, Changed, Part". */
function groupLine(above: CsvRecord | undefined, header: CsvRecord): CsvRecord | null {
  if (!above) return null
  const names = filledOf(header.cells).map(columnWords)
  const repeats = new Set(names).size < names.length
  return repeats && filledOf(above.cells).length >= 2 ? above : null
}

function joinedNames(group: CsvRecord | null, header: readonly string[]): string[] {
  const tidy = header.map((name) => name.replaceAll(/\s+/g, ' ').trim())
  if (group === null) return tidy
  const words = tidy.map(columnWords)
  let covering = ''
  return tidy.map((name, index) => {
    const own = (group.cells[index] ?? '').trim()
    if (own !== '') covering = own
    const repeated = words.indexOf(words[index] ?? '') !== words.lastIndexOf(words[index] ?? '')
    return covering !== '' && (repeated || own !== '') ? `${covering} ${name}`.trim() : name
  })
}

/** Columns at the end with neither a name nor a cell in any row are not there. */
function usedWidth(names: readonly string[], body: readonly CsvRecord[]): number {
  let width = names.length
  while (width > 0 && names[width - 1] === '') width -= 1
  if (names.length === 0) {
    for (const { cells } of body) {
      const last = cells.findLastIndex((cell) => cell.trim() !== '')
      width = Math.max(width, last + 1)
    }
  } else if (width < names.length) {
    // A nameless column at the end counts when a tenth of the rows use it; a single stray cell is a slipped row.
    for (let index = names.length - 1; index >= width; index--) {
      if (body.filter(({ cells }) => (cells[index] ?? '').trim() !== '').length >= Math.max(2, body.length / 10))
        return index + 1
    }
  }
  return width
}

function uniqueNames(names: readonly string[], width: number): string[] {
  const seen = new Map<string, number>()
  return Array.from({ length: width }, (_, index) => {
    const name = names[index] || `Column ${columnLetters(index)}`
    const count = (seen.get(name.toLowerCase()) ?? 0) + 1
    seen.set(name.toLowerCase(), count)
    return count === 1 ? name : `${name} (${count})`
  })
}

/** A, B, ... Z, AA: as spreadsheets letter their columns. */
export function columnLetters(index: number): string {
  const letter = String.fromCharCode(65 + (index % 26))
  return index < 26 ? letter : `${columnLetters(Math.floor(index / 26) - 1)}${letter}`
}

const TOTAL = /^(?:grand |sub ?)?(?:totals?|sum|summe|gesamt|count|average)\b[\s:]*[\d.,$€]*$/i
const COUNTED = /^\d[\d,.]*\s+(?:customers?|households?|records?|rows?|entries|items)\b/i
const PAGE_FOOT = /^(?:page \d+|printed\b|end of (?:list|report)|generated\b|report date|exported\b|\*+|-{3,}|={3,})/i

function whyNoHousehold(cells: readonly string[], header: readonly string[]): string | null {
  const filled = filledOf(cells)
  if (filled.length === 0) return 'blank'
  const lead = (filled[0] ?? '').trim()
  if (TOTAL.test(lead) && filled.length <= Math.max(3, cells.length / 2)) return 'a total'
  if (filled.length <= 3 && COUNTED.test(lead)) return 'a count'
  if (filled.length <= 2 && PAGE_FOOT.test(lead)) return 'the foot of a page'
  const again =
    header.length > 0 && filled.length > 1 && cells.every((cell, index) => cell.trim() === (header[index] ?? '').trim())
  return again ? 'the header said again' : null
}

/** "3 lines above the header", "2 totals": what was left aside, in words, for the line over the table. */
export function skippedInWords(skipped: readonly SkippedLine[]): string {
  const byWhy = new Map<string, number[]>()
  for (const { line, why } of skipped) {
    if (why !== 'blank') byWhy.set(why, [...(byWhy.get(why) ?? []), line])
  }
  return [...byWhy]
    .map(
      ([why, lines]) =>
        `${counted(lines.length, 'line')} left aside (${why}: ${lines.slice(0, 5).join(', ')}${lines.length > 5 ? ' and more' : ''})`,
    )
    .join('; ')
}
