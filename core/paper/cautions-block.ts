import { lineFrom } from './outlines.ts'
import type { Paper } from './paper.ts'
import { FIRM_LINE } from './pen.ts'
import { type TextStyle, TYPE_SIZES, type Wording } from './text-block.ts'

const INDENT = 10

/** What can hurt, beside a firm line: a heading and one sentence to a line. Kept on one page. */
export function drawCautions(
  paper: Paper,
  heading: string,
  sentences: readonly Wording[],
  style: Partial<TextStyle> = {},
): void {
  const { x, width } = paper.area
  const look: TextStyle = { size: TYPE_SIZES.note, leading: 1.35, ...style }
  const within = { x: x + INDENT, width: width - INDENT }
  const heights = sentences.map((sentence) => paper.set(sentence, within.width, look).height + 1)
  const head = paper.set(heading, within.width, { ...look, weight: 'semibold' })
  paper.ensure(heights.reduce((sum, height) => sum + height, head.height))
  const top = paper.y
  paper.text(heading, { ...look, weight: 'semibold' }, 'P', within)
  for (const sentence of sentences) {
    paper.text(sentence, look, 'P', within)
    paper.gap(1)
  }
  paper.outline(lineFrom(x, top + 2, x, paper.y - 2), { line: 'ink', lineWidth: FIRM_LINE })
}
