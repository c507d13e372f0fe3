import { z } from 'zod'
import { checkWording } from './letter-wording.ts'
import { type WordingEnglish, wordingParts } from './wording-file.ts'

/** What can stand in braces in the letter about a recalled lot, and what it becomes. */
export const RECALL_FIELDS = {
  what: 'what was recalled, at the beginning of a sentence: The carbon filter',
  part: 'the part, as the catalogue calls it',
  lot: 'the number of the lot',
  found: 'what was found, as the office wrote it down',
  notice: 'the supplier’s notice; empty when none was named',
  home: 'the street of the home',
  fitted: 'since when it is fitted there: , fitted on May 12, 2026; empty when nobody knows',
  visit: 'the day we come, or that we agree on one',
  name: 'the name on the envelope',
  reference: 'the reference to name on the phone',
  phone: 'the telephone number of the office',
  email: 'the mail address of the office',
  office: 'the name of the office',
  person: 'who sits at the desk',
} as const
export type RecallField = keyof typeof RECALL_FIELDS

export interface RecallWording {
  readonly subject: string
  readonly body: string
  readonly answer: string
}

export const recallWordingFileName = (english: WordingEnglish): string => `recall.${english}.txt`

const wordingSchema = z.object({
  subject: z.string().trim().min(1, 'The letter needs a subject.'),
  body: z.string().trim().min(1, 'The letter needs its words.'),
  answer: z.string().trim().min(1, 'The letter has to say how to answer.'),
})

/** Reads the wording of the recall letter. Throws an Error that names the file and what is wrong in it. */
export function readRecallWording(fileName: string, text: string): RecallWording {
  const wording = wordingSchema.safeParse(wordingParts(fileName, text))
  if (!wording.success) throw new Error(`assets/letter-wording/${fileName}: ${wording.error.issues[0]?.message ?? ''}`)
  const checked = checkWording(wording.data, Object.keys(RECALL_FIELDS))
  if (!checked.ok)
    throw new Error(`assets/letter-wording/${fileName}: ${checked.problem.sentence} ${checked.problem.nextStep}`)
  return wording.data
}
