import { foldText, phoneDigits } from './fold-text.ts'

/** All of a household that people search by. */
export interface SearchedHousehold {
  readonly names: readonly string[]
  readonly addressLines: readonly string[]
  readonly phones: readonly string[]
  readonly emails: readonly string[]
  /** The customer's reference, as it stands on letters. */
  readonly reference: string
}

/** The text that is kept for the search: folded, telephone numbers also as bare digits, one piece a line so that no word runs across. */
export function searchTextOf(household: SearchedHousehold): string {
  const { names, addressLines, phones, emails, reference } = household
  const pieces = [...names, ...addressLines, ...phones, ...emails, reference].map(foldText)
  const digits = phones.map(phoneDigits)
  return [...new Set([...pieces, ...digits])].filter((piece) => piece !== '').join('\n')
}

/** One word that somebody typed, in each form it may be kept in; any of them will do. */
export type SearchWord = readonly string[]

/** Shorter pieces than this have no place in an index of three-letter pieces. */
export const SHORTEST_INDEXED = 3

/**
 * What somebody typed, word by word; a household is found when it holds every word. A word of digits and signs is also looked for as a
 * telephone number without them: "555-0142" finds 5550142. Several words that together make one number are also tried as one.
 */
export function searchWordsOf(typed: string): SearchWord[] {
  const folded = foldText(typed)
  if (folded === '') return []
  if (/^[\d\s()+./-]+$/.test(folded) && /\s/.test(folded) && phoneDigits(folded).length >= 7)
    return [[phoneDigits(folded)]]
  return folded.split(' ').flatMap((word) => {
    const bare = word.replace(/^[,;]+|[,;]+$/g, '')
    if (bare === '') return []
    const digits = phoneDigits(bare)
    const isNumber = /^[\d()+./-]+$/.test(bare) && digits.length >= SHORTEST_INDEXED && digits !== bare
    return [isNumber ? [bare, digits] : [bare]]
  })
}

/** Whether a kept text holds every word: what the database's index answers, said plainly. */
export function holdsEveryWord(kept: string, words: readonly SearchWord[]): boolean {
  return words.every((forms) => forms.some((form) => kept.includes(form)))
}
