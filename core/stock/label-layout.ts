import { type BarRow, barsThatFit } from './label-bars.ts'
import { barsRoom, type LabelSheet, labelPlace, wordsBox } from './label-sheet.ts'
import type { LabelWords } from './label-words.ts'

/** Sizes of type by sheet; `read` is what people read below the bars. */
interface Type {
  readonly title: number
  readonly line: number
  readonly read: number
  readonly bin: number
  /** Whether how long it is good has a line of its own. */
  readonly tall: boolean
}
const TYPES: Readonly<Record<LabelSheet['name'], Type>> = {
  'letter-30': { title: 14, line: 9.5, read: 7.5, bin: 25, tall: false },
  'a4-21': { title: 19, line: 12, read: 9, bin: 42, tall: true },
}
/** Smaller is not read at arm's length; what does not fit then ends in three dots. */
export const SMALLEST: number = 7
/** A line's height in parts of its type size. */
export const LEADING = 1.13

/** A line of the head: a text on the left, and one on the right in the heavy weight. */
export interface HeadLine {
  readonly left: string
  readonly right: string
  readonly size: number
  readonly rightSize: number
  readonly weight: 'regular' | 'semibold'
}

/** Kept free between the head and the bars. */
export const BETWEEN: number = 1.5

export interface LabelLayout {
  readonly head: readonly HeadLine[]
  /** None where part and lot are too long for bars that a scanner reads. */
  readonly rows: readonly BarRow[]
  /** Type size of what people read below the bars. */
  readonly read: number
}

/** The first way of setting the bars that leaves room for the head that goes with it; words alone when none does. */
export function labelLayout(sheet: LabelSheet, words: LabelWords): LabelLayout {
  const type = TYPES[sheet.name]
  const { read } = type
  const box = wordsBox(sheet, labelPlace(sheet, 0).box)
  for (const way of words.bars) {
    const head = headLines(type, words, way.length)
    const taken = head.reduce((sum, line) => sum + line.size * LEADING, BETWEEN)
    const room = {
      width: barsRoom(sheet),
      barsWidth: box.width,
      height: box.height - taken,
      lineHeight: read * LEADING,
    }
    const rows = barsThatFit(way, room)
    if (rows.length > 0) return { head, rows, read }
  }
  return { head: linesAlone(type, words), rows: [], read }
}

/** The part number large and the lot beside it, the name, how long it is good. Two rows of bars say number and lot themselves. */
function headLines(type: Type, words: LabelWords, rows: number): HeadLine[] {
  const { title, beside, line, lineBeside } = words
  if (words.kind === 'bin')
    return [{ left: title, right: line, size: type.bin, rightSize: type.line, weight: 'semibold' }]
  const size = type.title * (words.kind === 'part' ? 1.35 : 1)
  const first: HeadLine = { left: title, right: beside, size, rightSize: size * 0.86, weight: 'semibold' }
  const small = { size: type.line, rightSize: type.line, weight: 'regular' } as const
  const both: HeadLine = { left: line, right: lineBeside, ...small }
  if (rows > 1) return type.tall ? [first, both] : [both]
  if (!type.tall) return [first, both]
  return [first, { left: line, right: '', ...small }, { left: '', right: lineBeside, ...small }]
}

/** What is too long for bars stands in words, a line each. */
function linesAlone(type: Type, { kind, title, beside, line, lineBeside }: LabelWords): HeadLine[] {
  const size = kind === 'bin' ? type.bin : type.title
  const lines: HeadLine[] = [
    { left: title, right: '', size, rightSize: size, weight: 'semibold' },
    { left: beside, right: '', size: type.title, rightSize: type.title, weight: 'semibold' },
    { left: line, right: lineBeside, size: type.line, rightSize: type.line, weight: 'regular' },
  ]
  return lines.filter((each) => each.left !== '' || each.right !== '')
}
