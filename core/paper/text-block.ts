import type { Points } from './page-geometry.ts'
import type { Ink, Weight } from './page-picture.ts'
import type { Pen } from './pen.ts'
import type { Typeface } from './typeface.ts'

/** The four sizes of our papers, in points. */
export const TYPE_SIZES = { note: 8.5, body: 10.5, letter: 11, title: 15 } as const
const USUAL_LEADING = 1.36
/** From the middle of a line down to its base line, in parts of the type size: half the height of a capital (660/1000). */
const MIDDLE_TO_BASE = 0.33

/** Text, or pieces of it of which some are in the heavier weight. */
export type Wording = string | readonly { readonly text: string; readonly weight?: Weight; readonly ink?: Ink }[]

export interface TextStyle {
  readonly size: Points
  readonly weight?: Weight
  readonly ink?: Ink
  /** Line height in parts of the type size. */
  readonly leading?: number
  readonly align?: 'left' | 'right' | 'centre'
}

interface Piece {
  text: string
  readonly weight: Weight
  readonly ink: Ink
  width: Points
  /** Whether a space stands before it when it does not begin a line. */
  readonly spaced: boolean
}
interface SetLine {
  readonly pieces: readonly Piece[]
  readonly width: Points
}
/** Text broken into lines that fit the width, ready to be drawn anywhere. */
export interface SetText {
  readonly lines: readonly SetLine[]
  readonly lineHeight: Points
  readonly height: Points
  readonly width: Points
  readonly style: TextStyle
}

export const lineHeightOf = ({ size, leading = USUAL_LEADING }: TextStyle): Points => size * leading

/** Breaks a text at its spaces, and a word that is wider than the line where it must, so that nothing is ever cut off. */
export function setText(typeface: Typeface, wording: Wording, width: Points, style: TextStyle): SetText {
  const lines: SetLine[] = []
  for (const paragraph of paragraphsOf(typeface, wording, style))
    lines.push(...breakLines(typeface, paragraph, width, style))
  const lineHeight = lineHeightOf(style)
  return {
    lines,
    lineHeight,
    height: lines.length * lineHeight,
    width: lines.reduce((most, line) => Math.max(most, line.width), 0),
    style,
  }
}

/** Draws a set text from its top left corner; `width` is what it is aligned in. */
export function drawText(pen: Pen, text: SetText, x: Points, y: Points, width: Points): void {
  const { size, align = 'left' } = text.style
  text.lines.forEach((line, index) => {
    const base = y + (index + 0.5) * text.lineHeight + size * MIDDLE_TO_BASE
    let at = align === 'left' ? x : align === 'right' ? x + width - line.width : x + (width - line.width) / 2
    for (const run of runsOf(line.pieces))
      at += pen.lettering(run.text, at, base, { size, weight: run.weight, ink: run.ink })
  })
}

/** The lines of a text, for a test or a reader: what stands on each. */
export function wordsOf(text: SetText): string[] {
  return text.lines.map((line) =>
    runsOf(line.pieces)
      .map((run) => run.text)
      .join(''),
  )
}

function paragraphsOf(typeface: Typeface, wording: Wording, style: TextStyle): Piece[][] {
  const { weight = 'regular', ink = 'ink', size } = style
  const spans = typeof wording === 'string' ? [{ text: wording }] : wording
  const paragraphs: Piece[][] = [[]]
  let spaced = false
  for (const span of spans) {
    const look = { weight: span.weight ?? weight, ink: span.ink ?? ink }
    typeface
      .printable(span.text)
      .split('\n')
      .forEach((part, index) => {
        if (index > 0) {
          paragraphs.push([])
          spaced = false
        }
        // Only the plain space parts words: a no-break space or a thin one holds them together.
        part.split(' ').forEach((word, place) => {
          if (place > 0) spaced = true
          if (word === '') return
          const width = typeface.widthOf(word, size, look.weight)
          paragraphs.at(-1)?.push({ text: word, ...look, width, spaced })
          spaced = false
        })
      })
  }
  return paragraphs
}

function breakLines(typeface: Typeface, pieces: readonly Piece[], width: Points, style: TextStyle): SetLine[] {
  const lines: SetLine[] = []
  let line: Piece[] = []
  let used = 0
  const turn = (): void => {
    lines.push({ pieces: line, width: used })
    line = []
    used = 0
  }
  const fitting = pieces.flatMap((one) => piecesThatFit(typeface, one, width, style))
  fitting.forEach((piece, index) => {
    const space = piece.spaced && line.length > 0 ? typeface.widthOf(' ', style.size, piece.weight) : 0
    if (line.length > 0 && piece.spaced && used + space + widthWithTail(fitting, index) > width + 0.01) turn()
    used += piece.width + (line.length > 0 ? space : 0)
    line.push(piece)
  })
  turn()
  return lines
}

/** A word's width with what follows it without a space: a full stop in another weight stays with its word. */
function widthWithTail(pieces: readonly Piece[], index: number): Points {
  let width = pieces[index]?.width ?? 0
  for (let next = index + 1; pieces[next]?.spaced === false; next += 1) width += pieces[next]?.width ?? 0
  return width
}

/** A word that fits as it is; a wider one in parts, after a hyphen, a slash, an at sign or a dot where that helps. */
function piecesThatFit(typeface: Typeface, piece: Piece, width: Points, { size }: TextStyle): Piece[] {
  if (piece.width <= width) return [piece]
  const parts: Piece[] = []
  let part = ''
  const end = (): void => {
    if (part === '') return
    parts.push({
      ...piece,
      text: part,
      width: typeface.widthOf(part, size, piece.weight),
      spaced: parts.length > 0 || piece.spaced,
    })
    part = ''
  }
  for (const syllable of piece.text.split(/(?<=[-/@._,])/)) {
    for (const letters of typeface.widthOf(part + syllable, size, piece.weight) <= width
      ? [syllable]
      : Array.from(syllable)) {
      if (part !== '' && typeface.widthOf(part + letters, size, piece.weight) > width) end()
      part += letters
    }
  }
  end()
  return parts
}

function runsOf(pieces: readonly Piece[]): { text: string; weight: Weight; ink: Ink }[] {
  const runs: { text: string; weight: Weight; ink: Ink }[] = []
  pieces.forEach((piece, index) => {
    const text = piece.spaced && index > 0 ? ` ${piece.text}` : piece.text
    const last = runs.at(-1)
    if (last && last.weight === piece.weight && last.ink === piece.ink) last.text += text
    else runs.push({ text, weight: piece.weight, ink: piece.ink })
  })
  return runs
}
