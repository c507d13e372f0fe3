import { type Drawing, type LineLook, type Mark, POINT_SIZE, type Spot } from '../units/drawing.ts'
import { boxOutline, lineFrom } from './outlines.ts'
import type { Points } from './page-geometry.ts'
import type { Step } from './page-picture.ts'
import type { Paper } from './paper.ts'
import type { OutlineStyle } from './pen.ts'

/** Drawings are laid out for the screen; on paper they are smaller, so that 13 px become 8.5 points. */
const SCALE = 8.5 / 13

/** Pattern and weight take the place of the accent: what is water on screen is a heavier line in ink. */
const LOOKS: Readonly<Record<LineLook, OutlineStyle>> = {
  hair: { line: 'rule', lineWidth: 0.5 },
  firm: { line: 'ink', lineWidth: 0.9 },
  thin: { line: 'ink', lineWidth: 0.35 },
  dashed: { line: 'ink', lineWidth: 0.7, dash: [4, 2.6] },
  dotted: { line: 'ink', lineWidth: 0.7, dash: [0.8, 2] },
  water: { line: 'ink', lineWidth: 1.1 },
  'water-dashed': { line: 'ink', lineWidth: 1.1, dash: [4.6, 2.6] },
}

/** The width that a drawing is to be laid out for, so that it takes the whole text on this paper. */
export const drawingWidth = (paper: Paper): number => Math.floor(paper.area.width / SCALE)

/** A drawing in the flow, kept on one page, said in words to those who do not see it. */
export function drawOnPaper(paper: Paper, drawing: Drawing, inWords: string): void {
  const height = drawing.height * SCALE
  paper.ensure(height)
  const top = paper.y
  const left = paper.area.x
  paper.structure('Figure', { alt: inWords }, () =>
    paper.pen.content('Figure', () => {
      for (const mark of drawing.marks) drawMark(paper, mark, left, top)
    }),
  )
  paper.y = top + height
}

function drawMark(paper: Paper, mark: Mark, left: Points, top: Points): void {
  const place = ({ x, y }: Spot): Spot => ({ x: left + x * SCALE, y: top + y * SCALE })
  if (mark.kind === 'words') drawWords(paper, mark, place(mark.at))
  else if (mark.kind === 'point') drawPoint(paper, mark.shape, place(mark.at))
  else if (mark.kind === 'line') {
    const steps = mark.lines.flatMap((line) => stepsOf(line.map(place)))
    paper.outline(steps, LOOKS[mark.look])
  }
}

function drawWords(paper: Paper, { text, align, look }: Extract<Mark, { kind: 'words' }>, { x, y }: Spot): void {
  const size = 8.5
  const words = paper.typeface.printable(text)
  const width = paper.widthOf(words, size)
  const from = align === 'start' ? x : align === 'end' ? x - width : x - width / 2
  // A line that runs under words would make them hard to read.
  paper.outline(boxOutline({ x: from - 1, y: y - 6.4, width: width + 2, height: 8.2 }), { fill: 'white' })
  paper.pen.lettering(words, from, y, {
    size,
    weight: look === 'bold' ? 'semibold' : 'regular',
    ink: look === 'second' ? 'second' : 'ink',
  })
}

type PointShape = Extract<Mark, { kind: 'point' }>['shape']

const POINT_LOOKS: Readonly<Record<PointShape, OutlineStyle>> = {
  dot: { fill: 'ink', line: 'white', lineWidth: 0.6 },
  ring: { fill: 'white', line: 'ink', lineWidth: 0.8 },
  square: { fill: 'white', line: 'ink', lineWidth: 0.7 },
  cross: { fill: 'white', line: 'second', lineWidth: 0.6 },
}

function drawPoint(paper: Paper, shape: PointShape, { x, y }: Spot): void {
  const r = POINT_SIZE * SCALE
  const box = { x: x - r, y: y - r, width: 2 * r, height: 2 * r }
  paper.outline(boxOutline(box, shape === 'square' ? 0 : r), POINT_LOOKS[shape])
  if (shape !== 'cross') return
  const arm = r * 1.4
  const strokes = [...lineFrom(x - arm, y - arm, x + arm, y + arm), ...lineFrom(x - arm, y + arm, x + arm, y - arm)]
  paper.outline(strokes, { line: 'ink', lineWidth: 0.8 })
}

function stepsOf(line: readonly Spot[]): Step[] {
  return line.map(({ x, y }, index): Step => [index === 0 ? 'M' : 'L', x, y])
}
