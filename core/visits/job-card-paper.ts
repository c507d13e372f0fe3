import type { PaperSink } from '../answering.ts'
import { drawCautions } from '../paper/cautions-block.ts'
import { boxOutline, lineFrom } from '../paper/outlines.ts'
import type { Points } from '../paper/page-geometry.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { streamPaper } from '../paper/stream-paper.ts'
import { type Cell, drawTable, type Row } from '../paper/table.ts'
import type { TextStyle, Wording } from '../paper/text-block.ts'
import { drawTrainOnPaper } from '../paper/train-on-paper.ts'
import { dayAndMonth, weekdayAndDate } from '../units/date-words.ts'
import type { MeasureSystem } from '../units/measures.ts'
import { formatTimeOfDay, formatWindow, timeOfDay } from '../units/time-of-day.ts'
import { FIGURE_NAMES, type Figure } from '../water/figures.ts'
import { unitOf } from '../water/read-figure.ts'
import { heldParts } from '../water/rejection.ts'
import { CAUTIONS } from './cautions.ts'
import { minutesInWords } from './planned-minutes.ts'
import type { TaskShape, UnitShape, VisitShape } from './visit-shapes.ts'

/** One stop as its card prints it. Arrival and stop are known when the day has been put in order. */
export interface JobCard {
  readonly visit: VisitShape
  readonly stop: number | null
  readonly stops: number
  /** Minutes since midnight. */
  readonly arrivesAt: number | null
}

const BODY: TextStyle = { size: 9.5, leading: 1.28 }
const NOTE: TextStyle = { size: 8.5, leading: 1.28, ink: 'second' }
const STRONG: TextStyle = { size: 9.5, leading: 1.28, weight: 'semibold' }
const BOX = 10

/** Job cards, one a page, in the order given: what to do, what to measure with blanks to write on, and what can hurt. */
export async function writeJobCards(
  cards: readonly JobCard[],
  measures: MeasureSystem,
  facts: PaperFacts,
  sink: PaperSink,
): Promise<void> {
  await streamPaper(
    facts,
    async (paper, letOut) => {
      for (const card of cards) {
        drawJobCard(paper, card, measures)
        await letOut()
      }
      if (cards.length > 0) return
      paper.beginSection()
      paper.heading(facts.title)
      paper.text('No visit is booked for this day.', BODY)
      paper.endSection()
    },
    sink,
  )
}

function drawJobCard(paper: Paper, card: JobCard, measures: MeasureSystem): void {
  const { visit } = card
  paper.beginSection({
    footNote: `Job card ${visit.household.reference}`,
    margins: { top: 36, right: 42, bottom: 48, left: 48 },
  })
  drawHead(paper, card)
  for (const unit of visit.units) drawUnit(paper, unit, visit.units.length > 1)
  drawTasks(paper, visit.tasks)
  for (const unit of visit.units) drawBlanks(paper, unit, visit.units.length > 1, measures)
  drawClosing(paper)
  drawCautionBlock(paper)
  drawSignature(paper)
  paper.endSection()
}

function drawHead(paper: Paper, { visit, stop, stops, arrivesAt }: JobCard): void {
  const { locale } = paper.facts
  const { household } = visit
  const { x, width } = paper.area
  const top = paper.y
  const right: TextStyle = { ...STRONG, align: 'right' }
  const arrival = arrivesAt === null ? '' : `about ${clock(arrivesAt, locale)}`
  paper.textAt(weekdayAndDate(visit.on, locale), x, top, width, { ...right, size: 11 })
  const window = `window ${formatWindow(visit.windowFrom, visit.windowUntil, locale)}`
  paper.textAt([arrival, window].filter((part) => part !== '').join(' · '), x, top + 15, width, {
    ...NOTE,
    align: 'right',
  })
  const who = visit.technician?.name ?? 'nobody sent yet'
  paper.textAt(`${who} · ${minutesInWords(visit.plannedMinutes)}`, x, top + 27, width, { ...NOTE, align: 'right' })
  const number = stop === null ? '' : `Stop ${stop} of ${stops}: `
  const left = { x, width: width - 190 }
  paper.text(`${number}${household.household}`, { size: 15, weight: 'semibold', leading: 1.2 }, 'H1', left)
  const address = [household.line1, household.line2, `${household.town} ${household.postalCode}`.trim()]
  paper.text(address.filter((line) => line !== '').join(' · '), BODY, 'P', left)
  const phone = [household.phone, household.phoneNote].filter((part) => part !== '').join(', ')
  const people = household.people === null ? '' : `household of ${household.people}`
  paper.text([phone, people].filter((part) => part !== '').join(' · ') || 'No telephone number known', BODY, 'P', left)
  for (const [name, text] of [
    ['At the door', household.accessNote],
    ['From the office', visit.note],
  ] as const)
    if (text !== '') paper.text([{ text: `${name}: `, weight: 'semibold' }, { text }], BODY)
  paper.gap(5)
  paper.rule('firm')
  paper.gap(6)
}

/** A time of the day that may run past midnight on a hopeless day. */
export function clock(minutesSinceMidnight: number, locale: string): string {
  return formatTimeOfDay(timeOfDay(((minutesSinceMidnight % 1440) + 1440) % 1440), locale)
}

