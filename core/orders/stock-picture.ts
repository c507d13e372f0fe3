import { type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { dayAndMonth, shortDate } from '../units/date-words.ts'
import { type Drawing, hatchWithin, type Mark, type Spot } from '../units/drawing.ts'
import type { WeekAhead } from './proposal-shapes.ts'

/** What the picture of the stock ahead is drawn from. */
export interface StockPictureFacts {
  readonly weeks: readonly WeekAhead[]
  /** Until here the order made now has to last. */
  readonly covers: CalendarDate
  readonly order: number
  readonly locale: string
}

const HEIGHT = 236
const TOP = 40
const FOOT = 184
const LEFT = 44

interface Plot {
  readonly left: number
  readonly right: number
  readonly from: CalendarDate
  readonly days: number
  readonly highest: number
  readonly lowest: number
}

/**
 * Stock at the end of each week as it may be expected: firm with this order, dashed without it, hatched where pieces are missing;
 * what comes in and what expires with its number, and the day that the order has to last to. Null without weeks.
 */
export function drawStock(facts: StockPictureFacts, width: number): Drawing | null {
  const first = facts.weeks[0]
  if (!first) return null
  const plot = plotOf(facts.weeks, first, Math.max(320, width))
  const without = lineOf(plot, facts.weeks, 'left')
  const withOrder = lineOf(plot, facts.weeks, 'leftWithOrder')
  return {
    width: Math.max(320, width),
    height: HEIGHT,
    marks: [
      ...scaleMarks(plot),
      ...dateMarks(plot, facts),
      missingMarks(plot, without),
      ...(facts.order > 0 ? [{ kind: 'line', look: 'dashed', lines: [without] } as const] : []),
      { kind: 'line', look: 'firm', lines: [withOrder] },
      ...eventMarks(plot, facts.weeks),
      ...coverMarks(plot, facts),
      ...legendMarks(plot, facts),
    ],
  }
}

/** What lies there this morning. */
function startOf(first: WeekAhead): number {
  return first.leftWithOrder + first.use - first.arrives + first.expires
}

function plotOf(weeks: readonly WeekAhead[], first: WeekAhead, width: number): Plot {
  const last = weeks.at(-1) ?? first
  const heights = weeks.flatMap((week) => [week.left, week.leftWithOrder])
  return {
    left: LEFT,
    right: width - 12,
    from: first.from,
    days: daysBetween(first.from, last.until) + 1,
    highest: Math.max(1, startOf(first), ...heights),
    lowest: Math.min(0, ...heights),
  }
}

const spot = (x: number, y: number): Spot => ({ x, y })
const acrossOf = (plot: Plot, date: CalendarDate): number =>
  plot.left + (Math.min(plot.days, Math.max(0, daysBetween(plot.from, date))) / plot.days) * (plot.right - plot.left)
const upOf = ({ highest, lowest }: Plot, pieces: number): number =>
  FOOT - ((pieces - lowest) / (highest - lowest)) * (FOOT - TOP)
/** The end of a week's last day. */
const endOf = (plot: Plot, week: WeekAhead): number => acrossOf(plot, week.until) + (plot.right - plot.left) / plot.days

function lineOf(plot: Plot, weeks: readonly WeekAhead[], field: 'left' | 'leftWithOrder'): Spot[] {
  const first = weeks[0]
  const start = first ? [spot(plot.left, upOf(plot, startOf(first)))] : []
  return [...start, ...weeks.map((week) => spot(endOf(plot, week), upOf(plot, week[field])))]
}

/** Nought, and round numbers above and below it. */
function scaleMarks(plot: Plot): Mark[] {
  const step = stepOf((plot.highest - plot.lowest) / 4)
  const marks: Mark[] = []
  for (let pieces = Math.ceil(plot.lowest / step) * step; pieces <= plot.highest; pieces += step) {
    const y = upOf(plot, pieces)
    marks.push({ kind: 'line', look: 'hair', lines: [[spot(plot.left, y), spot(plot.right, y)]] })
    const text = pieces < 0 ? `−${-pieces}` : String(pieces)
    marks.push({ kind: 'words', text, at: spot(plot.left - 8, y + 4), align: 'end', look: 'second' })
  }
  return marks
}

function stepOf(least: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(1, least)))
  return [1, 2, 5, 10].map((each) => each * power).find((each) => each >= least) ?? power
}

function dateMarks(plot: Plot, { weeks, locale }: StockPictureFacts): Mark[] {
  const apart = Math.ceil(58 / ((plot.right - plot.left) / weeks.length))
  return weeks.flatMap((week, at): Mark[] => {
    const x = acrossOf(plot, week.from)
    const tick: Mark = { kind: 'line', look: 'hair', lines: [[spot(x, FOOT), spot(x, FOOT + 4)]] }
    if (at % apart !== 0 || x > plot.right - 24) return [tick]
    const text = at === 0 ? 'today' : dayAndMonth(week.from, locale)
    return [tick, { kind: 'words', text, at: spot(x, FOOT + 18), align: at === 0 ? 'start' : 'middle', look: 'second' }]
  })
}

