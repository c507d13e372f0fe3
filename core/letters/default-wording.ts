import type { LetterKind } from './letter-kinds.ts'
import type { LetterWording } from './letter-wording.ts'

const ANSWER = 'Call {phone} and name {reference}, or send the slip back. {days}'

/** What the letters say until the dealer says it otherwise. */
export const DEFAULT_WORDINGS: Readonly<Record<LetterKind, LetterWording>> = {
  first: {
    kind: 'first',
    subject: '{due}',
    body: '{why} {good}\n\nWe bring the parts with us, and look the whole unit over for leaks before we leave. It takes {minutes}.',
    answer: ANSWER,
  },
  second: {
    kind: 'second',
    subject: '{due}',
    body: 'We wrote to you about this on {before} and have not heard from you; letters do get lost.\n\n{why} {good}\n\nIf it has been seen to, or does not suit you this time, a tick on the slip is enough and we note it.',
    answer: ANSWER,
  },
  final: {
    kind: 'final',
    subject: '{due}',
    body: 'This is the last letter we write to you about it.\n\n{why} {good}\n\nIf we do not hear from you we leave it at that. A call at any time is enough, and we come.',
    answer: ANSWER,
  },
}
