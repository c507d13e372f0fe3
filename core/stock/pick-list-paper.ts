import { mm } from '../paper/page-geometry.ts'
import type { Paper, PaperFacts } from '../paper/paper.ts'
import { type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { type Cell, type Column, drawTable, type Row } from '../paper/table.ts'
import { drawText } from '../paper/text-block.ts'
import { type CalendarDate, partsOf } from '../units/calendar-date.ts'
import { counted, dayAndMonth, monthName, weekdayAndDate } from '../units/date-words.ts'
import type { PullDay, PullLineRow, ShortageRow, VanPullRow } from './pull-contract.ts'

/** Sizes to be read at arm's length, from a trolley: nothing that the hand acts on is below 14 points. */
const BOX = 20
const BIG = 17
const PART = 14
const LOT = 11.5
const TOTES_WIDTH = 128

const COLUMNS: readonly Column[] = [
  { head: '', width: 24 },
  { head: 'Bin', width: 74 },
  { head: 'Pull', width: 34, align: 'right' },
  { head: 'Part and lot', width: 'rest' },
  { head: 'Totes', width: TOTES_WIDTH },
]

/** The day's pulls on paper: a list a van, to be carried along the bins, with boxes to tick; what is short at its end. */
export async function writePickListPaper(day: PullDay, facts: Omit<PaperFacts, 'title'>, sink: PaperSink) {
  const title = `Pull for ${weekdayAndDate(day.on, facts.locale)}`
  return streamPaper(
    { ...facts, title },
    async (paper, letOut) => {
      for (const van of day.vans) {
        paper.beginSection({ footNote: `${title}, ${van.van}` })
        drawVan(paper, day, van, title)
        paper.endSection()
        await letOut()
      }
      if (day.vans.length > 0) return
      paper.beginSection({ footNote: title })
      paper.heading(title)
      paper.text('No van has a visit booked for this day.', { size: 11 })
      drawLooseEnds(paper, day)
      paper.endSection()
      await letOut()
    },
    sink,
  )
}

function drawVan(paper: Paper, day: PullDay, van: VanPullRow, title: string): void {
  const { locale } = paper.facts
  const driver = van.technician ? `, ${van.technician}` : ''
  paper.heading(`${title}: ${van.van}${driver}`)
  const pieces = van.lines.reduce((sum, line) => sum + line.quantity, 0)
  paper.text(`${counted(van.stops, 'stop')}, ${counted(pieces, 'piece')} to pull, in the order of the walk`, {
    size: 11,
  })
  if (van.state === 'not-begun')
    paper.text('A plan: nothing is promised until the pull is begun on screen.', { size: LOT })
  paper.gap(10)
  if (van.lines.length > 0)
    drawTable(
      paper,
      COLUMNS,
      van.lines.map((line) => lineRow(paper, line)),
      { padding: 5 },
    )
  else paper.text('Nothing to pull from the warehouse.', { size: 11 })
  if (van.shortages.length > 0) {
    paper.gap(16)
    paper.subheading('Short')
    const rows = van.shortages.map((row) => shortRow(paper, row, locale))
    drawTable(paper, [{ head: '', width: 24 }, ...COLUMNS.slice(2)], rows, { padding: 5 })
  }
  drawLosers(paper, van)
  if (van.aboard.length > 0) {
    paper.gap(16)
    paper.subheading('On the van already')
    for (const line of van.aboard)
      paper.text(`${line.quantity}  ${line.part.name} ${line.part.number}, lot ${line.lot}, ${stopsWords(line)}`, {
        size: LOT,
      })
  }
  drawLooseEnds(paper, day)
  paper.ensure(mm(22))
  paper.gap(mm(10))
  paper.text('Pulled by (initials) ___________   Checked by (initials) ___________', {
    size: PART,
  })
}

/** Who cannot be served whole, and why: at the end, where the van is loaded. */
function drawLosers(paper: Paper, van: VanPullRow): void {
  if (van.losers.length === 0) return
  paper.gap(16)
  paper.subheading('Visits that cannot be served whole')
  for (const visit of van.losers) {
    paper.gap(4)
    const pulled = visit.pulledAllTheSame > 0 ? ` ${counted(visit.pulledAllTheSame, 'piece')} pulled all the same.` : ''
    paper.text(`Stop ${visit.stop}, ${visit.household}`, { size: PART, weight: 'semibold' })
    paper.text(`${visit.reason}${pulled}`, { size: LOT })
  }
}

function lineRow(paper: Paper, line: PullLineRow): Row {
  const expiry = line.expiresOn === null ? '' : `, to ${monthAndYear(line.expiresOn)}`
  const instead = line.insteadOf === null ? '' : `, instead of ${line.insteadOf.name} ${line.insteadOf.number}`
  return {
    cells: [
      { height: BOX + 4, draw: (x, y) => paper.tickBox(x, y + 2, BOX, (line.pulled ?? 0) >= line.quantity) },
      big(line.bin),
      big(String(line.quantity)),
      { lines: [partOf(line.part), ...soFar(line), small(`lot ${line.lot}${expiry}${instead}`)] },
      line.forPar ? { lines: [small('for the van')] } : totesCell(paper, line.totes),
    ],
  }
}

function shortRow(paper: Paper, row: ShortageRow, locale: string): Row {
  const next = row.nextDelivery
  const when =
    next === null
      ? 'none is on order'
      : `${next.quantity} on order${next.on === null ? '' : `, expected ${dayAndMonth(next.on, locale)}`}`
  return {
    cells: ['', big(String(row.quantity)), { lines: [partOf(row.part), small(when)] }, totesCell(paper, row.totes)],
  }
}

const big = (wording: string): Cell => ({ lines: [{ wording, style: { size: BIG, weight: 'semibold' } }] })
const small = (wording: string) => ({ wording, style: { size: LOT, ink: 'second' as const } })
const partOf = (part: PullLineRow['part']) => ({
  wording: `${part.name} ${part.number}`,
  style: { size: PART, weight: 'semibold' as const },
})

/** What was ticked on screen before it was printed. */
const soFar = (line: PullLineRow) =>
  line.pulled !== null && line.pulled > 0 && line.pulled < line.quantity
    ? [small(`${line.pulled} of ${line.quantity} in the totes already`)]
    : []

const TOTE = 20

/** The stops as boxes, as they stand on the totes; how many when it is more than one. */
function totesCell(paper: Paper, totes: PullLineRow['totes']): Cell {
  const step = TOTE + (totes.some((tote) => tote.quantity > 1) ? 22 : 5)
  const inRow = Math.floor(TOTES_WIDTH / step)
  const rows = Math.ceil(totes.length / inRow)
  return {
    height: rows * (TOTE + 3),
    draw: (x, y) => {
      totes.forEach((tote, index) => {
        const left = x + (index % inRow) * step
        const top = y + Math.floor(index / inRow) * (TOTE + 3)
        paper.tickBox(left, top, TOTE)
        const stop = paper.set(String(tote.stop), TOTE, { size: PART, align: 'centre' })
        drawText(paper.pen, stop, left, top + 0.5, TOTE)
        if (tote.quantity === 1) return
        drawText(paper.pen, paper.set(`×${tote.quantity}`, 20, { size: LOT }), left + TOTE + 2, top + 3, 20)
      })
    },
  }
}

const stopsWords = (line: PullLineRow): string => `stop ${line.totes.map((tote) => tote.stop).join(', ')}`

function monthAndYear(date: CalendarDate): string {
  const { year, month } = partsOf(date)
  return `${monthName(month).slice(0, 3)} ${year}`
}

function drawLooseEnds(paper: Paper, day: PullDay): void {
  if (day.withoutVan.length > 0) {
    paper.gap(12)
    paper.text(`Not on any van yet: ${day.withoutVan.map((visit) => visit.household).join('; ')}.`, { size: 10.5 })
  }
  if (day.withoutPart.length > 0) {
    paper.gap(12)
    const tasks = day.withoutPart.map((task) => `${task.household} (${task.what})`)
    paper.text(`Nobody said which part: ${tasks.join('; ')}.`, { size: 10.5 })
  }
}
