import type { PaperSink } from '../answering.ts'
import type { TrainStage } from '../installations/stage-train.ts'
import { drawCautions } from '../paper/cautions-block.ts'
import { drawingWidth, drawOnPaper } from '../paper/drawing-on-paper.ts'
import { type Margins, mm, USUAL_MARGINS } from '../paper/page-geometry.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { streamPaper } from '../paper/stream-paper.ts'
import { type Cell, type Column, drawTable } from '../paper/table.ts'
import type { TextStyle } from '../paper/text-block.ts'
import { drawTrainOnPaper } from '../paper/train-on-paper.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, distanceInWords, shortDate } from '../units/date-words.ts'
import type { Drawing } from '../units/drawing.ts'
import type { MeasureSystem } from '../units/measures.ts'
import type { Figure } from '../water/figures.ts'
import { fieldText, unitOf } from '../water/read-figure.ts'
import { heldParts } from '../water/rejection.ts'
import { drawFlow } from './flow-picture.ts'
import { flowStoryOf, rejectionStoryOf } from './household-pictures.ts'
import type { HouseholdMeasurements, ReadingOnSheet, UnitMeasurements } from './measurement-shapes.ts'
import { drawRejection } from './rejection-picture.ts'

/** A unit as its part of the page prints it. */
export interface UnitOnPage {
  /** "The unit under the kitchen sink, since May 2021". */
  readonly title: string
  readonly train: readonly TrainStage[]
  /** By stage: when it was changed last, what is fitted, and what the plan does with it. */
  readonly rows: readonly {
    readonly label: string
    readonly changedOn: CalendarDate | null
    readonly dueOn: CalendarDate | null
    readonly reason: string
    readonly plan: string
  }[]
  readonly measurements: UnitMeasurements | null
}

/** Everything that stands on a household's page. */
export interface HouseholdPage {
  readonly household: string
  readonly reference: string
  /** Address, telephone, people and water, a line each. */
  readonly lines: readonly string[]
  /** Booked, moved, closed, no mail: what one has to know. */
  readonly standing: readonly string[]
  readonly units: readonly UnitOnPage[]
  readonly marks: HouseholdMeasurements['marks']
  /** Null for a closed household: nobody goes there any more. */
  readonly plan: {
    readonly next: string
    readonly savings: readonly string[]
    readonly line: ((width: number) => Drawing) | null
    readonly sentences: readonly string[]
    readonly visits: readonly {
      readonly on: CalendarDate
      readonly latestOn: CalendarDate
      readonly what: string
      readonly minutes: string
    }[]
  } | null
}

const BODY: TextStyle = { size: 9.5, leading: 1.3 }
const NOTE: TextStyle = { size: 8.5, leading: 1.3, ink: 'second' }
const STRONG: TextStyle = { ...BODY, weight: 'semibold' }
/** A little less above and below than usual, so that most households keep to two pages. */
const MARGINS: Margins = { ...USUAL_MARGINS, top: mm(14), bottom: mm(18) }
const READINGS_PRINTED = 6
const VISITS_PRINTED = 3

/** A household's page, set like a timetable: the units with what is due and why, the visits to come, what was measured. */
export async function writeHouseholdPage(
  page: HouseholdPage,
  measures: MeasureSystem,
  facts: PaperFacts,
  sink: PaperSink,
): Promise<void> {
  await streamPaper(
    facts,
    async (paper, letOut) => {
      paper.beginSection({ footNote: `${page.household}, ${page.reference}`, margins: MARGINS })
      drawHead(paper, page)
      for (const unit of page.units) drawUnit(paper, unit)
      if (page.units.length === 0) paper.text('No unit is written down for this household.', BODY)
      if (page.plan) drawPlan(paper, page.plan)
      for (const unit of page.units) if (unit.measurements) drawMeasured(paper, unit.measurements, page, measures)
      paper.endSection()
      await letOut()
    },
    sink,
  )
}

const CAUTIONS_IN_SHORT = [
  'Shut the feed and let the pressure off; membrane and cartridges come out before a chlorine sanitiser goes through. The job card has every caution in full; local codes and licensed practice come first.',
]
const NOT_GERMS = 'A TDS figure says nothing about germs, lead or nitrate: that takes a certified laboratory.'

