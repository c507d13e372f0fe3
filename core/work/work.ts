import type { z } from 'zod'
import type { Desk } from '../answering.ts'
import type { Result } from '../result.ts'

/** How far a long work is. `total` 0 means that it is not known yet. */
export interface WorkStep {
  readonly done: number
  readonly total: number
  /** In words: "reading line 4,120 of 20,000". */
  readonly saying: string
}

/** A desk for long work: can say how far it is and hears when it should stop. */
export interface WorkDesk extends Desk {
  /** Tells how far the work is and lets others have their turn; false when someone pressed Stop: return WORK_STOPPED then, or WORK_STOPPED_HALF_WAY where what was done stays. */
  readonly progress: (step: WorkStep) => Promise<boolean>
}

/** A long work: runs off the request thread on a connection of its own. A refusal leaves the books as they were. */
export interface Work<Input, Output> {
  /** Holds little at a time, however long it is: given a small heap that is tidied often instead of growing. */
  readonly keepsLittle?: boolean
  readonly input: z.ZodType<Input>
  readonly run: (desk: WorkDesk, input: Input) => Promise<Result<Output>>
}

/** Any work, once its input is checked by its own schema. The output must be plain JSON. */
export interface NamedWork {
  readonly keepsLittle: boolean
  readonly run: (desk: WorkDesk, input: unknown) => Promise<Result<unknown>>
}

/** Binds a work to its schema, so that works with different inputs can stand in one list. */
export function namedWork<Input, Output>(work: Work<Input, Output>): NamedWork {
  return { keepsLittle: work.keepsLittle ?? false, run: (desk, input) => work.run(desk, work.input.parse(input)) }
}
