import type { PaperFacts } from '../paper/paper.ts'
import { type PaperSink, streamPaper } from '../paper/stream-paper.ts'
import { type Cell, type Column, drawTable, type Row } from '../paper/table.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { counted, shortDate, weekdayAndDate } from '../units/date-words.ts'

/** A line to count on paper: where and what; never how many there should be. */
export interface CountSheetLine {
  readonly place: string
  readonly part: string
  readonly number: string
  readonly lot: string
  readonly expiresOn: CalendarDate | null
}

export interface CountSheet {
  readonly name: string
  readonly on: CalendarDate
  /** In the order of the walk. */
  readonly lines: readonly CountSheetLine[]
}

const BIG = 15
const BOX = 26

const COLUMNS: readonly Column[] = [
  { head: 'Place', width: 84 },
  { head: 'Part and lot', width: 'rest' },
  { head: 'Counted', width: 74 },
  { head: 'Note', width: 118 },
]

/** A round of counting on paper, in the order of the walk, with room to write; blind: the books' figures are not on it. */
export async function writeCountSheet(sheet: CountSheet, facts: Omit<PaperFacts, 'title'>, sink: PaperSink) {
  const title = `${sheet.name}: the sheet to count on`
  return streamPaper(
    { ...facts, title },
    async (paper, letOut) => {
      paper.beginSection({ footNote: title })
      paper.heading(title)
      const begun = `begun ${weekdayAndDate(sheet.on, facts.locale)}`
      paper.text(`${counted(sheet.lines.length, 'lot')} to count, in the order of the walk; ${begun}`, { size: 11 })
      paper.text('Write down what lies there, 0 included. A lot that is not on the sheet goes at its end.', {
        size: 9.5,
        ink: 'second',
      })
      paper.gap(10)
      const rows = sheet.lines.map((line) => rowOf(line, facts.locale, paper.tickBox.bind(paper)))
      const spare = Array.from({ length: SPARE }, () => spareRow(paper.tickBox.bind(paper)))
      drawTable(paper, COLUMNS, [...rows, ...spare], { padding: 6 })
      paper.gap(24)
      paper.text('Counted by ________________________     on ________________________', { size: 10.5 })
      paper.endSection()
      await letOut()
    },
    sink,
  )
}

/** Empty lines for what should not be there. */
const SPARE = 4

type Boxed = (x: number, y: number, size: number) => void

function rowOf(line: CountSheetLine, locale: string, box: Boxed): Row {
  const until = line.expiresOn === null ? '' : `, to ${shortDate(line.expiresOn, locale)}`
  return {
    cells: [
      { lines: [{ wording: line.place, style: { size: BIG, weight: 'semibold' } }] },
      {
        lines: [
          { wording: `${line.part} ${line.number}` },
          { wording: `lot ${line.lot}${until}`, style: { size: 10.5 } },
        ],
      },
      room(box),
      '',
    ],
  }
}

const spareRow = (box: Boxed): Row => ({ cells: ['', '', room(box), ''] })

/** Two boxes side by side: the count, and the second one. */
const room = (box: Boxed): Cell => ({
  height: BOX + 4,
  draw: (x, y) => {
    box(x, y + 2, BOX)
    box(x + BOX + 6, y + 2, BOX)
  },
})
