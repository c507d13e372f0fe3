import { readAsset } from '../paper/asset-files.ts'
import { LETTER_KINDS, type LetterKind } from './letter-kinds.ts'
import type { LetterWording } from './letter-wording.ts'
import { readWordingFile, type WordingEnglish, wordingEnglish, wordingFileName } from './wording-file.ts'

export type OurWordings = Readonly<Record<LetterKind, LetterWording>>

const read = new Map<WordingEnglish, OurWordings>()

/** What the letters say until the dealer says it otherwise: the files of assets/letter-wording, read and checked once. */
export function ourWordings(locale: string): OurWordings {
  const english = wordingEnglish(locale)
  const known = read.get(english)
  if (known) return known
  const wordingOf = (kind: LetterKind): LetterWording => {
    const name = wordingFileName(kind, english)
    return readWordingFile(name, Buffer.from(readAsset(`letter-wording/${name}`)).toString('utf8'))
  }
  const [first, second, final] = LETTER_KINDS.map(wordingOf)
  if (!first || !second || !final) throw new Error('There are three letters.')
  const wordings = { first, second, final }
  read.set(english, wordings)
  return wordings
}
