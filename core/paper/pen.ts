import type { PageSize, Points } from './page-geometry.ts'
import { PAGE_SIZES } from './page-geometry.ts'
import { INKS, type Ink, type Mark, type PagePicture, pathData, type Step, short, type Weight } from './page-picture.ts'
import type { PdfFile } from './pdf-document.ts'
import type { Typeface } from './typeface.ts'

export interface LetteringStyle {
  readonly size: Points
  readonly weight?: Weight
  readonly ink?: Ink
}

export interface OutlineStyle {
  readonly line?: Ink | null
  readonly fill?: Ink | null
  readonly lineWidth?: Points
  readonly dash?: readonly [Points, Points] | null
}

export const HAIRLINE: Points = 0.5
export const FIRM_LINE: Points = 0.9

/**
 * Draws on the open page: each mark goes into the PDF's operators and, when someone wants to look at the page before it is
 * printed, into a picture of it. Positions are from the sheet's top left corner; letters stand on their base line.
 */
export class Pen {
  readonly #file: PdfFile
  readonly #typeface: Typeface
  readonly #size: PageSize
  #operators: string[] = []
  #marks: Mark[] | null = null
  #ink: Ink | null = null

  constructor(file: PdfFile, typeface: Typeface, size: PageSize) {
    this.#file = file
    this.#typeface = typeface
    this.#size = size
  }

  openPage(pictured: boolean): void {
    this.#file.addPage()
    this.#marks = pictured ? [] : null
    this.#ink = null
  }

  /** Hands the page over and returns its picture when one was asked for. */
  closePage(): PagePicture | null {
    this.#handOver()
    this.#file.endPage()
    const picture = this.#marks && { ...PAGE_SIZES[this.#size], marks: this.#marks }
    this.#marks = null
    return picture
  }

  /** One line of text of one weight from `x`, on the base line `y`. Returns its width. The text is taken as printable. */
  lettering(text: string, x: Points, y: Points, { size, weight = 'regular', ink = 'ink' }: LetteringStyle): Points {
    if (text === '') return 0
    this.#dip(ink)
    const words = this.#words(text, weight)
    const font = this.#file.fonts[weight].name
    this.#operators.push(`BT /${font} ${short(size)} Tf 1 0 0 -1 ${short(x)} ${short(y)} Tm [${words.glyphs}] TJ ET`)
    this.#marks?.push({ kind: 'text', x, y, size, weight, ink, text })
    return (words.advance / 1000) * size
  }

  outline(steps: readonly Step[], style: OutlineStyle): void {
    const { line = null, fill = null, lineWidth = HAIRLINE, dash = null } = style
    if (steps.length === 0 || (line === null && fill === null)) return
    const out = this.#operators
    if (fill) this.#dip(fill)
    if (line)
      out.push(`${rgb(line)} RG ${short(lineWidth)} w ${dash ? `[${dash.map(short).join(' ')}] 0 d` : '[] 0 d'}`)
    out.push(pdfPath(steps), fill ? (line ? 'B' : 'f') : 'S')
    this.#marks?.push({ kind: 'outline', path: pathData(steps), line, fill, lineWidth, dash })
  }

  /** Draws what belongs to an element of the document's structure. */
  content(role: string, draw: () => void): void {
    this.#handOver()
    this.#file.content(role, () => {
      draw()
      this.#handOver()
    })
  }

  /** A drawing finished later; the room it takes is given, its text stands left on the base line 0. */
  late(name: string, drawing: { use(name: string): void }, x: Points, y: Points): void {
    drawing.use(name)
    this.#operators.push(`q 1 0 0 -1 ${short(x)} ${short(y)} cm /${name} Do Q`)
  }

  /** The operators of a late drawing that says `text`. */
  lateLettering(text: string, { size, ink = 'ink' }: LetteringStyle): string {
    const { glyphs } = this.#words(text, 'regular')
    return `${rgb(ink)} rg BT /${this.#file.fonts.regular.name} ${short(size)} Tf 1 0 0 1 0 0 Tm [${glyphs}] TJ ET`
  }

  #words(text: string, weight: Weight): { advance: number; glyphs: string } {
    const space = this.#typeface.word(' ', weight)
    let glyphs = ''
    let advance = 0
    text.split(' ').forEach((part, index) => {
      const word = this.#typeface.word(part, weight)
      glyphs += index > 0 ? space.glyphs + word.glyphs : word.glyphs
      advance += index > 0 ? space.advance + word.advance : word.advance
    })
    // Neighbouring strings of a TJ array are one string.
    return { glyphs: glyphs.replaceAll('><', ''), advance }
  }

  #dip(ink: Ink): void {
    if (this.#ink === ink) return
    this.#ink = ink
    this.#operators.push(`${rgb(ink)} rg`)
  }

  #handOver(): void {
    if (this.#operators.length === 0) return
    this.#file.write(this.#operators.join('\n'))
    this.#operators = []
  }
}

const rgb = (ink: Ink): string => INKS[ink].map((part) => (part / 255).toFixed(3)).join(' ')

const PDF_STEPS = { M: 'm', L: 'l', C: 'c', Z: 'h' } as const

function pdfPath(steps: readonly Step[]): string {
  return steps.map(([letter, ...numbers]) => [...numbers.map((n) => short(n)), PDF_STEPS[letter]].join(' ')).join(' ')
}
