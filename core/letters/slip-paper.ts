import { lineFrom } from '../paper/outlines.ts'
import type { Points } from '../paper/page-geometry.ts'
import type { Paper } from '../paper/paper.ts'
import type { TextStyle } from '../paper/text-block.ts'
import type { LetterPage } from './letter-page.ts'

/** What the slip takes at the foot of the sheet, above the bottom margin. */
export const slipHeight: Points = 62

const WORDS: TextStyle = { size: 10.5, leading: 1.5 }

/** The slip that comes back: whose it is, and four answers to tick, below a line to cut along. */
export function drawSlip(paper: Paper, { reference, slipName, slipAnswers }: LetterPage, bottom: Points): void {
  const { x, width } = paper.area
  const top = paper.sheet.height - bottom - slipHeight + 14
  paper.outline(lineFrom(0, top, paper.sheet.width, top), { line: 'ink', lineWidth: 0.6, dash: [3, 2.4] })
  const columns = [x, x + width * 0.25, x + width * 0.66]
  const [who = x, left = x, right = x] = columns
  const first = top + 11
  paper.textAt(reference, who, first, width * 0.24, { ...WORDS, weight: 'semibold' })
  const nameWidth = width * 0.22
  const name = paper.set(slipName, nameWidth, WORDS)
  // A long name is made smaller rather than running into the answers; two lines are what there is room for.
  paper.textAt(
    slipName,
    who,
    first + 16,
    nameWidth,
    name.lines.length > 1 ? { ...WORDS, size: 8.5, leading: 1.15 } : WORDS,
  )
  for (const [column, answers] of slipAnswers.entries())
    for (const [line, answer] of answers.entries()) {
      const at = column === 0 ? left : right
      paper.tickBox(at, first + line * 16 + 4, 7.5)
      paper.textAt(answer, at + 12, first + line * 16, width * 0.4, WORDS)
    }
}
