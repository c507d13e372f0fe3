import bwip from 'bwip-js/node'

/**
 * Reads Code 128 from the widths of bars and spaces, of any scale: what a scanner does, with nothing taken from our encoder. The
 * patterns come out of a reference library, which draws each code word; how sets, shifts and function characters are read follows
 * ISO/IEC 15417.
 */
export interface SeenCode {
  readonly text: string
  readonly codeWords: readonly number[]
  /** Begins with FNC1: a GS1-128. */
  readonly isGs1: boolean
}

const three = (word: number): string => `^${String(word).padStart(3, '0')}`

/** Widths as the reference library draws them, of a text or of code words that are told one by one. */
export function referenceWidths(
  text: string,
  options: { readonly raw?: boolean; readonly parsefnc?: boolean } = {},
): number[] {
  const [drawn] = bwip.raw({ bcid: 'code128', text, ...options }) as readonly { readonly sbs?: ArrayLike<number> }[]
  return Array.from(drawn?.sbs ?? [])
}

/** Between a start and its check symbol, the reference library draws the word that it was told. */
const WORD_OF = new Map(
  Array.from({ length: 106 }, (_, word) => {
    const widths = referenceWidths(word < 103 ? three(104) + three(word) : three(word), { raw: true })
    return [(word < 103 ? widths.slice(6, 12) : widths.slice(0, 6)).join(''), word]
  }),
)

/** Null when the widths are no Code 128, or its check symbol is wrong. */
export function readCode128(widths: readonly number[]): SeenCode | null {
  const words = wordsOf(widths)
  if (words === null) return null
  const check = words.at(-1)
  const told = words.slice(0, -1)
  const sum = told.reduce((total, word, place) => total + (place === 0 ? word : place * word), 0)
  if (check === undefined || sum % 103 !== check || (told[0] ?? 0) < 103) return null
  return { ...say(told), codeWords: words }
}

/** Every symbol is eleven modules of three bars and three spaces; the stop has two more and a bar more. */
function wordsOf(widths: readonly number[]): number[] | null {
  if (widths.length % 6 !== 1 || widths.length < 25) return null
  const words: number[] = []
  for (let at = 0; at + 7 < widths.length; at += 6) {
    const six = widths.slice(at, at + 6)
    const module = six.reduce((sum, width) => sum + width, 0) / 11
    const word = WORD_OF.get(six.map((width) => Math.round(width / module)).join(''))
    if (word === undefined) return null
    words.push(word)
  }
  const stop = widths.slice(-7)
  const module = stop.reduce((sum, width) => sum + width, 0) / 13
  return stop.map((width) => Math.round(width / module)).join('') === '2331112' ? words : null
}

function say(words: readonly number[]): { text: string; isGs1: boolean } {
  let set = 'ABC'[(words[0] ?? 0) - 103] ?? 'B'
  let text = ''
  let isGs1 = false
  let shift = false
  words.slice(1).forEach((word, place) => {
    if (word === 102) {
      if (place === 0) isGs1 = true
      else text += '\u001d'
      return
    }
    if (set === 'C' ? word > 99 : word > 98 && !(set === 'A' && word === 101) && !(set === 'B' && word === 100)) {
      set = word === 101 ? 'A' : word === 100 ? 'B' : 'C'
      return
    }
    if (set === 'C') {
      text += String(word).padStart(2, '0')
      return
    }
    if (word === 98) {
      shift = true
      return
    }
    const now = shift ? (set === 'A' ? 'B' : 'A') : set
    text += String.fromCharCode(now === 'A' && word >= 64 ? word - 64 : word + 32)
    shift = false
  })
  return { text, isGs1 }
}
