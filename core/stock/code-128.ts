/** A text in bars: code words with start, check symbol and stop, and the widths of bar, space, bar ... in modules. */
export interface Code128 {
  readonly codeWords: readonly number[]
  readonly widths: readonly number[]
  /** Width of the whole without the quiet zones. */
  readonly modules: number
}

/** Kept free of anything on both sides, in modules (ISO/IEC 15417, 4.4: ten times the narrowest bar). */
export const QUIET_MODULES = 10

/** Bar and space widths of the code words 0 to 105 and of the stop, 106 (ISO/IEC 15417, table 1). */
const PATTERNS: readonly string[] = `
  212222 222122 222221 121223 121322 131222 122213 122312 132212 221213 221312 231212 112232 122132 122231 113222 123122 123221
  223211 221132 221231 213212 223112 312131 311222 321122 321221 312212 322112 322211 212123 212321 232121 111323 131123 131321
  112313 132113 132311 211313 231113 231311 112133 112331 132131 113123 113321 133121 313121 211331 231131 213113 213311 213131
  311123 311321 331121 312113 312311 332111 314111 221411 431111 111224 111422 121124 121421 141122 141221 112214 112412 122114
  122411 142112 142211 241211 221114 413111 241112 134111 111242 121142 121241 114212 124112 124211 411212 421112 421211 212141
  214121 412121 111143 111341 131141 114113 114311 411113 411311 113141 114131 311141 411131 211412 211214 211232 2331112`
  .trim()
  .split(/\s+/)

type CodeSet = 'A' | 'B' | 'C'
const SETS: readonly CodeSet[] = ['B', 'C', 'A']
const START: Readonly<Record<CodeSet, number>> = { A: 103, B: 104, C: 105 }
/** The code word that changes into the set; it is the same from either of the others. */
const INTO: Readonly<Record<CodeSet, number>> = { A: 101, B: 100, C: 99 }
const SHIFT = 98
const FNC1 = 102
const STOP = 106
/** A separator between elements of a GS1 code is FNC1 in the bars, and the ASCII group separator when it is read. */
const GROUP = '\u001d'

/**
 * Sets a text of ASCII in the fewest code words there are. With `gs1` it begins with FNC1, which makes it a GS1-128, and group
 * separators within it are FNC1, too. Throws RangeError for letters outside ASCII and for an empty text.
 */
export function code128(text: string, gs1 = false): Code128 {
  if (text === '' || !Array.from(text).every((letter) => letter <= '\u007f'))
    throw new RangeError(`No text of ASCII: ${JSON.stringify(text)}`)
  const words = fewestWords(gs1 ? GROUP + text : text, gs1)
  const codeWords = [...words, checkSymbol(words), STOP]
  const widths = codeWords.flatMap((word) => Array.from(PATTERNS[word] ?? '', Number))
  return { codeWords, widths, modules: widths.reduce((sum, width) => sum + width, 0) }
}

/** The start counts once, the first word once, the second twice and so on, modulo 103 (ISO/IEC 15417, annex A). */
export function checkSymbol(codeWords: readonly number[]): number {
  return codeWords.reduce((sum, word, place) => sum + word * Math.max(1, place), 0) % 103
}

/** The cheapest way to have set the text up to some place and to be in a set there. */
interface Way {
  readonly cost: number
  readonly words: readonly number[]
  readonly before: Way | null
}

/** Shortest path through text and sets: a word a character, or a word for two digits; a change of set and a shift cost one more. */
function fewestWords(text: string, gs1: boolean): number[] {
  const ways: Partial<Record<CodeSet, Way>>[] = Array.from({ length: text.length + 1 }, () => ({}))
  for (const set of SETS) reach(ways[0], set, { cost: 1, words: [START[set]], before: null })
  for (let at = 0; at < text.length; at += 1) {
    const here = ways[at] ?? {}
    for (const from of SETS)
      for (const into of SETS) {
        const way = here[from]
        if (way && into !== from && at > 0) reach(here, into, { cost: way.cost + 1, words: [INTO[into]], before: way })
      }
    for (const set of SETS) {
      const way = here[set]
      if (!way) continue
      for (const { words, length } of stepsIn(set, text, at, gs1))
        reach(ways[at + length], set, { cost: way.cost + words.length, words, before: way })
    }
  }
  const last = ways[text.length] ?? {}
  const best = SETS.flatMap((set) => last[set] ?? []).toSorted((a, b) => a.cost - b.cost)[0]
  return wordsOf(best ?? null)
}

function reach(ways: Partial<Record<CodeSet, Way>> | undefined, set: CodeSet, way: Way): void {
  if (ways && (ways[set]?.cost ?? Infinity) > way.cost) ways[set] = way
}

function wordsOf(way: Way | null): number[] {
  const parts: (readonly number[])[] = []
  for (let each = way; each; each = each.before) parts.push(each.words)
  return parts.reverse().flat()
}

/** What the set can say next, and how many characters that takes. */
function stepsIn(set: CodeSet, text: string, at: number, gs1: boolean): { words: number[]; length: number }[] {
  if (gs1 && text[at] === GROUP) return [{ words: [FNC1], length: 1 }]
  if (set === 'C') {
    const two = text.slice(at, at + 2)
    return /^\d\d$/.test(two) ? [{ words: [Number(two)], length: 2 }] : []
  }
  const code = text.charCodeAt(at)
  const plain = wordIn(set, code)
  if (plain !== null) return [{ words: [plain], length: 1 }]
  const shifted = wordIn(set === 'A' ? 'B' : 'A', code)
  return shifted === null ? [] : [{ words: [SHIFT, shifted], length: 1 }]
}

/** Set A has capitals and control characters, set B capitals and small letters; both have figures and signs. */
function wordIn(set: 'A' | 'B', code: number): number | null {
  if (code >= 32 && code < 96) return code - 32
  if (set === 'A') return code < 32 ? code + 64 : null
  return code >= 96 && code < 128 ? code - 32 : null
}
