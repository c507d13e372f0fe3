import { addDays, type CalendarDate, dateFromParts, daysBetween, partsOf } from '../units/calendar-date.ts'
import { dayAndMonth } from '../units/date-words.ts'
import { type Drawing, hatchWithin, type Mark } from '../units/drawing.ts'
import type { StageId } from '../units/ids.ts'

/** A stage as a row of the line. */
export interface LineStage {
  readonly stageId: StageId
  readonly label: string
  /** Where its unit stands; blank in a household with one unit. Each unit gets a line with its name. */
  readonly unit: string
  readonly care: 'change' | 'sanitise'
  /** When it falls due as it stands now. */
  readonly dueOn: CalendarDate | null
}

/** A planned visit, and for each stage it sees to the day on which that falls due in that round. */
export interface LineVisit {
  readonly visitOn: CalendarDate
  readonly changes: readonly { readonly stageId: StageId; readonly dueOn: CalendarDate | null }[]
}

export interface VisitsStory {
  readonly from: CalendarDate
  readonly until: CalendarDate
  readonly stages: readonly LineStage[]
  readonly visits: readonly LineVisit[]
  /** Days a stage may run past its due date. */
  readonly graceDays: number
  readonly locale: string
}

interface Plot {
  readonly left: number
  readonly right: number
  readonly x: (date: CalendarDate) => number
  /** The middle of a stage's row, by its place in the list. */
  readonly y: (row: number) => number
  readonly top: number
  readonly foot: number
}

const LEFT = 92
const TOP = 34
const ROW = 22
const LONGEST_LABEL = 14

/**
 * The visits to come as a line, feed to tap downward: every visit a line through the stages it sees to, a dot where one is changed, a ring
 * where one is sanitised. Hatched is what has run past its due date, up to the tick where the grace ends; dotted is the life given up by
 * going early. `width` in px, from 320.
 */
export function drawVisits(story: VisitsStory, width: number): Drawing {
  const wide = Math.max(320, width)
  const plot = plotOf(story, wide)
  return {
    width: wide,
    height: plot.foot + 44,
    marks: [
      ...rowMarks(plot, story),
      ...yearMarks(plot, story),
      ...visitMarks(plot, story),
      ...story.stages.flatMap((stage, row) => lifeMarks(plot, story, stage, row)),
      ...legend(plot),
    ],
  }
}

/** Whether a stage is the first of a unit that is named. */
const beginsUnit = (stages: readonly LineStage[], index: number): boolean =>
  stages[index]?.unit !== '' && stages[index]?.unit !== stages[index - 1]?.unit

function plotOf({ from, until, stages }: VisitsStory, width: number): Plot {
  const [left, right] = [LEFT, width - 14]
  let lines = 0
  const rows = stages.map((_, index) => {
    if (beginsUnit(stages, index)) lines += 1
    lines += 1
    return lines - 1
  })
  const whole = Math.max(1, daysBetween(from, until))
  return {
    left,
    right,
    top: TOP,
    foot: TOP + Math.max(1, lines) * ROW,
    x: (date) => left + (Math.min(whole, Math.max(0, daysBetween(from, date))) / whole) * (right - left),
    y: (row) => TOP + ((rows[row] ?? 0) + 0.5) * ROW,
  }
}

function rowMarks(plot: Plot, { stages }: VisitsStory): Mark[] {
  return stages.flatMap(({ label, unit }, row): Mark[] => [
    ...(beginsUnit(stages, row)
      ? [{ kind: 'words', text: unit, at: at(0, plot.y(row) - ROW + 6), align: 'start', look: 'bold' } as const]
      : []),
    { kind: 'line', look: 'hair', lines: [[at(plot.left, plot.y(row)), at(plot.right, plot.y(row))]] },
    {
      kind: 'words',
      text: label.length > LONGEST_LABEL ? `${label.slice(0, LONGEST_LABEL - 1)}…` : label,
      at: at(plot.left - 10, plot.y(row) + 4),
      align: 'end',
      look: 'plain',
    },
  ])
}

function yearMarks(plot: Plot, { from, until }: VisitsStory): Mark[] {
  const marks: Mark[] = [{ kind: 'line', look: 'hair', lines: [[at(plot.left, plot.foot), at(plot.right, plot.foot)]] }]
  for (let year = partsOf(from).year + 1; year <= partsOf(until).year; year += 1) {
    const x = plot.x(dateFromParts(year, 1, 1) ?? until)
    marks.push({ kind: 'line', look: 'hair', lines: [[at(x, plot.foot), at(x, plot.foot + 4)]] })
    if (x < plot.right - 8)
      marks.push({ kind: 'words', text: String(year), at: at(x, plot.foot + 18), align: 'middle', look: 'second' })
  }
  return marks
}

