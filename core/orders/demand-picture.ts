import { type Drawing, hatchWithin, type Mark, type Spot } from '../units/drawing.ts'
import type { Wanted } from './proposal-shapes.ts'
import { casesInWords } from './reorder-lines.ts'

const HEIGHT = 214
const TOP = 62
const FOOT = 168
const LEFT = 10
/** Room for one more label below another. */
const ROW = 17
const LETTER = 6.2

interface Plot {
  readonly left: number
  readonly right: number
  /** The first and the last number of pieces on the axis. */
  readonly first: number
  readonly last: number
  readonly highest: number
}

/**
 * How many may be wanted: a column for each number of pieces, as high as it is likely; the level as a firm line with its number, what
 * is there and on its way as a dashed one, and hatched what the level would not be enough for. `width` in px, from 320. Null when
 * nothing but booked visits can be wanted.
 */
export function drawWanted(wanted: Wanted, width: number): Drawing | null {
  if (wanted.possible === 0 || wanted.chances.length === 0) return null
  const plot = plotOf(wanted, Math.max(320, width))
  return {
    width: Math.max(320, width),
    height: HEIGHT,
    marks: [
      ...axisMarks(plot),
      hatchBeyond(plot, wanted),
      ...columnMarks(plot, wanted),
      ...levelMarks(plot, wanted),
      ...thereMarks(plot, wanted),
    ],
  }
}

function plotOf(wanted: Wanted, width: number): Plot {
  const to = wanted.from + wanted.chances.length - 1
  const range = Math.max(4, to - wanted.from)
  const there = Math.max(0, wanted.there)
  const first = Math.max(0, Math.min(wanted.from, Math.max(there, wanted.from - range)) - 1)
  const last = Math.max(to, wanted.level, Math.min(there, to + range)) + 1
  return { left: LEFT, right: width - 10, first, last, highest: Math.max(...wanted.chances) }
}

/** The left edge of a number's column. */
function acrossOf({ left, right, first, last }: Plot, pieces: number): number {
  const share = (pieces - first) / (last - first + 1)
  return left + Math.min(1, Math.max(0, share)) * (right - left)
}

const middleOf = (plot: Plot, pieces: number): number => (acrossOf(plot, pieces) + acrossOf(plot, pieces + 1)) / 2
const upOf = ({ highest }: Plot, chance: number): number => FOOT - (chance / highest) * (FOOT - TOP)
const spot = (x: number, y: number): Spot => ({ x, y })

function axisMarks(plot: Plot): Mark[] {
  const { left, right, first, last } = plot
  const step = stepOf((last - first + 1) / Math.max(2, Math.floor((right - left) / 44)))
  const marks: Mark[] = [
    { kind: 'line', look: 'hair', lines: [[spot(left, FOOT), spot(right, FOOT)]] },
    { kind: 'words', text: 'pieces wanted', at: spot(right, FOOT + 36), align: 'end', look: 'second' },
  ]
  for (let pieces = Math.ceil(first / step) * step; pieces <= last; pieces += step)
    marks.push({
      kind: 'words',
      text: String(pieces),
      at: spot(middleOf(plot, pieces), FOOT + 18),
      align: 'middle',
      look: 'second',
    })
  return marks
}

/** 1, 2 or 5 times a power of ten, at least so much. */
function stepOf(least: number): number {
  const power = 10 ** Math.floor(Math.log10(Math.max(1, least)))
  return [1, 2, 5, 10].map((each) => each * power).find((each) => each >= least) ?? power
}

/** The outline of the columns; each apart as long as there are few. */
function columnMarks(plot: Plot, { from, chances }: Wanted): Mark[] {
  const outline: Spot[] = [spot(acrossOf(plot, from), FOOT)]
  const between: Spot[][] = []
  chances.forEach((chance, at) => {
    const [x1, x2, y] = [acrossOf(plot, from + at), acrossOf(plot, from + at + 1), upOf(plot, chance)]
    outline.push(spot(x1, y), spot(x2, y))
    const next = chances[at + 1]
    if (next !== undefined && x2 - x1 > 6) between.push([spot(x2, FOOT), spot(x2, upOf(plot, Math.min(chance, next)))])
  })
  outline.push(spot(acrossOf(plot, from + chances.length), FOOT))
  return [
    { kind: 'line', look: 'hair', lines: between },
    { kind: 'line', look: 'firm', lines: [outline] },
  ]
}

/** What more than the level would be wanted, hatched. */
function hatchBeyond(plot: Plot, { from, chances, level }: Wanted): Mark {
  const x = acrossOf(plot, level + 1)
  const heightAt = (across: number): number => {
    const at = Math.floor(((across - plot.left) / (plot.right - plot.left)) * (plot.last - plot.first + 1)) + plot.first
    return upOf(plot, chances[at - from] ?? 0)
  }
  const box = { x, y: TOP, width: Math.max(0, plot.right - x), height: FOOT - TOP }
  const lines = box.width < 2 ? [] : hatchWithin(box, 5, (at) => at.y > heightAt(at.x))
  return { kind: 'line', look: 'thin', lines }
}

function levelMarks(plot: Plot, { level, enoughAtLevel }: Wanted): Mark[] {
  const x = acrossOf(plot, level + 1)
  const words = `${level} are enough ${casesInWords(enoughAtLevel)}`
  return flag(plot, x, TOP - ROW - 8, words, 'firm', 'bold')
}

function thereMarks(plot: Plot, { there, enoughNow }: Wanted): Mark[] {
  const shown = Math.max(0, there)
  const x = acrossOf(plot, shown + 1)
  const words = `${shown} there or on the way: ${enoughNow < 0.005 ? 'hardly ever enough' : casesInWords(enoughNow)}`
  return flag(plot, x, TOP - 2 * ROW - 8, words, 'dashed', 'plain')
}

/** A line from the foot up to its words, which stay within the picture. */
function flag(plot: Plot, x: number, y: number, text: string, look: 'firm' | 'dashed', type: 'bold' | 'plain'): Mark[] {
  const isRight = x + text.length * LETTER + 6 > plot.right
  const fits = !isRight || x - text.length * LETTER - 6 > plot.left
  const at = fits ? spot(isRight ? x - 5 : x + 5, y + 4) : spot(plot.left, y + 4)
  return [
    { kind: 'line', look, lines: [[spot(x, FOOT + 4), spot(x, y - 6)]] },
    { kind: 'words', text, at, align: fits && isRight ? 'end' : 'start', look: type },
  ]
}

/** The same in words. */
export function wantedWords(wanted: Wanted): string {
  const { from, chances, level, there, enoughNow, enoughAtLevel, booked } = wanted
  const to = from + chances.length - 1
  const likeliest = from + chances.indexOf(Math.max(...chances))
  const spread =
    from === to ? `${from} pieces are wanted` : `From ${from} to ${to} pieces may be wanted, ${likeliest} most likely`
  const sure = booked > 0 ? `, ${booked} of them booked` : ''
  const now = enoughNow < 0.005 ? 'hardly ever enough' : `enough ${casesInWords(enoughNow)}`
  return `${spread}${sure}. ${level} are enough ${casesInWords(enoughAtLevel)}. ${Math.max(0, there)} are there or on their way: ${now}.`
}
