import type { z } from 'zod'
import type { DialectName, ReadDb, WriteDb } from './database/handles.ts'
import type { Happening } from './happenings.ts'
import type { Problem } from './problems.ts'
import type { Result } from './result.ts'
import type { CalendarDate } from './units/calendar-date.ts'
import type { OfficeId, SiteId } from './units/ids.ts'

/** An entry of the log: who did what to which record. `sentence` is what people read. */
export interface LogEntry {
  readonly subjectKind: string
  readonly subjectId: number
  readonly siteId?: SiteId | null
  /** One word in the past: "booked", "issued", "taken back". */
  readonly verb: string
  readonly sentence: string
  /** What changed, as text for a person; never read back by code. */
  readonly details?: string
}

/** What every answer knows: whose books, which day, who asks. */
export interface Asking {
  readonly officeId: OfficeId
  /** The clock was read once, when the request came. */
  readonly today: CalendarDate
  readonly now: string
  readonly by: string
  readonly dialect: DialectName
  /** Only where the books lie in a file and threads may be used. */
  readonly secondHand?: SecondHand
}

/** Lends a second thread, with a connection of its own: it sees the books as they were last committed, not what an open transaction changed. */
export interface SecondHand {
  /** Shares out turns, the numbers from 0 up to `turns`, to be done as the task of that name does them. */
  readonly share: <Turn>(task: string, input: unknown, turns: number) => SharedTurns<Turn>
}

/** Turns that two threads take from one pile, each once. */
export interface SharedTurns<Turn> {
  /** A turn for the caller to do himself; null when all are taken. */
  readonly take: () => number | null
  /** What the other thread made of a turn; null when nothing lies ready just now. */
  readonly ready: () => Turn | null
  /** Waits for it; null when nothing more will come. Turns that the other thread took and could not finish can be taken again then. */
  readonly awaited: () => Promise<Turn | null>
  readonly end: () => Promise<void>
}

/** The books open for writing: one transaction. Whatever is refused or thrown inside, nothing of it stays. */
export interface OpenBooks extends Asking {
  readonly tx: WriteDb
  /** The same transaction, able only to ask: for the stores' questions. */
  readonly read: ReadDb
  /** Tells the follow-ups; their refusal must be returned. */
  readonly happened: (happening: Happening) => Promise<Result<void>>
  readonly record: (entry: LogEntry) => Promise<void>
}

/** A question whose answer costs: kept while nothing is written, and reckoned apart where the office is large. */
export interface KeptQuestion<Value> {
  /** The name of the work that reckons it in a thread of its own. */
  readonly name: string
  readonly output: z.ZodType<Value>
  /** Whether it takes long enough to be reckoned apart; must be cheap itself. */
  readonly isLarge: (asked: Asking & { readonly read: ReadDb }) => Promise<boolean>
  readonly reckon: (asked: Asking & { readonly read: ReadDb }) => Promise<Value>
}

/** Where kept answers are asked for; what it gives is always what a fresh reckoning would. */
export interface KeptDoor {
  readonly ask: <Value>(question: KeptQuestion<Value>, asked: Asking & { readonly read: ReadDb }) => Promise<Value>
}

/** Long work as answers see it. */
export interface WorkDoor {
  readonly start: (name: string, input: unknown) => Promise<string>
}

/** Does a work in a thread and on a connection of its own and waits for it: others are answered meanwhile. */
export type DoApart = (work: string, input: unknown) => Promise<Result<unknown>>

/** Where an answer sits: it asks through `read`, writes through `write`. */
export interface Desk extends Asking {
  readonly read: ReadDb
  /** One transaction. A refusal rolls everything back. Tried again when another writer was in the way. */
  readonly write: <T>(job: (books: OpenBooks) => Promise<Result<T>>) => Promise<Result<T>>
  readonly work: WorkDoor
  readonly kept: KeptDoor
  /** Null where there are no threads, and inside one. */
  readonly apart: DoApart | null
}

type RefusedError = (options: { data: Problem; message: string }) => Error

interface Call<Input> {
  readonly context: Desk
  readonly input: Input
  readonly errors: { readonly REFUSED: RefusedError }
}

/** Turns `(desk, input) => Result` into what the door calls: a refusal travels as the contract's REFUSED with its problem. */
export function answer<Input, Output>(
  give: (desk: Desk, input: Input) => Promise<Result<Output>>,
): (call: Call<Input>) => Promise<Output> {
  return async ({ context, input, errors }) => {
    const result = await give(context, input)
    if (!result.ok) throw errors.REFUSED({ data: result.problem, message: result.problem.sentence })
    return result.value
  }
}

/** Takes the bytes of a paper as they are made; wait for it before making more. */
export interface PaperSink {
  readonly write: (bytes: Uint8Array) => Promise<void>
}

/** A paper ready to be made. */
export interface ReadyPaper {
  readonly fileName: string
  readonly contentType: 'application/pdf' | 'text/csv; charset=utf-8'
  readonly write: (sink: PaperSink) => Promise<void>
}

/** A paper at an address, e.g. `/papers/letters/:run`. A segment that begins with a colon is handed in by its name, without `.pdf`. */
export interface PaperAnswer {
  readonly address: string
  readonly make: (
    desk: Desk,
    names: Readonly<Record<string, string>>,
    query: URLSearchParams,
  ) => Promise<Result<ReadyPaper>>
}
