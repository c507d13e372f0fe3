import PDFDocument from 'pdfkit'
import { GatheredBytes } from './gathered-bytes.ts'
import type { Box, PageSize } from './page-geometry.ts'
import { PAGE_SIZES } from './page-geometry.ts'
import type { Weight } from './page-picture.ts'
import { type Said, StructureTree } from './structure-tree.ts'
import type { FontInPdf, SetWord } from './typeface.ts'
import type { TypefaceFiles } from './typeface-files.ts'

/**
 * The one boundary with pdfkit. Its declared types leave out what this file rests on: the embedded font with its subset, the
 * page's own dictionaries and the way to the bytes. Described here as narrowly as it is used; nothing else touches pdfkit.
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
  ref(data: object): Reference
  read(): Uint8Array | null
  end(): void
  endMetadata(): void
  /** Writes a line, or bytes; `_offset` is how many were written. */
  _write(data: string | Uint8Array): void
  _offset: number
  /** The catalog. What stands in it as MarkInfo and StructTreeRoot is ended by pdfkit. */
  readonly _root: { readonly data: Record<string, unknown> }
}

export interface PdfFacts {
  readonly title: string
  readonly lang: string
  readonly author: string
  /** The instant of making, UTC, `YYYY-MM-DDTHH:MM:SS...Z`. */
  readonly madeAt: string
  readonly size: PageSize
}

/**
 * A PDF being written: pages of operators, two fonts, structure, bytes taken out as they come. The structure is our
 * own (structure-tree.ts): pdfkit's keeps every element to the end, and writes an EMC too many where marked content is nested.
 */
export class PdfFile {
  readonly fonts: Readonly<Record<Weight, FontInPdf>>
  readonly #doc: Inside
  readonly #refs: Readonly<Record<Weight, EmbeddedFont>>
  readonly #tree: StructureTree
  readonly #bytes = new GatheredBytes()
  #inContent = false

  constructor(facts: PdfFacts, files: TypefaceFiles) {
    const { width, height } = PAGE_SIZES[facts.size]
    const doc = new PDFDocument({
      size: [width, height],
      margin: 0,
      autoFirstPage: false,
      pdfVersion: '1.7',
      font: '',
      fontLayoutCache: false,
      lang: facts.lang,
      displayTitle: true,
      info: informationOf(facts),
    })
    this.#doc = insideOf(doc)
    // The information dictionary says it all; pdfkit's XML twin of it does not escape "&" and would be broken XML.
    this.#doc.endMetadata = () => {}
    this.#gatherBytes()
    this.#tree = this.#plantTree()
    this.#refs = { regular: this.#embed('regular', files.regular), semibold: this.#embed('semibold', files.semibold) }
    this.fonts = { regular: fontInPdf(this.#refs.regular), semibold: fontInPdf(this.#refs.semibold) }
  }

  #gatherBytes(): void {
    const begun = this.#doc.read()
    if (begun) this.#bytes.add(begun)
    this.#doc._write = (data) => {
      this.#doc._offset += this.#bytes.add(data)
    }
  }

  #plantTree(): StructureTree {
    const root = this.#doc.ref({})
    Object.assign(this.#doc._root.data, { MarkInfo: this.#doc.ref({ Marked: true }), StructTreeRoot: root })
    return new StructureTree((data) => this.#doc.ref(data), root)
  }

  #embed(name: Weight, file: Uint8Array): EmbeddedFont {
    this.#doc.registerFont(name, file)
    this.#doc.font(name)
    return this.#doc._font
  }

  addPage(): void {
    this.#doc.addPage()
    this.#tree.beginPage(this.#doc.page.dictionary)
    for (const weight of ['regular', 'semibold'] as const)
      this.#doc.page.fonts[this.fonts[weight].name] = this.#refs[weight].ref()
  }

  /** Writes a page's operators. What stands outside of all content is decoration, and is marked as such. */
  write(operators: string): void {
    this.#doc.addContent(this.#inContent ? operators : `/Artifact BMC\n${operators}\nEMC`)
  }

  /** Ends the open page. Its dictionary has been written, so what it held is let go: memory stays flat over many pages. */
  endPage(): void {
    if (this.#inContent) throw new Error('A page ends between pieces of content, never within one.')
    const { dictionary } = this.#doc.page
    this.#tree.endPage()
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

  /** Opens an element of the structure (a section, a heading, a table): what is drawn until it closes belongs to it. */
  openElement(role: string, said: Said = {}): void {
    this.#tree.open(role, said)
  }

  closeElement(): void {
    this.#tree.close()
  }

  /** An element around what `draw` draws. Within a piece of content there are no further elements. */
  structure(role: string, said: Said, draw: () => void): void {
    if (!this.#inContent) this.openElement(role, said)
    draw()
    if (!this.#inContent) this.closeElement()
  }

  /**
   * Marks what `draw` writes as a piece of the innermost open element; outside of any, and by the role Artifact, as decoration (feet,
   * repeated heads). A piece within a piece belongs to the outer one.
   */
  content(role: string, draw: () => void): void {
    if (this.#inContent) {
      draw()
      return
    }
    const isDecoration = role === 'Artifact' || !this.#tree.isOpen
    this.#inContent = true
    this.#doc.addContent(isDecoration ? '/Artifact BMC' : `/${role} <</MCID ${this.#tree.mark()}>> BDC`)
    draw()
    this.#doc.addContent('EMC')
    this.#inContent = false
  }

  end(): void {
    this.#tree.end()
    this.#doc.end()
  }

  /** The bytes made since the last time, in order. */
  take(): readonly Uint8Array[] {
    return this.#bytes.take()
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
  const uses = ['addContent', 'addPage', 'flushPages', 'ref', 'read', '_write']
  return (
    '_offset' in doc && '_root' in doc && uses.every((use) => use in doc && typeof Reflect.get(doc, use) === 'function')
  )
}
