import { LETTER_KINDS, type LetterKind } from './letter-kinds.ts'
import { checkWording, type LetterWording, letterWordingSchema } from './letter-wording.ts'

/** Our own wording exists in two Englishes: what the post and the telephone are spoken of like differs. */
export type WordingEnglish = 'en-US' | 'en-GB'

export const wordingEnglish = (locale: string): WordingEnglish => (locale === 'en-US' ? 'en-US' : 'en-GB')

/** The names of the wording files: one a kind and an English. */
export const wordingFileName = (kind: LetterKind, english: WordingEnglish): string => `${kind}.${english}.txt`

/** The parts of a wording by the headings they have in a file, and on the screen. */
const PARTS = { Subject: 'subject', Letter: 'body', 'How to answer': 'answer' } as const
type Heading = keyof typeof PARTS
const HEADING = /^([A-Z][A-Za-z ]*):$/

/**
 * Reads a wording file: the parts under their headings, each on a line of its own; lines that begin with # say something to whoever
 * edits the file. Throws an Error that names the file for a part that is missing, twice there or unknown, and for a field that nobody
 * knows: a program whose wording is broken does not start to write letters.
 */
export function readWordingFile(fileName: string, text: string): LetterWording {
  const kind = LETTER_KINDS.find((each) => fileName.startsWith(`${each}.`))
  if (!kind) throw new Error(`assets/letter-wording/${fileName}: there is no letter of this name.`)
  const parts = wordingParts(fileName, text)
  const wording = letterWordingSchema.safeParse({ kind, ...parts })
  if (!wording.success) throw new Error(`assets/letter-wording/${fileName}: ${wording.error.issues[0]?.message ?? ''}`)
  const checked = checkWording(wording.data)
  if (!checked.ok)
    throw new Error(`assets/letter-wording/${fileName}: ${checked.problem.sentence} ${checked.problem.nextStep}`)
  return wording.data
}

/** The parts of a wording file by their names, checked for none missing and none twice. */
export function wordingParts(fileName: string, text: string): Record<string, string> {
  const parts: Record<string, string> = {}
  let open: string | null = null
  for (const line of text.split(/\r?\n/)) {
    if (line.startsWith('#')) continue
    const heading = HEADING.exec(line)?.[1]
    if (heading !== undefined) {
      if (!isHeading(heading)) throw new Error(`assets/letter-wording/${fileName}: nothing is called "${heading}".`)
      open = PARTS[heading]
      if (parts[open] !== undefined) throw new Error(`assets/letter-wording/${fileName}: "${heading}" is there twice.`)
      parts[open] = ''
    } else if (open !== null) parts[open] = `${parts[open] ?? ''}${line}\n`
    else if (line.trim() !== '') throw new Error(`assets/letter-wording/${fileName}: words stand before any heading.`)
  }
  for (const [heading, part] of Object.entries(PARTS))
    if (parts[part] === undefined) throw new Error(`assets/letter-wording/${fileName}: "${heading}" is missing.`)
  return parts
}

const isHeading = (word: string): word is Heading => Object.hasOwn(PARTS, word)
