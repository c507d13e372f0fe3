import { setTimeout as pause } from 'node:timers/promises'
import type { Asking, LogEntry, OpenBooks } from '../answering.ts'
import type { FollowUp, Happening } from '../happenings.ts'
import type { Problem } from '../problems.ts'
import { ok, type Result, refused } from '../result.ts'
import { askingOnly, type OpenDatabase, type WriteDb } from './handles.ts'

const TRIES = 60

/** Thrown inside a transaction to take it back; never leaves this file. */
class TakenBack extends Error {
  readonly problem: Problem
  constructor(problem: Problem) {
    super(problem.sentence)
    this.problem = problem
  }
}

/**
 * Runs one writing transaction: serializable on PostgreSQL, the single writer on SQLite, so that what was read is still true when written.
 * A refusal takes everything back. When another writer was in the way the job runs again from its start, so it must do nothing outside the books.
 */
export async function writeBooks<T>(
  database: OpenDatabase,
  asking: Asking,
  followUps: readonly FollowUp<OpenBooks>[],
  job: (books: OpenBooks) => Promise<Result<T>>,
): Promise<Result<T>> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await transaction(database, async (tx) => {
        const result = await job(openBooks(tx, asking, followUps))
        if (!result.ok) throw new TakenBack(result.problem)
        return result
      })
    } catch (error) {
      if (error instanceof TakenBack) return { ok: false, problem: error.problem }
      if (!isPassing(error)) throw error
      if (attempt === TRIES) return refused('DATABASE_BUSY')
      await pause(Math.min(5 * attempt, 150))
    }
  }
}

function transaction<T>(database: OpenDatabase, job: (tx: WriteDb) => Promise<T>): Promise<T> {
  const begin = database.write.transaction()
  return database.dialect === 'postgres' ? begin.setIsolationLevel('serializable').execute(job) : begin.execute(job)
}

function openBooks(tx: WriteDb, asking: Asking, followUps: readonly FollowUp<OpenBooks>[]): OpenBooks {
  const books: OpenBooks = {
    officeId: asking.officeId,
    today: asking.today,
    now: asking.now,
    by: asking.by,
    dialect: asking.dialect,
    ...(asking.secondHand ? { secondHand: asking.secondHand } : {}),
    tx,
    read: askingOnly(tx),
    happened: async (happening: Happening) => {
      for (const followUp of followUps) {
        const result = await followUp(books, happening)
        if (!result.ok) return result
      }
      return ok(undefined)
    },
    record: (entry) => recordEvent(books, entry),
  }
  return books
}

async function recordEvent(books: OpenBooks, entry: LogEntry): Promise<void> {
  await books.tx
    .insertInto('events')
    .values({
      office_id: books.officeId,
      happened_at: books.now,
      happened_on: books.today,
      by_whom: books.by,
      subject_kind: entry.subjectKind,
      subject_id: entry.subjectId,
      site_id: entry.siteId ?? null,
      verb: entry.verb,
      sentence: entry.sentence,
      details: entry.details ?? '',
    })
    .execute()
}

/** Another writer was first: SQLite busy; PostgreSQL serialization failure or deadlock. */
function isPassing(error: unknown): boolean {
  if (!(error instanceof Error) || !('code' in error)) return false
  const code = String(error.code)
  return code.startsWith('SQLITE_BUSY') || code === '40001' || code === '40P01'
}