function drawHead(paper: Paper, page: HouseholdPage): void {
  const { x, y, width } = paper.area
  paper.textAt(page.reference, x, y + 3, width, { ...STRONG, align: 'right' })
  paper.heading(page.household)
  for (const line of page.lines) paper.text(line, BODY)
  for (const line of page.standing) paper.text(line, STRONG)
  paper.gap(6)
  paper.rule('firm')
  paper.gap(8)
}

function drawUnit(paper: Paper, unit: UnitOnPage): void {
  const { locale, printedOn } = paper.facts
  // The heading stays with its train and the first stages.
  paper.ensure(190)
  paper.subheading(unit.title)
  paper.gap(4)
  if (unit.train.length === 0) {
    paper.text('No stage is written down for this unit, so nothing falls due.', BODY)
    paper.gap(8)
    return
  }
  drawTrainOnPaper(paper, unit.train, {
    name: (stage) => stage.label,
    words: (stage) =>
      stage.dueOn === null
        ? 'no date'
        : stage.daysLate > 0
          ? distanceInWords(stage.dueOn, printedOn)
          : `${Math.round((stage.lifeLeft ?? 0) * 100)} % left`,
  })
  paper.gap(6)
  const date = (on: CalendarDate | null): string => (on === null ? '' : shortDate(on, locale))
  drawTable(
    paper,
    [
      { head: 'Stage', width: 78 },
      { head: 'Last changed', width: 60 },
      { head: 'Due', width: 60 },
      { head: 'Because', width: 'rest' },
      { head: 'The plan', width: 132 },
    ],
    unit.rows.map((row) => ({
      cells: [
        [{ text: row.label, weight: 'semibold' }],
        date(row.changedOn),
        row.dueOn === null ? 'no date' : date(row.dueOn),
        row.reason,
        row.plan,
      ],
    })),
    { size: 9, padding: 2.5, columnGap: 8 },
  )
  paper.gap(12)
}

function drawPlan(paper: Paper, plan: NonNullable<HouseholdPage['plan']>): void {
  const { locale } = paper.facts
  paper.subheading('The visits to come')
  paper.gap(3)
  paper.text([{ text: plan.next, weight: 'semibold' }, { text: ` ${plan.savings.join(' ')}` }], BODY)
  paper.gap(6)
  if (plan.visits.length === 0) return
  if (plan.line) drawOnPaper(paper, plan.line(drawingWidth(paper)), plan.sentences.join(' '))
  paper.gap(8)
  drawTable(
    paper,
    [
      { head: 'From', width: 68 },
      { head: 'At the latest', width: 68 },
      { head: 'What', width: 'rest' },
      { head: 'At the household', width: 72, align: 'right' },
    ],
    plan.visits.slice(0, VISITS_PRINTED).map((visit) => ({
      cells: [
        [{ text: shortDate(visit.on, locale), weight: 'semibold' }],
        shortDate(visit.latestOn, locale),
        visit.what,
        visit.minutes,
      ],
    })),
    { size: 9, padding: 2.5 },
  )
  const further = plan.visits.length - VISITS_PRINTED
  if (further > 0) {
    paper.gap(2)
    paper.text(`and ${counted(further, 'further visit')}, as the line above shows.`, NOTE)
  }
  paper.gap(6)
  drawCautions(paper, 'Before anything is opened', CAUTIONS_IN_SHORT, { size: 8, leading: 1.3 })
  paper.gap(12)
}

function drawMeasured(paper: Paper, unit: UnitMeasurements, page: HouseholdPage, measures: MeasureSystem): void {
  const { printedOn } = paper.facts
  const where = page.units.length > 1 ? `, ${unit.name.toLowerCase()}` : ''
  const width = drawingWidth(paper)
  const rejection = unit.membrane && drawRejection(rejectionStoryOf(unit, page.marks, printedOn), width)
  const flow = drawFlow(flowStoryOf(unit, page.marks, printedOn), width, measures)
  if (unit.membrane) drawPicture(paper, `What the membrane holds back, %${where}`, rejection, unit.rejection.sentences)
  const causes = unit.flow.causes.map((cause) => `${cause.name}. ${cause.sentence} ${cause.next}`.trim())
  if (flow)
    drawPicture(paper, `Flow, put right to 25 °C and to one pressure${where}`, flow, [
      ...unit.flow.sentences,
      ...causes,
    ])
  // A seal can be found from TDS alone, where nobody timed the flow.
  else for (const cause of causes) paper.text(cause, BODY)
  paper.subheading(`Readings${where}`)
  if (unit.readings.length === 0) paper.text('Nothing was measured here yet.', BODY)
  else drawReadings(paper, unit, measures)
  if (unit.meterWords !== '') paper.text(`Drunk: ${unit.meterWords}.`, BODY)
  for (const remark of unit.remarks) paper.text(remark, BODY)
  if (unit.readings.length > 0) paper.text(NOT_GERMS, NOTE)
  paper.gap(10)
}

