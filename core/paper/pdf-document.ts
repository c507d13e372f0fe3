import PDFDocument from 'pdfkit'
import type { Box, PageSize } from './page-geometry.ts'
import { PAGE_SIZES } from './page-geometry.ts'
import type { Weight } from './page-picture.ts'
import type { FontInPdf, SetWord } from './typeface.ts'
import type { TypefaceFiles } from './typeface-files.ts'

/**
 * The one boundary with pdfkit. Its declared types leave out what this file rests on: the embedded font with its subset, the
 * page's own dictionaries and the structure content. Described here as narrowly as it is used; nothing else touches pdfkit.
 */
interface Glyph {
  readonly id: number
  readonly advanceWidth: number
  readonly codePoints: readonly number[]
}
interface EmbeddedFont {
  readonly id: string
  readonly scale: number
  readonly subset: { includeGlyph(id: number): number }
  readonly widths: (number | undefined)[]
  readonly unicode: (readonly number[] | undefined)[]
  readonly font: {
    layout(text: string): {
      readonly glyphs: readonly Glyph[]
      readonly positions: readonly { readonly xAdvance: number; readonly xOffset: number }[]
    }
    hasGlyphForCodePoint(codePoint: number): boolean
  }
  ref(): Reference
}
interface Reference {
  data: Record<string, unknown>
  write(chunk: string): void
  end(): void
}
interface StructureContent {
  readonly mcid: number
}
interface StructureElement {
  add(child: StructureContent | StructureElement): StructureElement
  end(): void
}
interface Inside {
  _font: EmbeddedFont
  page: {
    fonts: Record<string, Reference>
    xobjects: Record<string, Reference>
    dictionary: Reference
  }
  font(source: Uint8Array | string): void
  registerFont(name: string, source: Uint8Array): void
  addPage(): void
  flushPages(): void
  addContent(operators: string): void
  ref(data: Record<string, unknown>): Reference
  read(): Uint8Array | null
  end(): void
  endMetadata(): void
  struct(role: string, options?: { alt?: string; title?: string }): StructureElement
  addStructure(element: StructureElement): void
  markStructureContent(role: string): StructureContent
  endMarkedContent(): void
}

export interface PdfFacts {
  readonly title: string
  readonly lang: string
  readonly author: string
  /** The instant of making, UTC, `YYYY-MM-DDTHH:MM:SS...Z`. */
  readonly madeAt: string
  readonly size: PageSize
  readonly tagged: boolean
}

/** A PDF being written: pages of operators, two fonts, structure where asked for, bytes taken out as they come. */
export class PdfFile {
  readonly fonts: Readonly<Record<Weight, FontInPdf>>
  readonly #doc: Inside
  readonly #refs: Readonly<Record<Weight, EmbeddedFont>>
  readonly #tagged: boolean
  #parents: StructureElement[] = []

