import type { Points } from './page-geometry.ts'
import type { Weight } from './page-picture.ts'

/** What stands for a character that the typeface does not have: an empty square, which it does have. */
const STAND_IN = '\u25A1'
/** Sequences of emoji become one square, not five; marks that only steer their look vanish. */
const PICTOGRAPHS = /\p{Extended_Pictographic}(?:[\u{1F3FB}-\u{1F3FF}\uFE0E\uFE0F]|\u200D\p{Extended_Pictographic})*/gu
const UNPRINTABLE = /[\p{Cc}\p{Cs}\p{Cf}]|\p{Variation_Selector}/gu
/** Words kept ready per document. A batch of letters uses a few thousand; the bound keeps memory flat however long it grows. */
const WORDS_KEPT = 4_000

export interface SetWord {
  /** Thousandths of the type size. */
  readonly advance: number
  /** The glyphs as a PDF shows them, kerned: the inside of a TJ array. */
  readonly glyphs: string
}

export interface FontInPdf {
  /** The name in the page's resources. */
  readonly name: string
  has(codePoint: number): boolean
  setWord(text: string): SetWord
}

/** Measures and encodes words of one document; every word is shaped once. */
export class Typeface {
  readonly #fonts: Readonly<Record<Weight, FontInPdf>>
  readonly #words: Readonly<Record<Weight, Map<string, SetWord>>> = { regular: new Map(), semibold: new Map() }
  readonly #missing = new Set<string>()

  constructor(fonts: Readonly<Record<Weight, FontInPdf>>) {
    this.#fonts = fonts
  }

  /** Characters that the typeface does not have and for which a square was printed. */
  get missing(): readonly string[] {
    return [...this.#missing].sort()
  }

  /** The text as it can be printed: composed, without control characters, squares for what the typeface lacks. */
  printable(text: string): string {
    if (/^[\x20-\x7e\n]*$/.test(text)) return text
    const composed = text.normalize('NFC').replaceAll('\t', ' ').replaceAll('\r\n', '\n')
    const font = this.#fonts.regular
    const withoutPictures = composed.replace(PICTOGRAPHS, (picture) => {
      if (font.has(picture.codePointAt(0) ?? 0) && picture.length <= 2) return picture
      this.#miss(picture)
      return STAND_IN
    })
    const lines = withoutPictures.split('\n').map((line) => line.replace(UNPRINTABLE, ''))
    return lines.map((line) => Array.from(line, (character) => this.#standIn(character)).join('')).join('\n')
  }

  #standIn(character: string): string {
    if (this.#fonts.regular.has(character.codePointAt(0) ?? 0)) return character
    this.#miss(character)
    return STAND_IN
  }

  word(text: string, weight: Weight): SetWord {
    const words = this.#words[weight]
    const known = words.get(text)
    if (known) return known
    if (words.size >= WORDS_KEPT) words.clear()
    const set = this.#fonts[weight].setWord(text)
    words.set(text, set)
    return set
  }

  widthOf(text: string, size: Points, weight: Weight = 'regular'): Points {
    return (this.word(text, weight).advance / 1000) * size
  }

  #miss(character: string): void {
    if (this.#missing.size < 200) this.#missing.add(character)
  }
}
