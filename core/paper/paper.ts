import type { CalendarDate } from '../units/calendar-date.ts'
import { longDate } from '../units/date-words.ts'
import { boxOutline, lineFrom } from './outlines.ts'
import {
  type Box,
  type Margins,
  mm,
  PAGE_SIZES,
  type PageSize,
  type Points,
  textArea,
  USUAL_MARGINS,
} from './page-geometry.ts'
import type { PagePicture, Step } from './page-picture.ts'
import type { LateDrawing, PdfFile } from './pdf-document.ts'
import { FIRM_LINE, HAIRLINE, type OutlineStyle, type Pen } from './pen.ts'
import type { Said } from './structure-tree.ts'
import {
  drawText,
  lineHeightOf,
  type SetText,
  setText,
  type TextStyle,
  TYPE_SIZES,
  type Wording,
} from './text-block.ts'
import type { Typeface } from './typeface.ts'

export interface PaperFacts {
  /** The document's title: shown by the reader's window, read out by a screen reader. */
  readonly title: string
  readonly officeName: string
  /** The office's locale, such as `en-US`: the document's language and the way its dates are written. */
  readonly locale: string
  readonly pageSize: PageSize
  /** The date of printing, at the foot of every page. */
  readonly printedOn: CalendarDate
  /** The instant of making, UTC; the same input gives the same bytes. */
  readonly madeAt: string
}

export interface SectionFacts {
  /** What the foot calls it, before the page number: "Job card BM-0417". Empty for none. */
  readonly footNote?: string
  readonly margins?: Margins
  /** Letters and invoices have their own foot. */
  readonly foot?: 'page-of' | 'none'
  /** Drawn at the top of the second and every further page, from the top margin; returns the height it took. */
  readonly onNextPage?: (paper: Paper) => Points
}

interface OpenSection {
  readonly facts: SectionFacts
  pages: number
  readonly total: LateDrawing | null
}

const FOOT_NOTE: TextStyle = { size: TYPE_SIZES.note, ink: 'second' }
/** Room for the number of pages, from its base line: a little below for figures with tails. */
const LATE_BOX: Box = { x: 0, y: -4, width: 60, height: 18 }

/**
 * The sheet a paper is written on: text, tables and outlines flow from the top margin down and go on to the next page by
 * themselves; `at`-methods draw where they are told. A section is a document of its own within the file (a letter, a job card):
 * its page numbers begin at 1.
 */
export class Paper {
  readonly facts: PaperFacts
  readonly pen: Pen
  readonly typeface: Typeface
  readonly #file: PdfFile
  #section: OpenSection | null = null
  #sections = 0
  #pages = 0
  #pictures: number
  readonly pictures: PagePicture[] = []
  /** Where the flow stands: the top of what comes next. */
  y: Points = 0

  /** `pictures` of the first so many pages are kept, for a preview on screen. */
  constructor(file: PdfFile, pen: Pen, typeface: Typeface, facts: PaperFacts, pictures: number) {
    this.#file = file
    this.pen = pen
    this.typeface = typeface
    this.facts = facts
    this.#pictures = pictures
  }

  get pages(): number {
    return this.#pages
  }

  /** The page of the open section, from 1. */
  get pageOfSection(): number {
    return this.#section?.pages ?? 0
  }

  /** What lies between the margins of the open section. */
  get area(): Box {
    return textArea(this.facts.pageSize, this.#section?.facts.margins ?? USUAL_MARGINS)
  }

  get sheet(): { readonly width: Points; readonly height: Points } {
    return PAGE_SIZES[this.facts.pageSize]
  }

  /** What is left of the page below the flow. */
  get room(): Points {
    return this.area.y + this.area.height - this.y
  }

  beginSection(facts: SectionFacts = {}): void {
    if (this.#section) throw new Error('The section before has not been ended.')
    this.#sections += 1
    const total = facts.foot === 'none' ? null : this.#file.lateDrawing(LATE_BOX)
    this.#section = { facts, pages: 0, total }
    this.#file.openElement('Sect')
    this.#openPage()
  }

  endSection(): void {
    const section = this.#open()
    this.#closePage()
    this.#file.closeElement()
    section.total?.finish(this.pen.lateLettering(String(section.pages), FOOT_NOTE))
    this.#section = null
  }

  /** Goes to the next page of the section. What stands at its top because a page ended is decoration to a screen reader. */
  nextPage(): void {
    this.#closePage()
    this.#openPage()
    const { onNextPage } = this.#open().facts
    if (!onNextPage) return
    let height: Points = 0
    this.pen.content('Artifact', () => {
      height = onNextPage(this)
    })
    this.y += height
  }

  /** Goes to the next page when less than this is left; returns whether it did. Nothing taller than a page loops. */
  ensure(height: Points): boolean {
    if (height <= this.room || this.y <= this.area.y) return false
    this.nextPage()
    return true
  }

  gap(height: Points): void {
    this.y += height
  }

  set(wording: Wording, width: Points, style: TextStyle): SetText {
    return setText(this.typeface, wording, width, style)
  }

  heading(wording: Wording, style: Partial<TextStyle> = {}): void {
    this.text(wording, { size: TYPE_SIZES.title, weight: 'semibold', leading: 1.25, ...style }, 'H1')
  }

  subheading(wording: Wording, style: Partial<TextStyle> = {}): void {
    const look: TextStyle = { size: TYPE_SIZES.letter, weight: 'semibold', ...style }
    this.ensure(lineHeightOf(look) * 3)
    this.text(wording, look, 'H2')
  }

  /** A paragraph in the flow; goes over the end of the page line by line. `within` narrows it. */
  text(wording: Wording, style: TextStyle, role = 'P', within: { x: Points; width: Points } = this.area): void {
    let set = this.set(wording, within.width, style)
    this.#file.structure(role, {}, () => {
      while (set.lines.length > 0) {
        const fit = Math.floor((this.room + 0.01) / set.lineHeight)
        const now = Math.min(fit, set.lines.length)
        if (now > 0) {
          const first = { ...set, lines: set.lines.slice(0, now) }
          this.pen.content(role, () => drawText(this.pen, first, within.x, this.y, within.width))
          this.y += now * set.lineHeight
        }
        set = { ...set, lines: set.lines.slice(now) }
        if (set.lines.length > 0) this.nextPage()
      }
    })
  }

