import { addMonths, type CalendarDate, daysBetween, earlierOf, laterOf } from '../units/calendar-date.ts'
import { type Drawing, hatchWithin, type Mark, type Spot, spreadDown } from '../units/drawing.ts'
import { heldParts } from '../water/rejection.ts'
import { acrossOf, type Frame, isWithin, monthAndYear, spot, timeAxis } from './picture-frame.ts'

/** A reading as it is drawn. A struck one counts for nothing and is crossed; an unlikely one is hollow. */
export interface DrawnReading {
  readonly takenOn: CalendarDate
  readonly rejectionPercent: number
  readonly standing: 'counts' | 'unlikely' | 'struck'
}

/** What the picture of a membrane's rejection is drawn from. */
export interface RejectionStory {
  readonly today: CalendarDate
  /** Null when nobody wrote it down. */
  readonly fittedOn: CalendarDate | null
  readonly readings: readonly DrawnReading[]
  readonly trend: DrawnTrend | null
  /** When it reaches the replacement mark; no latest day when it may never, no day of its own when nobody can name one. */
  readonly crossing: {
    readonly on: CalendarDate | null
    readonly earliestOn: CalendarDate
    readonly latestOn: CalendarDate | null
  } | null
  /** The office's marks, percent held back. */
  readonly marks: { readonly healthyPercent: number; readonly replacePercent: number; readonly overduePercent: number }
}

export interface DrawnTrend {
  /** The readings it is laid through. */
  readonly firstOn: CalendarDate
  readonly lastOn: CalendarDate
  /** In order of days, percent held back; straight between them. */
  readonly line: readonly { readonly on: CalendarDate; readonly percent: number }[]
  readonly band: readonly { readonly on: CalendarDate; readonly low: number; readonly high: number }[]
}

interface Plot extends Frame {
  readonly lowest: number
}

/** Down to the line that says since when; another one where the points need to be told apart. */
const HEIGHT = 245
const LEGEND_HEIGHT = 19
const LEFT = 92
const TOP = 24
const FOOT = HEIGHT - 41
/** The line under the years, and under it what the points mean. */
const SINCE_Y = HEIGHT - 4
/** How far ahead of today the picture looks at most. */
const MOST_MONTHS_AHEAD = 60

/**
 * Rejection over time: readings, the three marks of the office with their words, the trend, its band hatched, and the day it reaches the
 * replacement mark with the earliest and the latest. `width` in px, from 320. Nothing to draw without a reading: null.
 */
export function drawRejection(story: RejectionStory, width: number): Drawing | null {
  if (story.readings.length === 0) return null
  const plot = plotOf(story, Math.max(320, width))
  return {
    width: Math.max(320, width),
    height: isAlike(story.readings) ? HEIGHT : HEIGHT + LEGEND_HEIGHT,
    marks: [
      ...thresholdMarks(plot, story.marks),
      ...timeAxis(plot, story.today),
      ...(story.trend ? trendMarks(plot, story.trend) : []),
      ...story.readings.map(
        (reading): Mark => ({
          kind: 'point',
          shape: reading.standing === 'counts' ? 'dot' : reading.standing === 'unlikely' ? 'ring' : 'cross',
          at: spot(acrossOf(plot, reading.takenOn), upOf(plot, reading.rejectionPercent)),
        }),
      ),
      ...belowScale(plot, story.readings),
      ...crossingMarks(plot, story),
      ...footMarks(plot, story),
    ],
  }
}

function plotOf(story: RejectionStory, width: number): Plot {
  const days = story.readings.map((reading) => reading.takenOn)
  const firstRead = days.reduce(earlierOf)
  const from = story.fittedOn === null ? firstRead : earlierOf(story.fittedOn, firstRead)
  // What does not count does not stretch the scale: it stands at the foot, with its figure.
  const counting = story.readings.filter((reading) => reading.standing === 'counts')
  const lowestRead = Math.min(100, ...counting.map((reading) => reading.rejectionPercent))
  const lowest = Math.max(0, Math.min(story.marks.overduePercent - 5, Math.floor(lowestRead) - 2))
  return { left: LEFT, right: width - 12, top: TOP, foot: FOOT, from, until: endOf(story, days), lowest }
}

/** As far as the crossing and some room behind it; a year ahead where there is none. */
function endOf({ crossing, today }: RejectionStory, days: readonly CalendarDate[]): CalendarDate {
  const last = days.reduce(laterOf, today)
  const until = crossing ? addMonths(crossing.latestOn ?? crossing.on ?? crossing.earliestOn, 4) : addMonths(last, 12)
  return earlierOf(laterOf(until, addMonths(last, 3)), addMonths(today, MOST_MONTHS_AHEAD))
}

function upOf(plot: Plot, percent: number): number {
  const share = (Math.min(100, Math.max(plot.lowest, percent)) - plot.lowest) / (100 - plot.lowest)
  return plot.foot - share * (plot.foot - plot.top)
}

/** The figure beside a reading that lies below the scale. */
function belowScale(plot: Plot, readings: readonly DrawnReading[]): Mark[] {
  return readings
    .filter((reading) => reading.rejectionPercent < plot.lowest)
    .map((reading) => {
      const x = acrossOf(plot, reading.takenOn)
      const isFarRight = x > plot.right - 60
      const text = `${heldParts(reading.rejectionPercent)} %`
      const at = spot(isFarRight ? x - 8 : x + 8, plot.foot - 5)
      return { kind: 'words', text, at, align: isFarRight ? 'end' : 'start', look: 'second' }
    })
}

