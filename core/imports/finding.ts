import { z } from 'zod'

/**
 * Something about a row that its owner should know. A note: the row is taken, and what could not be used is kept in the note of the
 * household. A refusal: the row is not taken.
 */
export const findingSchema = z.object({
  weight: z.enum(['note', 'refusal']),
  line: z.int().positive(),
  /** The column it is about, as the list calls it; empty when it is about the whole row. */
  column: z.string(),
  /** What is wrong. */
  sentence: z.string(),
  /** What to do about it; empty when nothing needs doing. */
  nextStep: z.string(),
})
export type Finding = z.infer<typeof findingSchema>

export function note(line: number, column: string, sentence: string, nextStep = ''): Finding {
  return { weight: 'note', line, column, sentence, nextStep }
}

export function refusal(line: number, column: string, sentence: string, nextStep: string): Finding {
  return { weight: 'refusal', line, column, sentence, nextStep }
}

export function isRefusal(finding: Finding): boolean {
  return finding.weight === 'refusal'
}
