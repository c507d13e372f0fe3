import { z } from 'zod'

/** A customer who stays silent gets three letters, and then none. */
export const LETTER_KINDS = ['first', 'second', 'final'] as const
export const letterKindSchema = z.enum(LETTER_KINDS)
export type LetterKind = z.infer<typeof letterKindSchema>

/** "first letter", for a count in front: `counted(42, 'first letter')`. */
export const LETTER_KIND_WORDS: Readonly<Record<LetterKind, string>> = {
  first: 'first letter',
  second: 'second letter',
  final: 'final letter',
}
