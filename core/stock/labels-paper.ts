import { boxOutline } from '../paper/outlines.ts'
import { type Box, mm, type Points } from '../paper/page-geometry.ts'
import type { PagePicture, Step, Weight } from '../paper/page-picture.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { type BarRow, barsOf } from './label-bars.ts'
import { BETWEEN, type HeadLine, LEADING, labelLayout, SMALLEST } from './label-layout.ts'
import { type LabelSheet, labelPlace, labelSheet, labelsOnSheet, wordsBox } from './label-sheet.ts'
import type { LabelWords } from './label-words.ts'

/** Labels to print: each as often as is wanted. */
export interface LabelsToPrint {
  readonly labels: readonly { readonly words: LabelWords; readonly count: number }[]
  /** The label of the first sheet to begin with, from 1: those before it are used already. */
  readonly beginWith: number
  /** What this printer needs to hit the labels: points to the right and down. */
  readonly shift: { readonly right: Points; readonly down: Points }
}

/** Label after label over as many sheets as it takes; a sheet that was begun is begun further down. */
export function writeLabels(print: LabelsToPrint, facts: PaperFacts, sink: PaperSink) {
  return streamPaper(facts, (paper, letOut) => drawLabels(paper, print, letOut), sink)
}

/** The first sheet as a picture: what is looked at before printing. */
export async function pictureLabels(
  print: LabelsToPrint,
  facts: PaperFacts,
): Promise<{ readonly picture: PagePicture; readonly missing: readonly string[] }> {
  const sheet = labelSheet(facts.pageSize)
  const room = labelsOnSheet(sheet) - print.beginWith + 1
  const first = { ...print, labels: firstOf(print.labels, room) }
  const draw = (paper: Paper) => {
    drawLabels(paper, first, async () => undefined)
  }
  const made = await streamPaper({ ...facts, pictures: 1 }, draw, { write: () => undefined })
  const [picture] = made.pictures
  if (!picture) throw new Error('Labels have a first sheet.')
  return { picture: { ...picture, marks: [...frameMarks(sheet), ...picture.marks] }, missing: made.missing }
}

function firstOf(labels: LabelsToPrint['labels'], room: number): LabelsToPrint['labels'] {
  let left = room
  return labels.flatMap(({ words, count }) => {
    const taken = Math.min(left, count)
    left -= taken
    return taken > 0 ? [{ words, count: taken }] : []
  })
}

/** The labels' own edges, for the eye: the cut of the sheet, which is not printed. */
function frameMarks(sheet: LabelSheet): PagePicture['marks'] {
  return Array.from({ length: labelsOnSheet(sheet) }, (_, index) => {
    const { x, y, width, height } = labelPlace(sheet, index).box
    const path = `M ${x} ${y} H ${x + width} V ${y + height} H ${x} Z`
    return { kind: 'outline', path, line: 'rule', fill: null, lineWidth: 0.5, dash: null }
  })
}

/** Frames of all labels on plain paper, to be held behind a label sheet: how far a printer strays is read off their edges. */
export function writeLabelFrames(shift: LabelsToPrint['shift'], facts: PaperFacts, sink: PaperSink) {
  const sheet = labelSheet(facts.pageSize)
  const draw = (paper: Paper) => {
    onSheet(paper, () => {
      paper.pen.content('Artifact', () => {
        for (let index = 0; index < labelsOnSheet(sheet); index += 1)
          paper.outline(boxOutline(shifted(labelPlace(sheet, index).box, shift)), { line: 'ink', lineWidth: 0.4 })
      })
      const { x, y, width } = wordsBox(sheet, shifted(labelPlace(sheet, 1).box, shift))
      const how =
        'Print this on plain paper at full size, hold it behind a sheet of labels against the light, and measure how far the frames lie off.'
      paper.textAt(how, x, y, width, { size: 8.5, leading: 1.2 })
    })
  }
  return streamPaper(facts, draw, sink)
}

async function drawLabels(paper: Paper, print: LabelsToPrint, letOut: () => Promise<void>): Promise<void> {
  const sheet = labelSheet(paper.facts.pageSize)
  const all = print.labels.flatMap(({ words, count }) => Array.from({ length: count }, () => words))
  const places = all.map((words, index) => ({ words, ...labelPlace(sheet, print.beginWith - 1 + index) }))
  for (let page = 0; page <= (places.at(-1)?.page ?? 0); page += 1) {
    onSheet(paper, () => {
      for (const place of places)
        if (place.page === page) drawLabel(paper, sheet, shifted(place.box, print.shift), place.words)
    })
    await letOut()
  }
}

