import { type Code128, code128, QUIET_MODULES } from './code-128.ts'

/** A text that can stand in bars, and what people read below them. */
export interface BarText {
  readonly text: string
  readonly read: string
  readonly gs1: boolean
}

/** A row of bars that fits: points. */
export interface BarRow {
  readonly read: string
  readonly code: Code128
  /** Width of a module. */
  readonly module: number
  readonly width: number
  readonly height: number
}

export interface BarsRoom {
  /** Across, quiet zones included. */
  readonly width: number
  /** The part of it, in the middle, that the bars themselves may take. */
  readonly barsWidth: number
  /** Down, for all rows with what people read below each. */
  readonly height: number
  /** What a line to read takes below its bars. */
  readonly lineHeight: number
}

/**
 * Widths of a module that are worth printing: 5, 4 and 3 dots of a printer of 300 to the inch, so that every bar is a whole number
 * of dots there and on finer ones. The narrowest is 10 thousandths of an inch: hand scanners read that off any printer.
 */
const MODULES: readonly number[] = [(5 * 72) / 300, (4 * 72) / 300, (3 * 72) / 300]

/** At least 5 mm high, or 15 % of the width where that is more, for scanning by hand (ISO/IEC 15417, from memory); two rows make do with 10 %. */
const leastHeight = (width: number, rows: number): number => Math.max((5 * 72) / 25.4, (rows > 1 ? 0.1 : 0.15) * width)

/**
 * The bars of a label, a row a text, each with the widest module that the room allows. Empty when one of them does not fit: then the
 * label says less, or has words alone.
 */
export function barsThatFit(texts: readonly BarText[], room: BarsRoom): BarRow[] {
  const height = room.height / texts.length - room.lineHeight
  const rows = texts.flatMap((text) => rowOf(text, room, height, texts.length) ?? [])
  return rows.length === texts.length ? rows : []
}

function rowOf({ text, read, gs1 }: BarText, room: BarsRoom, height: number, rows: number): BarRow | null {
  const code = code128(text, gs1)
  for (const module of MODULES) {
    const width = code.modules * module
    const isRead = width <= room.barsWidth && width + 2 * QUIET_MODULES * module <= room.width
    if (isRead && leastHeight(width, rows) <= height) return { read, code, module, width, height }
  }
  return null
}

/** The bars of a row as they stand beside each other: the left edge of each from the row's, and its width. */
export function barsOf({ code, module }: BarRow): { readonly left: number; readonly width: number }[] {
  const bars: { left: number; width: number }[] = []
  let at = 0
  code.widths.forEach((modules, place) => {
    if (place % 2 === 0) bars.push({ left: at * module, width: modules * module })
    at += modules
  })
  return bars
}
