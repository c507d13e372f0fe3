import { lineFrom } from './outlines.ts'
import { mm, type Points } from './page-geometry.ts'
import type { Paper } from './paper.ts'
import { HAIRLINE } from './pen.ts'
import { TYPE_SIZES } from './text-block.ts'
import type { WindowLayout } from './window-envelope.ts'

export interface LetterheadFacts {
  readonly name: string
  /** Street, town, phone, mail: set on one line, parted by middle dots. */
  readonly particulars: readonly string[]
}

/** Name and particulars at the top margin, as every first page of a letter or an invoice begins. Returns where it ends. */
export function drawLetterhead(paper: Paper, { name, particulars }: LetterheadFacts, layout: WindowLayout): Points {
  const { left, right, top } = layout.margins
  const width = paper.sheet.width - left - right
  const nameHeight = paper.textAt(name, left, top, width, { size: TYPE_SIZES.title, weight: 'semibold', leading: 1.3 })
  const line = particulars.filter((part) => part !== '').join(' · ')
  const lineHeight = paper.textAt(line, left, top + nameHeight + 1, width, { size: 9, ink: 'second' })
  return top + nameHeight + lineHeight + 1
}

/** Lines of an address set to be seen through the window whole. `lines` as they are to be printed. Returns its type size. */
export function drawWindowAddress(
  paper: Paper,
  lines: readonly string[],
  sender: string,
  layout: WindowLayout,
): Points {
  const { x, y, width } = layout.address
  const height = layout.address.height + (lines.length > 4 ? layout.spareBelow : 0)
  const size = addressSize(paper, lines, width, height)
  const pitch = Math.min(size * 1.24, lines.length > 1 ? (height - CAPITAL * size) / (lines.length - 1) : height)
  const spare = height - CAPITAL * size - pitch * (lines.length - 1)
  // In the middle of its box, but close under the return line where there is one.
  const first = y + CAPITAL * size + (layout.returnLine ? Math.min(spare, 3) : spare / 2)
  paper.structure('P', {}, () =>
    paper.pen.content('P', () =>
      lines.forEach((line, index) => {
        paper.pen.lettering(paper.typeface.printable(line), x, first + index * pitch, { size })
      }),
    ),
  )
  if (layout.returnLine) drawReturnLine(paper, sender, layout.returnLine)
  return size
}

/** Capitals are 660/1000 of the type size high in the typeface. */
const CAPITAL = 0.66
/** USPS Publication 177 asks for type of 8 points at least (from memory). */
const LEAST_SIZE = 8

function addressSize(paper: Paper, lines: readonly string[], width: Points, height: Points): Points {
  const widest = lines.reduce((most, line) => Math.max(most, paper.widthOf(paper.typeface.printable(line), 1)), 0.01)
  const byHeight = height / (1.1 * (lines.length - 1) + CAPITAL)
  return Math.max(LEAST_SIZE, Math.min(TYPE_SIZES.letter, byHeight, width / widest))
}

function drawReturnLine(paper: Paper, sender: string, { x, y, width }: { x: Points; y: Points; width: Points }): void {
  const size = Math.min(7, 7 * (width / Math.max(1, paper.widthOf(paper.typeface.printable(sender), 7))))
  paper.textAt(sender, x, y, width + 1, { size, ink: 'second', leading: 1.3 })
  paper.ruleAt(x, y + mm(3.6), width)
}

/** Short strokes at the sheet's left edge where it is folded, and a longer one where it is punched. */
export function drawFoldMarks(paper: Paper, { folds, punch }: WindowLayout): void {
  paper.pen.content('Artifact', () => {
    const marks = folds.map((y) => ({ y, length: mm(3) }))
    for (const { y, length } of punch === null ? marks : [...marks, { y: punch, length: mm(5) }])
      paper.outline(lineFrom(mm(4), y, mm(4) + length, y), { line: 'rule', lineWidth: HAIRLINE })
  })
}
