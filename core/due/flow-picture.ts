import { addMonths, type CalendarDate, earlierOf, laterOf } from '../units/calendar-date.ts'
import { type Drawing, type Mark, spreadDown } from '../units/drawing.ts'
import { LITRES_PER_US_GALLON, type MeasureSystem, type MillilitresPerMinute } from '../units/measures.ts'
import { acrossOf, type Frame, spot, timeAxis } from './picture-frame.ts'

/** One day's flow: as measured, and put to 25 degrees and the standard driving pressure; null where nothing is left to compare. */
export interface DrawnFlow {
  readonly takenOn: CalendarDate
  readonly measured: MillilitresPerMinute
  readonly corrected: MillilitresPerMinute | null
  readonly standing: 'counts' | 'unlikely' | 'struck'
}

/** What the picture of a membrane's flow is drawn from. */
export interface FlowStory {
  readonly today: CalendarDate
  readonly points: readonly DrawnFlow[]
  /** The membrane's own first corrected flow, mL/min; null while there is none to compare with. */
  readonly firstFlow: number | null
  readonly fallPercent: number
}

const HEIGHT = 210
const LEFT = 92
const TOP = 24
const FOOT = HEIGHT - 44

/** Corrected flow over time against the membrane's own first readings, and the measured one beside it in a lighter mark. Null without a flow. */
export function drawFlow(story: FlowStory, width: number, system: MeasureSystem): Drawing | null {
  const days = story.points.map((point) => point.takenOn)
  const [first] = days
  if (first === undefined) return null
  const wide = Math.max(320, width)
  const frame: Frame = {
    left: LEFT,
    right: wide - 12,
    top: TOP,
    foot: FOOT,
    from: days.reduce(earlierOf, first),
    until: laterOf(days.reduce(laterOf, first), addMonths(story.today, 2)),
  }
  const most = Math.max(
    story.firstFlow ?? 0,
    ...story.points.flatMap((point) => [point.measured, point.corrected ?? 0]),
  )
  const upOf = (flow: number): number => frame.foot - (flow / (most * 1.12 || 1)) * (frame.foot - frame.top)
  return {
    width: wide,
    height: HEIGHT,
    marks: [
      ...levelMarks(frame, story, upOf, system),
      ...timeAxis(frame, story.today),
      ...measuredMarks(frame, story.points, upOf),
      ...correctedMarks(frame, story.points, upOf),
      ...legend(story.points),
    ],
  }
}

function levelMarks(
  frame: Frame,
  { firstFlow, fallPercent }: FlowStory,
  upOf: (flow: number) => number,
  system: MeasureSystem,
): Mark[] {
  const zero: Level = { words: `0 ${system === 'us' ? 'gal/day' : 'mL/min'}`, flow: 0, look: null }
  const levels: readonly Level[] =
    firstFlow === null
      ? [zero]
      : [
          { words: `at first ${figure(firstFlow, system)}`, flow: firstFlow, look: 'firm' },
          {
            words: `less ${fallPercent} %: ${figure(firstFlow * (1 - fallPercent / 100), system)}`,
            flow: firstFlow * (1 - fallPercent / 100),
            look: 'dashed',
          },
          zero,
        ]
  const labels = spreadDown(
    levels.map((level) => ({ ...level, y: upOf(level.flow) + 4 })),
    15,
  )
  return [
    ...levels.flatMap(({ flow, look }): Mark[] =>
      look === null
        ? []
        : [{ kind: 'line', look, lines: [[spot(frame.left, upOf(flow)), spot(frame.right, upOf(flow))]] }],
    ),
    ...labels.map(
      ({ words, y }): Mark => ({
        kind: 'words',
        text: words,
        at: spot(frame.left - 8, y),
        align: 'end',
        look: 'second',
      }),
    ),
  ]
}

interface Level {
  readonly words: string
  readonly flow: number
  readonly look: 'firm' | 'dashed' | null
}

function figure(flow: number, system: MeasureSystem): string {
  const value = system === 'us' ? (flow * 1440) / 1000 / LITRES_PER_US_GALLON : flow
  return value.toFixed(value < 10 ? 1 : 0)
}

function measuredMarks(frame: Frame, points: readonly DrawnFlow[], upOf: (flow: number) => number): Mark[] {
  const counting = points.filter((point) => point.standing === 'counts')
  return [
    {
      kind: 'line',
      look: 'dotted',
      lines: [counting.map((point) => spot(acrossOf(frame, point.takenOn), upOf(point.measured)))],
    },
    ...points.map(
      (point): Mark => ({
        kind: 'point',
        shape: 'square',
        at: spot(acrossOf(frame, point.takenOn), upOf(point.measured)),
      }),
    ),
  ]
}

function correctedMarks(frame: Frame, points: readonly DrawnFlow[], upOf: (flow: number) => number): Mark[] {
  const placed = points.flatMap((point) =>
    point.corrected === null
      ? []
      : [{ standing: point.standing, at: spot(acrossOf(frame, point.takenOn), upOf(point.corrected)) }],
  )
  return [
    { kind: 'line', look: 'water', lines: [placed.filter((one) => one.standing === 'counts').map((one) => one.at)] },
    ...placed.map(
      ({ standing, at }): Mark => ({
        kind: 'point',
        shape: standing === 'counts' ? 'dot' : standing === 'unlikely' ? 'ring' : 'cross',
        at,
      }),
    ),
  ]
}

function legend(points: readonly DrawnFlow[]): Mark[] {
  const y = HEIGHT - 4
  const entry = (shape: 'dot' | 'square' | 'ring', x: number, text: string): Mark[] => [
    { kind: 'point', shape, at: spot(x + 4, y - 4) },
    { kind: 'words', text, at: spot(x + 13, y), align: 'start', look: 'second' },
  ]
  return [
    ...entry('dot', 2, 'put right to 25 °C and pressure'),
    ...entry('square', 204, 'as measured'),
    ...(points.every((point) => point.standing === 'counts') ? [] : entry('ring', 298, 'unlikely')),
  ]
}