/** A line from the date at the top down to the last stage that the visit sees to. Dates stand where there is room for them. */
function visitMarks(plot: Plot, { visits, stages, locale }: VisitsStory): Mark[] {
  let free = Number.NEGATIVE_INFINITY
  return visits.flatMap(({ visitOn, changes }, index): Mark[] => {
    const x = plot.x(visitOn)
    const rows = changes.map(({ stageId }) => stages.findIndex((stage) => stage.stageId === stageId))
    const down = plot.y(Math.max(0, ...rows))
    const line: Mark = { kind: 'line', look: 'firm', lines: [[at(x, plot.top - 8), at(x, down)]] }
    const words = dayAndMonth(visitOn, locale)
    const half = words.length * 3.4
    const middle = Math.min(Math.max(x, plot.left + half - 8), plot.right + 12 - half)
    if (middle - half < free) return [line]
    free = middle + half + 6
    return [
      line,
      {
        kind: 'words',
        text: words,
        at: at(middle, plot.top - 14),
        align: 'middle',
        look: index === 0 ? 'bold' : 'plain',
      },
    ]
  })
}

/** One row: life running from change to change, what ran late, what was given up, and the changes themselves. */
function lifeMarks(plot: Plot, story: VisitsStory, stage: LineStage, row: number): Mark[] {
  const y = plot.y(row)
  const rounds = story.visits.flatMap((visit) => {
    const change = visit.changes.find((one) => one.stageId === stage.stageId)
    return change ? [{ on: visit.visitOn, dueOn: change.dueOn }] : []
  })
  const marks: Mark[] = []
  let since = story.from
  for (const { on, dueOn } of rounds) {
    marks.push(...roundMarks(plot, { since, on, dueOn, graceDays: story.graceDays }, y))
    since = on
  }
  if (rounds.length > 0 || stage.dueOn !== null) marks.push(life(plot, since, story.until, y))
  for (const { on } of rounds)
    marks.push({ kind: 'point', shape: stage.care === 'change' ? 'dot' : 'ring', at: at(plot.x(on), y) })
  return marks
}

interface Round {
  readonly since: CalendarDate
  readonly on: CalendarDate
  readonly dueOn: CalendarDate | null
  readonly graceDays: number
}

function roundMarks(plot: Plot, { since, on, dueOn, graceDays }: Round, y: number): Mark[] {
  if (dueOn === null || dueOn === on) return [life(plot, since, on, y)]
  if (dueOn > on) {
    const [x1, x2] = [plot.x(on), plot.x(dueOn)]
    const givenUp: Mark = { kind: 'line', look: 'dotted', lines: [[at(x1, y - 6), at(x2, y - 6), at(x2, y - 2)]] }
    return x2 - x1 < 3 ? [life(plot, since, on, y)] : [life(plot, since, on, y), givenUp]
  }
  const box = { x: plot.x(dueOn), y: y - 5, width: Math.max(1, plot.x(on) - plot.x(dueOn)), height: 10 }
  const graceEnds = plot.x(addDays(dueOn, graceDays))
  return [
    ...(dueOn > since ? [life(plot, since, dueOn, y)] : []),
    { kind: 'line', look: 'thin', lines: hatchWithin(box, 5, () => true) },
    { kind: 'line', look: 'firm', lines: [[at(graceEnds, y - 4), at(graceEnds, y + 4)]] },
  ]
}

const life = (plot: Plot, from: CalendarDate, until: CalendarDate, y: number): Mark => ({
  kind: 'line',
  look: 'water',
  lines: [[at(plot.x(from), y), at(plot.x(until), y)]],
})

function legend(plot: Plot): Mark[] {
  const y = plot.foot + 40
  const words = (x: number, text: string): Mark => ({
    kind: 'words',
    text,
    at: at(x, y),
    align: 'start',
    look: 'second',
  })
  return [
    { kind: 'point', shape: 'dot', at: at(6, y - 4) },
    words(15, 'change'),
    { kind: 'point', shape: 'ring', at: at(68, y - 4) },
    words(77, 'sanitise'),
    { kind: 'line', look: 'thin', lines: hatchWithin({ x: 134, y: y - 9, width: 18, height: 10 }, 5, () => true) },
    words(157, 'past its date'),
    { kind: 'line', look: 'dotted', lines: [[at(238, y - 6), at(256, y - 6), at(256, y - 1)]] },
    words(262, 'life given up'),
  ]
}

const at = (x: number, y: number) => ({ x, y })