/** A picture with what it comes to: kept together, the finding first. */
function drawPicture(paper: Paper, title: string, drawing: Drawing | null, sentences: readonly string[]): void {
  const words = sentences.map((sentence, index) => paper.set(sentence, paper.area.width, index === 0 ? STRONG : BODY))
  const wordsHeight = words.reduce((sum, set) => sum + set.height, 0)
  paper.ensure((drawing ? drawing.height * 0.66 : 0) + wordsHeight + 30)
  paper.subheading(title)
  paper.gap(3)
  if (drawing) drawOnPaper(paper, drawing, sentences.join(' '))
  paper.gap(4)
  for (const [index, sentence] of sentences.entries()) paper.text(sentence, index === 0 ? STRONG : BODY)
  paper.gap(12)
}

const READING_COLUMNS: readonly { readonly figure: Figure; readonly head: string; readonly width: number }[] = [
  { figure: 'tdsIn', head: 'TDS in', width: 36 },
  { figure: 'tdsOut', head: 'TDS out', width: 38 },
  { figure: 'flow', head: 'Flow', width: 42 },
  { figure: 'feedPressure', head: 'Feed', width: 30 },
  { figure: 'tankPressure', head: 'Tank', width: 30 },
  { figure: 'temperature', head: 'Water', width: 32 },
  { figure: 'meter', head: 'Meter', width: 44 },
]

interface ReadingColumn extends Column {
  readonly cell: (reading: ReadingOnSheet) => Cell
}

function readingColumns({ readings, flow }: UnitMeasurements, { measures, locale }: PrintManner): ReadingColumn[] {
  const shown = readings.slice(0, READINGS_PRINTED)
  const used = READING_COLUMNS.filter(({ figure }) => shown.some((reading) => reading[figure] !== null))
  const putRight = new Map(flow.points.map((point) => [point.readingId, point.corrected]))
  return [
    { head: 'Measured', width: 62, cell: (reading) => shortDate(reading.takenOn, locale) },
    {
      head: 'Held back %',
      width: 34,
      align: 'right',
      cell: ({ rejectionPercent }) => (rejectionPercent === null ? '' : heldParts(rejectionPercent).toFixed(0)),
    },
    ...used.flatMap(({ figure, head, width }): ReadingColumn[] => {
      const unit = unitOf(figure, measures)
      const own: ReadingColumn = {
        head: `${head} ${unit}`,
        width,
        align: 'right',
        cell: (reading) => fieldText(figure, reading[figure], measures),
      }
      if (figure !== 'flow') return [own]
      const right = (reading: ReadingOnSheet) => fieldText('flow', putRight.get(reading.readingId) ?? null, measures)
      return [own, { head: `Put right ${unit}`, width: 42, align: 'right', cell: right }]
    }),
    { head: '', width: 'rest', cell: (reading) => ({ lines: [{ wording: standingOf(reading), style: NOTE }] }) },
  ]
}

interface PrintManner {
  readonly measures: MeasureSystem
  readonly locale: string
}

function drawReadings(paper: Paper, unit: UnitMeasurements, measures: MeasureSystem): void {
  const columns = readingColumns(unit, { measures, locale: paper.facts.locale })
  const rows = unit.readings
    .slice(0, READINGS_PRINTED)
    .map((reading) => ({ cells: columns.map((column) => column.cell(reading)) }))
  drawTable(paper, columns, rows, { size: 9, padding: 2.5, columnGap: 7 })
  const earlier = unit.readings.length - READINGS_PRINTED
  if (earlier > 0) {
    paper.gap(2)
    paper.text(`and ${counted(earlier, 'earlier one')} in the books.`, NOTE)
  }
}

function standingOf(reading: ReadingOnSheet): string {
  if (reading.struck) return `struck out: ${reading.struck.reason}`
  return [
    reading.unlikely ? 'unlikely, does not count' : '',
    reading.ofThisMembrane ? '' : 'an earlier membrane',
    reading.note,
  ]
    .filter((part) => part !== '')
    .join('; ')
}