/** Between nought and the line without the order, wherever that lies below. */
function missingMarks(plot: Plot, line: readonly Spot[]): Mark {
  const nought = upOf(plot, 0)
  const box = { x: plot.left, y: nought, width: plot.right - plot.left, height: Math.max(0, FOOT - nought) }
  const lines = box.height < 2 ? [] : hatchWithin(box, 6, ({ x, y }) => y < heightAt(line, x))
  return { kind: 'line', look: 'thin', lines }
}

function heightAt(line: readonly Spot[], x: number): number {
  const next = line.findIndex((one) => one.x >= x)
  const [a, b] = [line[next - 1], line[next]]
  if (!a || !b) return Number.NaN
  return b.x === a.x ? b.y : a.y + ((b.y - a.y) * (x - a.x)) / (b.x - a.x)
}

/** Deliveries as squares on the line with this order, and what expires as crosses. */
function eventMarks(plot: Plot, weeks: readonly WeekAhead[]): Mark[] {
  return weeks.flatMap((week): Mark[] => {
    const at = spot(endOf(plot, week), upOf(plot, week.leftWithOrder))
    const marks: Mark[] = []
    const align = at.x > plot.right - 40 ? 'end' : 'middle'
    if (week.arrives > 0)
      marks.push(
        { kind: 'point', shape: 'square', at },
        { kind: 'words', text: `+${week.arrives}`, at: spot(at.x, at.y - 9), align, look: 'bold' },
      )
    const lost = Math.round(week.expires)
    // In the middle of its week, so that it does not stand on what comes in.
    const half = spot(at.x - (plot.right - plot.left) / weeks.length / 2, at.y)
    if (lost > 0)
      marks.push(
        { kind: 'point', shape: 'cross', at: half },
        { kind: 'words', text: `−${lost} expire`, at: spot(half.x - 4, half.y + 20), align: 'start', look: 'plain' },
      )
    return marks
  })
}

function coverMarks(plot: Plot, { covers, locale }: StockPictureFacts): Mark[] {
  const x = acrossOf(plot, covers)
  if (x >= plot.right) return []
  const align = x > plot.right - 90 ? 'end' : 'start'
  const text = `to last until ${dayAndMonth(covers, locale)}`
  return [
    { kind: 'line', look: 'dotted', lines: [[spot(x, TOP - 8), spot(x, FOOT)]] },
    { kind: 'words', text, at: spot(align === 'end' ? x - 4 : x + 4, TOP - 12), align, look: 'second' },
  ]
}

function legendMarks(plot: Plot, { order, weeks }: StockPictureFacts): Mark[] {
  const y = HEIGHT - 8
  const entries = [
    { look: 'firm', words: order > 0 ? 'with this order' : 'expected', isShown: true },
    { look: 'dashed', words: 'without it', isShown: order > 0 },
  ] as const
  const marks: Mark[] = []
  let x = plot.left
  for (const { look, words, isShown } of entries) {
    if (!isShown) continue
    marks.push({ kind: 'line', look, lines: [[spot(x, y - 4), spot(x + 22, y - 4)]] })
    marks.push({ kind: 'words', text: words, at: spot(x + 28, y), align: 'start', look: 'second' })
    x += 28 + words.length * 6 + 16
  }
  if (weeks.some((week) => week.left < -0.05))
    marks.push({ kind: 'words', text: 'hatched: missing without it', at: spot(x, y), align: 'start', look: 'second' })
  return marks
}

/** The same in words. */
export function stockWords({ weeks, covers, order, locale }: StockPictureFacts): string {
  const first = weeks[0]
  const last = weeks.at(-1)
  if (!first || !last) return ''
  const short = weeks.find((week) => week.left < -0.5)
  const without = short
    ? `Without this order pieces are missing from the week of ${shortDate(short.from, locale)}`
    : 'Without this order nothing is missing'
  const comes = weeks
    .filter((week) => week.arrives > 0)
    .map(
      (week) =>
        `${week.arrives} ${week.arrives === 1 ? 'comes' : 'come'} in the week of ${shortDate(week.from, locale)}`,
    )
  const lost = weeks
    .filter((week) => Math.round(week.expires) > 0)
    .map(
      (week) =>
        `${Math.round(week.expires)} ${Math.round(week.expires) === 1 ? 'expires' : 'expire'} in the week of ${shortDate(week.from, locale)}`,
    )
  const end = `at the end, on ${shortDate(last.until, locale)}, ${Math.round(last.leftWithOrder)} are left`
  const rest = [...comes, ...lost, order > 0 ? `with it, ${end}` : end].join('; ')
  return `${Math.round(startOf(first))} are on hand today. ${without}; ${rest}. The order has to last until ${shortDate(covers, locale)}.`
}