  constructor(facts: PdfFacts, files: TypefaceFiles) {
    const { width, height } = PAGE_SIZES[facts.size]
    const doc = new PDFDocument({
      size: [width, height],
      margin: 0,
      autoFirstPage: false,
      pdfVersion: '1.7',
      font: '',
      fontLayoutCache: false,
      tagged: facts.tagged,
      lang: facts.lang,
      displayTitle: true,
      info: informationOf(facts),
    })
    this.#doc = insideOf(doc)
    // The information dictionary says it all; pdfkit's XML twin of it does not escape "&" and would be broken XML.
    this.#doc.endMetadata = () => {}
    this.#tagged = facts.tagged
    this.#refs = { regular: this.#embed('regular', files.regular), semibold: this.#embed('semibold', files.semibold) }
    this.fonts = { regular: fontInPdf(this.#refs.regular), semibold: fontInPdf(this.#refs.semibold) }
  }

  #embed(name: Weight, file: Uint8Array): EmbeddedFont {
    this.#doc.registerFont(name, file)
    this.#doc.font(name)
    return this.#doc._font
  }

  addPage(): void {
    this.#doc.addPage()
    for (const weight of ['regular', 'semibold'] as const)
      this.#doc.page.fonts[this.fonts[weight].name] = this.#refs[weight].ref()
  }

  /** Writes a page's operators. */
  write(operators: string): void {
    this.#doc.addContent(operators)
  }

  /** Ends the open page. Its dictionary has been written, so what it held is let go: memory stays flat over many pages. */
  endPage(): void {
    const { dictionary } = this.#doc.page
    this.#doc.flushPages()
    dictionary.data = {}
  }

  /** A drawing used on several pages and finished later, such as the number of pages. */
  lateDrawing(box: Box): LateDrawing {
    const font = this.fonts.regular.name
    const form = this.#doc.ref({
      Type: 'XObject',
      Subtype: 'Form',
      BBox: [box.x, box.y, box.x + box.width, box.y + box.height],
      Resources: { Font: { [font]: this.#refs.regular.ref() } },
    })
    return {
      use: (name) => {
        this.#doc.page.xobjects[name] = form
      },
      finish: (operators) => {
        form.write(operators)
        form.end()
      },
    }
  }

  /** Opens an element of the structure (a heading, a table); what is drawn inside `draw` belongs to it. */
  structure(role: string, alt: string | null, draw: () => void): void {
    if (!this.#tagged) {
      draw()
      return
    }
    const element = this.#doc.struct(role, alt === null ? {} : { alt })
    const parent = this.#parents.at(-1)
    if (parent) parent.add(element)
    else this.#doc.addStructure(element)
    this.#parents.push(element)
    draw()
    this.#parents.pop()
    element.end()
  }

  /** Marks what `draw` writes as the content of the innermost open element; outside of any it is decoration. */
  content(role: string, draw: () => void): void {
    if (!this.#tagged) {
      draw()
      return
    }
    const parent = this.#parents.at(-1)
    if (parent) parent.add(this.#doc.markStructureContent(role))
    else this.write('/Artifact BMC')
    draw()
    if (parent) this.#doc.endMarkedContent()
    else this.write('EMC')
  }

  end(): void {
    this.#doc.end()
  }

  /** The bytes made so far, or null. */
  take(): Uint8Array | null {
    return this.#doc.read()
  }
}

export interface LateDrawing {
  /** Makes it known on the open page under a name. */
  use(name: string): void
  finish(operators: string): void
}

function fontInPdf(font: EmbeddedFont): FontInPdf {
  return {
    name: font.id,
    has: (codePoint) => font.font.hasGlyphForCodePoint(codePoint),
    setWord: (text) => setWord(font, text),
  }
}

/** Shapes a word and takes its glyphs into the subset. Kerning becomes the numbers of a TJ array, in thousandths, to the left. */
function setWord(font: EmbeddedFont, text: string): SetWord {
  const { glyphs, positions } = font.font.layout(text)
  let advance = 0
  let out = '<'
  glyphs.forEach((glyph, index) => {
    const position = positions[index]
    if (!position) return
    const gid = font.subset.includeGlyph(glyph.id)
    font.widths[gid] ??= glyph.advanceWidth * font.scale
    font.unicode[gid] ??= glyph.codePoints
    const before = position.xOffset * font.scale
    const after = (position.xAdvance - glyph.advanceWidth) * font.scale - before
    if (before !== 0) out += `>${-Math.round(before)}<`
    out += gid.toString(16).padStart(4, '0')
    if (after !== 0) out += `>${-Math.round(after)}<`
    advance += position.xAdvance * font.scale
  })
  return { advance, glyphs: `${out}>`.replaceAll('<>', '') }
}

function informationOf({ title, author, madeAt }: PdfFacts): PDFKit.DocumentInfo {
  const information = { Title: title, Author: author, Creator: 'Penstock', Producer: 'Penstock' }
  return Object.assign(information, { CreationDate: pdfInstant(madeAt) }) as typeof information
}

/**
 * A date as PDF writes it (ISO 32000-1, 7.9.4): `D:20261125110000Z`. pdfkit asks its date for a number only to stir it into the
 * file's identity; a text that answers with its own figures does as well, and the same input gives the same bytes.
 */
function pdfInstant(instant: string): object {
  const figures = instant.slice(0, 19).replace(/\D/g, '')
  return Object.assign(new String(`D:${figures}Z`), { getTime: () => Number(figures) })
}

/** What this file uses of pdfkit is looked for once: should a later version move it, no paper is made instead of a wrong one. */
function insideOf(doc: object): Inside {
  if (!hasInside(doc)) throw new Error('pdfkit has moved something that core/paper rests on.')
  return doc
}

function hasInside(doc: object): doc is Inside {
  const uses = ['addContent', 'addPage', 'flushPages', 'ref', 'read', 'struct', 'addStructure', 'markStructureContent']
  return uses.every((use) => use in doc && typeof Reflect.get(doc, use) === 'function')
}