  /** A text at its place, out of the flow. Returns the height it takes. */
  textAt(wording: Wording, x: Points, y: Points, width: Points, style: TextStyle, role = 'P'): Points {
    const set = this.set(wording, width, style)
    this.structure(role, {}, () => this.pen.content(role, () => drawText(this.pen, set, x, y, width)))
    return set.height
  }

  /** A hairline across the text, in the flow. */
  rule(weight: 'hair' | 'firm' = 'hair'): void {
    const { x, width } = this.area
    this.ruleAt(x, this.y, width, weight)
  }

  ruleAt(x: Points, y: Points, width: Points, weight: 'hair' | 'firm' = 'hair'): void {
    this.outline(lineFrom(x, y, x + width, y), {
      line: weight === 'hair' ? 'rule' : 'ink',
      lineWidth: weight === 'hair' ? HAIRLINE : FIRM_LINE,
    })
  }

  /** An empty box to tick, or one ticked already. `y` is its top. */
  tickBox(x: Points, y: Points, side: Points, ticked = false): void {
    this.outline(boxOutline({ x, y, width: side, height: side }), { line: 'ink', lineWidth: 0.7 })
    if (!ticked) return
    const tick: Step[] = [
      ['M', x + side * 0.2, y + side * 0.55],
      ['L', x + side * 0.42, y + side * 0.78],
      ['L', x + side * 0.82, y + side * 0.24],
    ]
    this.outline(tick, { line: 'ink', lineWidth: side * 0.11 })
  }

  outline(steps: readonly Step[], style: OutlineStyle): void {
    this.pen.outline(steps, style)
  }

  /** An element of the document's structure around what `draw` draws. */
  structure(role: string, said: Said, draw: () => void): void {
    this.#file.structure(role, said, draw)
  }

  #open(): OpenSection {
    if (!this.#section) throw new Error('Begin a section first.')
    return this.#section
  }

  #openPage(): void {
    this.#open().pages += 1
    this.#pages += 1
    this.pen.openPage(this.#pages <= this.#pictures)
    this.y = this.area.y
  }

  #closePage(): void {
    this.#drawFoot()
    const picture = this.pen.closePage()
    if (picture) this.pictures.push(picture)
  }

  /** "Job card BM-0417 · page 1 of 2" on the left, the office's name and the date of printing on the right. */
  #drawFoot(): void {
    const { facts, pages, total } = this.#open()
    if (!total) return
    const { x, width } = this.area
    const base = this.sheet.height - mm(10)
    this.pen.content('Artifact', () => {
      const note = facts.footNote ? `${this.typeface.printable(facts.footNote)} · ` : ''
      const words = `${note}page ${pages} of `
      this.pen.lettering(words, x, base, FOOT_NOTE)
      const after = x + this.widthOf(words, FOOT_NOTE.size)
      this.pen.late(`P${this.#sections}`, total, after, base)
      const right = this.typeface.printable(
        `${this.facts.officeName} · printed ${longDate(this.facts.printedOn, this.facts.locale)}`,
      )
      this.pen.lettering(right, x + width - this.widthOf(right, FOOT_NOTE.size), base, FOOT_NOTE)
    })
  }

  widthOf(text: string, size: Points): Points {
    return text
      .split(' ')
      .reduce(
        (sum, word, index) =>
          sum + this.typeface.widthOf(word, size) + (index > 0 ? this.typeface.widthOf(' ', size) : 0),
        0,
      )
  }
}