function onSheet(paper: Paper, draw: () => void): void {
  paper.beginSection({ foot: 'none', margins: { top: 0, right: 0, bottom: 0, left: 0 } })
  draw()
  paper.endSection()
}

const shifted = (box: Box, { right, down }: LabelsToPrint['shift']): Box => ({
  ...box,
  x: box.x + right,
  y: box.y + down,
})

function drawLabel(paper: Paper, sheet: LabelSheet, label: Box, words: LabelWords): void {
  const box = wordsBox(sheet, label)
  const { head, rows, read } = labelLayout(sheet, words)
  paper.structure('Sect', {}, () => {
    let { y } = box
    for (const line of head) {
      drawLine(paper, box, y, line)
      y += line.size * LEADING
    }
    y += BETWEEN
    drawRows(paper, { ...box, y, height: box.y + box.height - y }, read, rows)
  })
}

/** Both texts get smaller together until they fit beside each other; what is on the right is never cut for what is on the left. */
function drawLine(paper: Paper, { x, width }: Box, y: Points, line: HeadLine): void {
  const [left, right] = pairThatFits(paper, width, line)
  const put = (set: Fitted, at: Points): void => {
    const down = (line.size - set.size) * 0.83 * LEADING
    const { size, weight } = set
    if (set.text !== '') paper.textAt(set.text, at, y + down, set.width + 1, { size, weight, leading: LEADING })
  }
  put(left, x)
  put(right, x + width - right.width)
}

function pairThatFits(paper: Paper, width: Points, line: HeadLine): [Fitted, Fitted] {
  const gap: Points = line.left === '' || line.right === '' ? 0 : 6
  const smallest = SMALLEST / Math.min(line.size, line.rightSize)
  for (let scale = 1; scale > smallest; scale -= 0.03) {
    const left = fitted(paper, line.left, Infinity, line.size * scale, line.weight)
    // What stands beside a name keeps its size down to where the name would get unreadable.
    const right = fitted(
      paper,
      line.right,
      width,
      line.rightSize * Math.max(scale, line.weight === 'regular' ? 1 : 0),
      'semibold',
    )
    if (left.width + gap + right.width <= width) return [left, right]
  }
  const right = fitted(paper, line.right, width * 0.66, line.rightSize, 'semibold')
  return [fitted(paper, line.left, width - gap - right.width, SMALLEST, line.weight), right]
}

interface Fitted {
  readonly text: string
  readonly size: Points
  readonly weight: Weight
  readonly width: Points
}

/** The text as large as it fits on one line, from `size` down; cut with three dots where even the smallest is too wide. */
function fitted(paper: Paper, wanted: string, width: Points, size: Points, weight: Weight): Fitted {
  const text = paper.typeface.printable(wanted).replace(/\s+/g, ' ')
  const widthOf = (words: string, at: Points): Points =>
    words.split(' ').reduce((sum, word) => sum + paper.typeface.widthOf(word, at, weight), 0) +
    paper.typeface.widthOf(' ', at, weight) * (words.split(' ').length - 1)
  for (let at = size; at >= SMALLEST; at -= 0.5)
    if (widthOf(text, at) <= width) return { text, size: at, weight, width: widthOf(text, at) }
  const letters = Array.from(text)
  while (letters.length > 0 && widthOf(`${letters.join('').trimEnd()}…`, SMALLEST) > width) letters.pop()
  const cut = `${letters.join('').trimEnd()}…`
  return { text: cut, size: SMALLEST, weight, width: widthOf(cut, SMALLEST) }
}

/** Bars in the middle, what they say below them. */
function drawRows(paper: Paper, box: Box, read: Points, rows: readonly BarRow[]): void {
  const each = box.height / rows.length
  rows.forEach((row, index) => {
    const left = Math.round((box.x + (box.width - row.width) / 2) * 100) / 100
    const top = box.y + index * each
    const height = each - read * LEADING
    const steps: Step[] = barsOf(row).flatMap((bar) =>
      boxOutline({ x: left + bar.left, y: top, width: bar.width, height }),
    )
    paper.structure('Figure', { alt: `Bars that say ${row.read}` }, () =>
      paper.pen.content('Figure', () => paper.outline(steps, { fill: 'black' })),
    )
    const said = fitted(paper, row.read, box.width, read, 'regular')
    paper.textAt(said.text, box.x + (box.width - said.width) / 2, top + height, said.width + 1, {
      size: said.size,
      leading: LEADING,
    })
  })
}

/** From what the office writes down, in millimetres. */
export const shiftOf = (rightMm: number, downMm: number): LabelsToPrint['shift'] => ({
  right: mm(rightMm),
  down: mm(downMm),
})
