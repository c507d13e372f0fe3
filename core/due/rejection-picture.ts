import { addDays, addMonths, type CalendarDate, daysBetween, earlierOf, laterOf } from '../units/calendar-date.ts'
import { type Drawing, hatchWithin, type Mark, type Spot, spreadDown } from '../units/drawing.ts'
import {
  bandOn,
  type MembraneFinding,
  type MembraneThresholds,
  percentOn,
  type RejectionTrend,
} from '../water/membrane-trend.ts'
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
  readonly finding: MembraneFinding
  readonly thresholds: MembraneThresholds
}

interface Plot extends Frame {
  readonly lowest: number
}

const HEIGHT = 264
const LEFT = 92
const TOP = 24
const FOOT = HEIGHT - 60
/** The line under the years, and under it what the points mean. */
const SINCE_Y = HEIGHT - 23
/** How far ahead of today the picture looks at most. */
const MOST_MONTHS_AHEAD = 60

/**
 * Rejection over time: readings, the three marks of the office with their words, the trend, its band hatched, and the day it reaches the
 * replacement mark with the earliest and the latest. `width` in px, from 320. Nothing to draw without a reading: null.
 */
export function drawRejection(story: RejectionStory, width: number): Drawing | null {
  if (story.readings.length === 0) return null
  const plot = plotOf(story, Math.max(320, width))
  const trend = 'trend' in story.finding ? story.finding.trend : null
  return {
    width: Math.max(320, width),
    height: HEIGHT,
    marks: [
      ...thresholdMarks(plot, story.thresholds),
      ...timeAxis(plot, story.today),
      ...(trend ? trendMarks(plot, trend) : []),
      ...story.readings.map(
        (reading): Mark => ({
          kind: 'point',
          shape: reading.standing === 'counts' ? 'dot' : reading.standing === 'unlikely' ? 'ring' : 'cross',
          at: spot(acrossOf(plot, reading.takenOn), upOf(plot, reading.rejectionPercent)),
        }),
      ),
      ...crossingMarks(plot, story),
      ...footMarks(plot, story),
    ],
  }
}

function plotOf(story: RejectionStory, width: number): Plot {
  const days = story.readings.map((reading) => reading.takenOn)
  const firstRead = days.reduce(earlierOf)
  const from = story.fittedOn === null ? firstRead : earlierOf(story.fittedOn, firstRead)
  const lowestRead = Math.min(...story.readings.map((reading) => reading.rejectionPercent))
  const lowest = Math.max(0, Math.min(story.thresholds.overduePercent - 5, Math.floor(lowestRead) - 2))
  return { left: LEFT, right: width - 12, top: TOP, foot: FOOT, from, until: endOf(story, days), lowest }
}

/** As far as the crossing and some room behind it; a year ahead where there is none. */
function endOf({ finding, today }: RejectionStory, days: readonly CalendarDate[]): CalendarDate {
  const last = days.reduce(laterOf, today)
  const until =
    finding.kind === 'crosses' || finding.kind === 'unsure'
      ? addMonths(finding.latestOn ?? finding.on ?? finding.earliestOn, 4)
      : addMonths(last, finding.kind === 'below' ? 6 : 12)
  return earlierOf(laterOf(until, addMonths(last, 3)), addMonths(today, MOST_MONTHS_AHEAD))
}

function upOf(plot: Plot, percent: number): number {
  const share = (Math.min(100, Math.max(plot.lowest, percent)) - plot.lowest) / (100 - plot.lowest)
  return plot.foot - share * (plot.foot - plot.top)
}

function thresholdMarks(plot: Plot, thresholds: MembraneThresholds): Mark[] {
  const lines = [
    { words: '100 %', percent: 100, look: 'hair', type: 'second' },
    {
      words: `healthy ${thresholds.healthyPercent} %`,
      percent: thresholds.healthyPercent,
      look: 'hair',
      type: 'second',
    },
    {
      words: `replace ${thresholds.replacePercent} %`,
      percent: thresholds.replacePercent,
      look: 'firm',
      type: 'plain',
    },
    {
      words: `overdue ${thresholds.overduePercent} %`,
      percent: thresholds.overduePercent,
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
function trendMarks(plot: Plot, trend: RejectionTrend): Mark[] {
  const whole = daysBetween(trend.firstOn, plot.until)
  const dates = Array.from({ length: 49 }, (_, step) => addDays(trend.firstOn, Math.round((whole * step) / 48)))
  const low = dates.map((date) => spot(acrossOf(plot, date), upOf(plot, bandOn(trend, date).low)))
  const high = dates.map((date) => spot(acrossOf(plot, date), upOf(plot, bandOn(trend, date).high)))
  const at = (date: CalendarDate): Spot => spot(acrossOf(plot, date), upOf(plot, percentOn(trend.middle, date)))
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
    { kind: 'line', look: 'water', lines: [[at(trend.firstOn), at(trend.lastOn)]] },
    { kind: 'line', look: 'water-dashed', lines: [[at(trend.lastOn), at(plot.until)]] },
  ]
}

/** The height of a line of spots at an x; far off where the line does not reach. */
function heightAt(line: readonly Spot[], x: number): number {
  const next = line.findIndex((one) => one.x >= x)
  const [a, b] = [line[next - 1], line[next]]
  if (!a || !b) return Number.NaN
  return b.x === a.x ? b.y : a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x)
}

/** On the replacement mark: a bracket from the earliest to the latest day, and the expected day. */
function crossingMarks(plot: Plot, { finding, thresholds }: RejectionStory): Mark[] {
  if (finding.kind !== 'crosses' && finding.kind !== 'unsure') return []
  const y = upOf(plot, thresholds.replacePercent)
  const latest = finding.latestOn ?? plot.until
  const [x1, x2] = [acrossOf(plot, finding.earliestOn), acrossOf(plot, latest)]
  const ends = [spot(x1, 0), ...(isWithin(plot, latest) && finding.latestOn !== null ? [spot(x2, 0)] : [])]
  const marks: Mark[] = [
    {
      kind: 'line',
      look: 'firm',
      lines: [[spot(x1, y + 5), spot(x2, y + 5)], ...ends.map((end) => [spot(end.x, y), spot(end.x, y + 9)])],
    },
  ]
  if (finding.kind !== 'crosses' || !isWithin(plot, finding.on)) return marks
  const x = acrossOf(plot, finding.on)
  const words = monthAndYear(finding.on)
  const room = words.length * 3.8
  return [
    ...marks,
    { kind: 'line', look: 'firm', lines: [[spot(x, y), spot(x - 4.5, y - 8), spot(x + 4.5, y - 8), spot(x, y)]] },
    {
      kind: 'words',
      text: words,
      at: spot(Math.min(x, plot.right - room), y - 13),
      align: 'middle',
      look: 'bold',
    },
  ]
}

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
  for (const { standing, shape, words } of POINT_KINDS) {
    if (!readings.some((reading) => reading.standing === standing)) continue
    marks.push({ kind: 'point', shape, at: spot(x, HEIGHT - 8) })
    marks.push({ kind: 'words', text: words, at: spot(x + 9, HEIGHT - 4), align: 'start', look: 'second' })
    x += words.length * 5.7 + 28
  }
  return marks
}
