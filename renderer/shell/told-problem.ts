import { ORPCError } from '@orpc/client'
import { type Problem, problemSchema } from '../../core/problems.ts'

/** What the user is told of a failure: a refusal's own sentence and next step, or that something broke, with its id. */
export interface ToldProblem {
  readonly sentence: string
  readonly nextStep: string
  /** The refusal's code; absent when something broke. */
  readonly code?: Problem['code']
  /** The short id under which a fault was written down. */
  readonly id?: string
}

/** Reads any failure of the office into words. A refusal keeps its sentence; a lost connection says so; the rest is a fault. */
export function problemOf(error: unknown): ToldProblem {
  if (error instanceof ORPCError) {
    const refusal = problemSchema.safeParse(error.data)
    if (refusal.success) return refusal.data
    if (error.code === 'BAD_REQUEST')
      return {
        sentence: 'The office does not understand what was entered.',
        nextStep: 'Look through the fields again; what you typed is still there.',
      }
    if (error.status === 401 || error.status === 403)
      return {
        sentence: 'The office does not know this window any more.',
        nextStep: 'Open Penstock again with its own address; what you typed is kept until this window is closed.',
      }
    return broken(faultId(error.data))
  }
  if (error instanceof TypeError || (error instanceof DOMException && error.name === 'NetworkError'))
    return {
      sentence: 'The office does not answer.',
      nextStep:
        'See whether Penstock is still running on the machine that holds the books, then try again. What you typed is still here.',
    }
  return broken(undefined)
}

function broken(id: string | undefined): ToldProblem {
  return {
    sentence: 'Something broke in the office; nothing was changed.',
    nextStep: 'Try again. When it stays, write down the number below and what you were doing.',
    ...(id === undefined ? {} : { id }),
  }
}

function faultId(data: unknown): string | undefined {
  return typeof data === 'object' && data !== null && 'id' in data && typeof data.id === 'string' ? data.id : undefined
}
