import type { Asking, Desk, DoApart, KeptDoor, OpenBooks, SecondHand, WorkDoor } from './answering.ts'
import type { Clock } from './clock.ts'
import type { OpenDatabase } from './database/handles.ts'
import { writeBooks } from './database/write-books.ts'
import { FOLLOW_UPS } from './listening.ts'
import type { Result } from './result.ts'
import { type OfficeId, officeIdSchema } from './units/ids.ts'
import { RECKONED_EACH_TIME } from './work/kept-questions.ts'

/** The office that a request without a branch of its own is for. */
export const FIRST_OFFICE: OfficeId = officeIdSchema.parse(1)

/** What an office with threads lends its desks. */
export interface DeskHelp {
  readonly kept?: KeptDoor
  readonly apart?: DoApart | null
  readonly secondHand?: SecondHand | null
}

/** A desk for one request: the clock is read here, once. */
export function deskOf(database: OpenDatabase, clock: Clock, by: string, work: WorkDoor, help: DeskHelp = {}): Desk {
  const asking: Asking = {
    officeId: FIRST_OFFICE,
    today: clock.today(),
    now: clock.now(),
    by,
    dialect: database.dialect,
    ...(help.secondHand ? { secondHand: help.secondHand } : {}),
  }
  return {
    ...asking,
    read: database.read,
    write: <T>(job: (books: OpenBooks) => Promise<Result<T>>) => writeBooks(database, asking, FOLLOW_UPS, job),
    work,
    kept: help.kept ?? RECKONED_EACH_TIME,
    apart: help.apart ?? null,
  }
}
