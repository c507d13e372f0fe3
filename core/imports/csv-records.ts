export const SEPARATORS = [',', ';', '\t', '|'] as const
export type Separator = (typeof SEPARATORS)[number]

export const SEPARATOR_WORDS: Readonly<Record<Separator, string>> = {
  ',': 'commas',
  ';': 'semicolons',
  '\t': 'tabs',
  '|': 'upright strokes',
}

/** One record of the file. `line` is where it begins in the file, counted from 1, quoted line breaks included. */
export interface CsvRecord {
  readonly line: number
  readonly cells: readonly string[]
}

export interface ReadCsv {
  readonly records: readonly CsvRecord[]
  /** Lines with a quotation mark that never closes; it was taken as an inch mark or the like. */
  readonly openQuoteLines: readonly number[]
}

/**
 * Reads CSV as RFC 4180 has it, with any separator and any line end, and forgives what spreadsheets and hands do wrong: quotation
 * marks inside a cell stand for themselves, spaces around quotes are dropped, one that never closes is taken literally.
 * Blank lines are left out; line numbers stay true. `most` bounds the records read.
 */
export function readCsv(text: string, separator: Separator, most = Number.POSITIVE_INFINITY): ReadCsv {
  const reader = new CsvReader(text, separator)
  const records: CsvRecord[] = []
  while (!reader.atEnd() && records.length < most) {
    const record = reader.nextRecord()
    if (record.cells.some((cell) => cell !== '')) records.push(record)
  }
  return { records, openQuoteLines: reader.openQuoteLines }
}

const LF = 10
const CR = 13
const QUOTE = 34

class CsvReader {
  readonly openQuoteLines: number[] = []
  private readonly text: string
  private readonly separator: number
  private at = 0
  private line = 1

  constructor(text: string, separator: Separator) {
    this.text = text
    this.separator = separator.charCodeAt(0)
  }

  atEnd(): boolean {
    return this.at >= this.text.length
  }

  nextRecord(): CsvRecord {
    const line = this.line
    const cells: string[] = []
    for (;;) {
      cells.push(this.nextCell())
      if (this.text.charCodeAt(this.at) !== this.separator) break
      this.at += 1
    }
    this.passLineEnd()
    return { line, cells }
  }

  private nextCell(): string {
    let start = this.at
    while (this.text.charCodeAt(start) === 32) start += 1
    if (this.text.charCodeAt(start) === QUOTE) {
      const quoted = this.quotedCell(start)
      if (quoted !== null) return quoted
    }
    return this.bareCell()
  }

  private bareCell(): string {
    let end = this.at
    for (; end < this.text.length; end++) {
      const code = this.text.charCodeAt(end)
      if (code === this.separator || code === LF || code === CR) break
    }
    const cell = this.text.slice(this.at, end)
    this.at = end
    return cell
  }

  /**
   * The cell whose opening quote stands at `open`; null when it never closes (then nothing has moved). A quote that closes only
   * on a later line, past other loose quotes, has swallowed rows: it is taken for one that never closes.
   */
  private quotedCell(open: number): string | null {
    let from = open + 1
    let loose = false
    for (;;) {
      const quote = this.text.indexOf('"', from)
      if (quote === -1) return this.neverClosed()
      if (this.text.charCodeAt(quote + 1) === QUOTE) {
        from = quote + 2
        continue
      }
      const end = this.cellEndAfter(quote + 1)
      if (end !== null) {
        const inside = this.text.slice(open + 1, quote)
        const lineEnds = lineEndsIn(inside)
        if (loose && lineEnds > 0) return this.neverClosed()
        this.line += lineEnds
        this.at = end
        return inside.includes('"') ? inside.replaceAll('""', '"') : inside
      }
      loose = true
      from = quote + 1
    }
  }

  private neverClosed(): null {
    this.openQuoteLines.push(this.line)
    return null
  }

  /** Where the cell ends if only spaces follow; null when more text follows, so that the quote was none that closes. */
  private cellEndAfter(position: number): number | null {
    let at = position
    while (this.text.charCodeAt(at) === 32) at += 1
    const code = this.text.charCodeAt(at)
    return at >= this.text.length || code === this.separator || code === LF || code === CR ? at : null
  }

  private passLineEnd(): void {
    if (this.atEnd()) return
    const pair = this.text.charCodeAt(this.at) === CR && this.text.charCodeAt(this.at + 1) === LF
    this.at += pair ? 2 : 1
    this.line += 1
  }
}

function lineEndsIn(text: string): number {
  let count = 0
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i)
    if (code === LF || (code === CR && text.charCodeAt(i + 1) !== LF)) count += 1
  }
  return count
}

const SAMPLE_LENGTH = 100_000
const SAMPLE_RECORDS = 100

/**
 * The separator that cuts the first hundred records most evenly into the most cells; the comma where nothing speaks for another.
 * A first line `sep=;`, which some spreadsheets write, settles it.
 */
export function recogniseSeparator(text: string): Separator {
  const declared = declaredSeparator(text)
  if (declared !== null) return declared
  const sample = text.slice(0, SAMPLE_LENGTH)
  const scored = SEPARATORS.map((separator) => ({ separator, score: evenness(sample, separator) }))
  const best = scored.reduce((a, b) => (b.score > a.score ? b : a))
  return best.score > 0 ? best.separator : ','
}

/** `sep=;` as the first line, as spreadsheets write it; null when there is none. */
export function declaredSeparator(text: string): Separator | null {
  const match = /^"?sep=([,;\t|])"?\s*(?:\r|\n|$)/i.exec(text)
  return SEPARATORS.find((separator) => separator === match?.[1]) ?? null
}

function evenness(sample: string, separator: Separator): number {
  const widths = new Map<number, number>()
  const { records } = readCsv(sample, separator, SAMPLE_RECORDS)
  for (const { cells } of records) widths.set(cells.length, (widths.get(cells.length) ?? 0) + 1)
  let best = 0
  for (const [width, count] of widths) {
    if (width > 1) best = Math.max(best, (count / records.length) * Math.log2(width))
  }
  return best
}
