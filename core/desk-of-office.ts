import type { Asking, Desk, KeptDoor, OpenBooks, SecondHand, WorkDoor } from './answering.ts'
import type { Clock } from './clock.ts'
import type { OpenDatabase } from './database/handles.ts'
import { writeBooks } from './database/write-books.ts'
import { FOLLOW_UPS } from './listening.ts'
import type { Result } from './result.ts'
import { type OfficeId, officeIdSchema } from './units/ids.ts'
import { RECKONED_EACH_TIME } from './work/kept-questions.ts'

/** The office that a request without a branch of its own is for. */
export const FIRST_OFFICE: OfficeId = officeIdSchema.parse(1)

/** A desk for one request: the clock is read here, once. */
export function deskOf(
  database: OpenDatabase,
  clock: Clock,
  by: string,
  work: WorkDoor,
  officeId = FIRST_OFFICE,
  kept: KeptDoor = RECKONED_EACH_TIME,
  secondHand: SecondHand | null = null,
): Desk {
  const asking: Asking = {
    officeId,
    today: clock.today(),
    now: clock.now(),
    by,
    dialect: database.dialect,
    ...(secondHand ? { secondHand } : {}),
  }
  return {
    ...asking,
    read: database.read,
    write: <T>(job: (books: OpenBooks) => Promise<Result<T>>) => writeBooks(database, asking, FOLLOW_UPS, job),
    work,
    kept,
  }
}