function thresholdMarks(plot: Plot, marks: RejectionStory['marks']): Mark[] {
  const lines = [
    { words: '100 %', percent: 100, look: 'hair', type: 'second' },
    {
      words: `healthy ${marks.healthyPercent} %`,
      percent: marks.healthyPercent,
      look: 'hair',
      type: 'second',
    },
    {
      words: `replace ${marks.replacePercent} %`,
      percent: marks.replacePercent,
      look: 'firm',
      type: 'plain',
    },
    {
      words: `overdue ${marks.overduePercent} %`,
      percent: marks.overduePercent,
      look: 'dashed',
      type: 'second',
    },
  ] as const
  const labels = spreadDown(
    lines.map((line) => ({ ...line, y: upOf(plot, line.percent) + 4 })),
    15,
  )
  return [
    ...lines.map(
      ({ percent, look }): Mark => ({
        kind: 'line',
        look,
        lines: [[spot(plot.left, upOf(plot, percent)), spot(plot.right, upOf(plot, percent))]],
      }),
    ),
    ...labels.map(
      ({ words, y, type }): Mark => ({
        kind: 'words',
        text: words,
        at: spot(plot.left - 8, y),
        align: 'end',
        look: type,
      }),
    ),
  ]
}

/** The band between the steepest and the flattest line, hatched over a tint, and the trend: whole over the readings, dashed beyond them. */
function trendMarks(plot: Plot, { firstOn, lastOn, line, band }: DrawnTrend): Mark[] {
  const place = (on: CalendarDate, percent: number): Spot => spot(acrossOf(plot, on), upOf(plot, percent))
  const shown = band.filter(({ on }) => isWithin(plot, on))
  const low = shown.map((day) => place(day.on, day.low))
  const high = shown.map((day) => place(day.on, day.high))
  const at = (on: CalendarDate): Spot => place(on, percentOn(line, on))
  const end = earlierOf(plot.until, line.at(-1)?.on ?? lastOn)
  return [
    { kind: 'tint', outline: [...high, ...low.toReversed()] },
    {
      kind: 'line',
      look: 'thin',
      lines: hatchWithin(
        { x: plot.left, y: plot.top, width: plot.right - plot.left, height: plot.foot - plot.top },
        7,
        ({ x, y }) => y > heightAt(high, x) && y < heightAt(low, x),
      ),
    },
    { kind: 'line', look: 'hair', lines: [high, low] },
    { kind: 'line', look: 'water', lines: [[at(firstOn), at(lastOn)]] },
    { kind: 'line', look: 'water-dashed', lines: [[at(lastOn), at(end)]] },
  ]
}

/** What the trend says for a day between its ends. */
function percentOn(line: DrawnTrend['line'], on: CalendarDate): number {
  const [first, last] = [line[0], line.at(-1)]
  if (!first || !last) return 0
  const whole = daysBetween(first.on, last.on)
  return whole === 0
    ? first.percent
    : first.percent + ((last.percent - first.percent) * daysBetween(first.on, on)) / whole
}

/** The height of a line of spots at an x; far off where the line does not reach. */
function heightAt(line: readonly Spot[], x: number): number {
  const next = line.findIndex((one) => one.x >= x)
  const [a, b] = [line[next - 1], line[next]]
  if (!a || !b) return Number.NaN
  return b.x === a.x ? b.y : a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x)
}

/** On the replacement mark: a bracket from the earliest to the latest day, and the expected day. */
function crossingMarks(plot: Plot, { crossing, marks }: RejectionStory): Mark[] {
  if (crossing === null) return []
  const y = upOf(plot, marks.replacePercent)
  const { on, earliestOn, latestOn } = crossing
  const [x1, x2] = [acrossOf(plot, earliestOn), acrossOf(plot, latestOn ?? plot.until)]
  const ends = latestOn !== null && isWithin(plot, latestOn) ? [x1, x2] : [x1]
  const bracket: Mark = {
    kind: 'line',
    look: 'firm',
    lines: [[spot(x1, y + 5), spot(x2, y + 5)], ...ends.map((x) => [spot(x, y), spot(x, y + 9)])],
  }
  if (on === null || !isWithin(plot, on)) return [bracket]
  const x = acrossOf(plot, on)
  const words = monthAndYear(on)
  return [
    bracket,
    { kind: 'line', look: 'firm', lines: [[spot(x, y), spot(x - 4.5, y - 8), spot(x + 4.5, y - 8), spot(x, y)]] },
    {
      kind: 'words',
      text: words,
      at: spot(Math.min(x, plot.right - words.length * 3.8), y - 13),
      align: 'middle',
      look: 'bold',
    },
  ]
}

const isAlike = (readings: readonly DrawnReading[]): boolean =>
  readings.every((reading) => reading.standing === 'counts')

const POINT_KINDS = [
  { standing: 'counts', shape: 'dot', words: 'counts' },
  { standing: 'unlikely', shape: 'ring', words: 'unlikely, does not count' },
  { standing: 'struck', shape: 'cross', words: 'struck out' },
] as const

/** Under the years: since when the membrane is there, and what the points mean. */
function footMarks(plot: Plot, { fittedOn, readings }: RejectionStory): Mark[] {
  const since = fittedOn === null ? 'since the first reading' : `fitted ${monthAndYear(fittedOn)}`
  const marks: Mark[] = [{ kind: 'words', text: since, at: spot(plot.left, SINCE_Y), align: 'start', look: 'second' }]
  let x = 6
  if (isAlike(readings)) return marks
  const y = HEIGHT + LEGEND_HEIGHT
  for (const { standing, shape, words } of POINT_KINDS) {
    if (!readings.some((reading) => reading.standing === standing)) continue
    marks.push({ kind: 'point', shape, at: spot(x, y - 8) })
    marks.push({ kind: 'words', text: words, at: spot(x + 9, y - 4), align: 'start', look: 'second' })
    x += words.length * 5.7 + 28
  }
  return marks
}