function drawUnit(paper: Paper, unit: UnitShape, isNamed: boolean): void {
  if (isNamed && unit.name !== '') paper.text(unit.name, STRONG)
  if (unit.stages.length === 0) return
  drawTrainOnPaper(
    paper,
    unit.stages.map((stage) => stage.train),
    {
      name: (stage) => stage.label,
      words: (stage) => (stage.dueOn === null ? 'no date' : `due ${dayAndMonth(stage.dueOn, paper.facts.locale)}`),
    },
  )
  paper.gap(6)
}

function drawTasks(paper: Paper, tasks: readonly TaskShape[]): void {
  const tick: Cell = { height: BOX, draw: (x, y) => paper.tickBox(x, y + 1, BOX) }
  const rows: Row[] = tasks.map((task) => ({ cells: [tick, doWhat(task), partAndLot(task), blank(paper, task)] }))
  const columns = [
    { head: '', width: 12 },
    { head: 'To do', width: 118 },
    { head: 'Part, and lot that was pulled', width: 'rest' },
    { head: 'Lot that was fitted', width: 128 },
  ] as const
  drawTable(paper, columns, rows, { size: 9.5, padding: 2.5 })
  paper.gap(6)
}

function doWhat(task: TaskShape): Cell {
  if (task.kind === 'change') return [{ text: 'Change ' }, { text: task.label.toLowerCase(), weight: 'semibold' }]
  if (task.kind === 'sanitise') return [{ text: 'Sanitise ' }, { text: task.label.toLowerCase(), weight: 'semibold' }]
  return task.label
}

function partAndLot(task: TaskShape): Cell {
  if (task.kind === 'sanitise') return 'cautions below first; flush until none is left'
  if (task.kind !== 'change') return ''
  if (task.part === null) return 'no part named: look what stands there'
  const lots = task.pulledLots.length === 0 ? '' : ` · lot ${task.pulledLots.join(', ')}`
  return `${task.part.name} ${task.part.number}${lots}`
}

/** A line to write on; nothing where nothing is fitted. */
function blank(paper: Paper, task: TaskShape): Cell {
  if (task.kind !== 'change') return ''
  return { height: 12, draw: (x, y, width) => writingLine(paper, x, y + 11, width) }
}

function writingLine(paper: Paper, x: Points, y: Points, width: Points): void {
  paper.outline(lineFrom(x, y, x + width, y), { line: 'ink', lineWidth: 0.4 })
}

const MEASURED = Object.keys(FIGURE_NAMES) as Figure[]

/** What to measure: a blank for each figure in a row, with its unit. */
function drawBlanks(paper: Paper, unit: UnitShape, isNamed: boolean, measures: MeasureSystem): void {
  const { x, width } = paper.area
  paper.ensure(46)
  const before =
    unit.lastRejection === null ? '' : ` (the last time it held back ${heldParts(unit.lastRejection)} of 100 parts)`
  const name = isNamed && unit.name !== '' ? `, ${unit.name}` : ''
  paper.text([{ text: `Measure${name}`, weight: 'semibold' }, { text: before }], BODY)
  const step = width / MEASURED.length
  for (const [index, figure] of MEASURED.entries()) {
    const left = x + index * step
    paper.textAt(FIGURE_NAMES[figure], left, paper.y + 1, step - 8, NOTE)
    writingLine(paper, left, paper.y + 30, step - 40)
    paper.textAt(unitOf(figure, measures), left + step - 38, paper.y + 20, 34, NOTE)
  }
  paper.gap(37)
}

function drawClosing(paper: Paper): void {
  tickLine(paper, [
    'No leak before leaving',
    'No leak after the tank has filled',
    'First tanks to the drain, household told',
  ])
  const { x, width } = paper.area
  const half = width / 2 - 8
  const top = paper.y + 3
  const height = 50
  paper.tickBox(x + 6, top + 6, BOX)
  paper.textAt('Could not, because', x + 22, top + 4, half - 24, STRONG)
  paper.textAt('Remarks', x + half + 22, top + 4, half - 24, STRONG)
  for (const left of [x, x + half + 16])
    paper.outline(boxOutline({ x: left, y: top, width: half, height }), { line: 'rule', lineWidth: 0.6 })
  for (const left of [x, x + half + 16]) writingLine(paper, left + 6, top + 40, half - 12)
  paper.gap(height + 11)
}

function tickLine(paper: Paper, words: readonly string[]): void {
  const { x, width } = paper.area
  const step = width / words.length
  for (const [index, text] of words.entries()) {
    paper.tickBox(x + index * step, paper.y + 1, BOX)
    paper.textAt(text, x + index * step + 15, paper.y, step - 17, BODY)
  }
  paper.gap(17)
}

function drawCautionBlock(paper: Paper): void {
  const words: Wording[] = CAUTIONS.map(({ head, text }) => [{ text: `${head}. `, weight: 'semibold' }, { text }])
  words.push([{ text: 'These are the usual cautions; local codes and licensed practice come first.', ink: 'second' }])
  drawCautions(paper, 'What can hurt', words, { size: 8, leading: 1.26 })
  paper.gap(6)
}

/** At the foot of the page, wherever the rest ended. */
function drawSignature(paper: Paper): void {
  const { x, y, width, height } = paper.area
  paper.ensure(26)
  const foot = y + height - 4
  const parts = [
    { name: 'Begun and done at', share: 0.3 },
    { name: 'Technician', share: 0.35 },
    { name: 'For the household', share: 0.35 },
  ]
  let left = x
  for (const { name, share } of parts) {
    writingLine(paper, left, foot - 11, width * share - 12)
    paper.textAt(name, left, foot - 10, width * share - 12, { ...NOTE, size: 8 })
    left += width * share
  }
}
