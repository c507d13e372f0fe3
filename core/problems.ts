import { z } from 'zod'

/**
 * Every refusal of the office, once: what is wrong in one sentence, and the next step. `{name}` is filled from the facts given.
 * One section per job word; a code begins with it.
 */
const PROBLEMS = {
  // any record
  RECORD_GONE: { sentence: '{what} is no longer in the books.', nextStep: 'Go back to the list and open it again.' },
  RECORD_CHANGED: {
    sentence: '{what} was changed by someone else since you opened it: {changes}.',
    nextStep: 'Look at what changed, then save again.',
  },
  DATABASE_BUSY: {
    sentence: 'Another piece of work is writing to the books.',
    nextStep: 'Try again in a few seconds; nothing was changed.',
  },
  DATABASE_NEWER: {
    sentence: 'These books were written by a newer Penstock (step {found}; this one knows up to {known}).',
    nextStep: 'Install the newer program, or open a backup made before the change.',
  },
  WORK_STOPPED: { sentence: 'The work was stopped.', nextStep: 'Nothing was changed. Start it again when you like.' },
} as const satisfies Record<string, { sentence: string; nextStep: string }>

export type ProblemCode = keyof typeof PROBLEMS
export const PROBLEM_CODES = Object.keys(PROBLEMS) as ProblemCode[]

/** A "no" that the user sees: code, sentence, next step. */
export interface Problem {
  readonly code: ProblemCode
  readonly sentence: string
  readonly nextStep: string
}

export const problemSchema = z.object({
  code: z.enum(PROBLEM_CODES as [ProblemCode, ...ProblemCode[]]),
  sentence: z.string(),
  nextStep: z.string(),
})

/** Composes a problem. Throws when a fact that the sentence names is not given: that would be a bug. */
export function problem(code: ProblemCode, facts: Readonly<Record<string, string | number>> = {}): Problem {
  const fill = (text: string): string =>
    text.replace(/\{(\w+)\}/g, (_, name: string) => {
      const fact = facts[name]
      if (fact === undefined) throw new Error(`${code} needs the fact "${name}"`)
      return String(fact)
    })
  return { code, sentence: fill(PROBLEMS[code].sentence), nextStep: fill(PROBLEMS[code].nextStep) }
}
