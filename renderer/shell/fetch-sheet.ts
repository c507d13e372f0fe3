import { ORPCError } from '@orpc/client'
import { problemOf, type ToldProblem } from './told-problem.ts'

/** A sheet whose code did not come. Asking for it again without loading the window anew would find the same failure remembered. */
export class SheetNotFetched extends Error {
  readonly told: ToldProblem
  constructor(told: ToldProblem, cause: unknown) {
    super('A sheet could not be fetched', { cause })
    this.told = told
  }
}

const NOT_FETCHED: ToldProblem = {
  sentence: 'This sheet could not be fetched.',
  nextStep: 'Try again: the window is loaded anew. When it stays, close Penstock and open it again.',
}

/**
 * Fetches the code of a sheet. It comes from the office like everything else; when it does not come, the office is asked a plain
 * question, so that the user is told why: the office is gone, or does not know this window any more.
 */
export async function fetchSheet<Code>(fetching: () => Promise<Code>, askWhy: () => Promise<unknown>): Promise<Code> {
  try {
    return await fetching()
  } catch (error) {
    throw new SheetNotFetched(await whyNot(askWhy), error)
  }
}

async function whyNot(askWhy: () => Promise<unknown>): Promise<ToldProblem> {
  try {
    await askWhy()
    return NOT_FETCHED
  } catch (error) {
    return error instanceof ORPCError || error instanceof TypeError ? problemOf(error) : NOT_FETCHED
  }
}
