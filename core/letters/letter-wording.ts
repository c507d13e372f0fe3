import { z } from 'zod'
import { ok, type Result, refused } from '../result.ts'
import { letterKindSchema } from './letter-kinds.ts'

/** What can stand in braces in a wording, and what it becomes: shown beside the editor. */
export const LETTER_FIELDS = {
  due: 'what is due and when: Three filters of your drinking-water unit are due in early December',
  why: 'why, in a few sentences',
  good: 'what is still good, such as the membrane; empty when nothing is to be said',
  name: 'the name on the envelope',
  reference: 'the reference to name on the phone',
  before: 'the day of the letter before',
  days: 'days on which we are in the town anyway, as a sentence; empty when there are none',
  minutes: 'how long the visit takes: about 40 minutes',
  price: 'the price with tax',
  phone: 'the telephone number of the office',
  email: 'the mail address of the office',
  office: 'the name of the office',
  person: 'who sits at the desk',
} as const
export type LetterField = keyof typeof LETTER_FIELDS
export const LETTER_FIELD_NAMES = Object.keys(LETTER_FIELDS) as LetterField[]

export const letterWordingSchema = z.object({
  kind: letterKindSchema,
  subject: z.string().trim().min(1, 'The letter needs a subject.').max(200),
  body: z.string().trim().min(1, 'The letter needs its words.').max(4000),
  answer: z.string().trim().min(1, 'The letter has to say how to answer.').max(600),
})
export type LetterWording = z.infer<typeof letterWordingSchema>

const FIELD = /\{([^{}]*)\}/g

/** Refuses a wording with a field that nobody knows, or a brace left open. */
export function checkWording(
  { subject, body, answer }: Pick<LetterWording, 'subject' | 'body' | 'answer'>,
  known: readonly string[] = LETTER_FIELD_NAMES,
): Result<void> {
  for (const text of [subject, body, answer]) {
    for (const [, name = ''] of text.matchAll(FIELD))
      if (!known.includes(name)) return refused('LETTER_FIELD_UNKNOWN', { field: name, fields: known.join(', ') })
    if (/[{}]/.test(text.replace(FIELD, ''))) return refused('LETTER_BRACE_OPEN', { example: '{reference}' })
  }
  return ok(undefined)
}

/** Puts the fields in. A field that is empty leaves no gap: double spaces, spaces before a full stop and empty paragraphs go. */
export function fillWording(text: string, fields: Readonly<Record<string, string>>): string {
  return text
    .replace(FIELD, (whole, name: string) => fields[name] ?? whole)
    .replace(/[ \t]+/g, ' ')
    .replace(/ ([.,;:])/g, '$1')
    .replace(/ *\n */g, '\n')
    .replace(/\n{3,}/g, '\n\n')
    .trim()
}
