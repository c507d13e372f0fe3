import type { Kysely } from 'kysely'
import type { ReadonlyKysely } from 'kysely/readonly'
import type { OfficeTables } from './schema.ts'

/** A handle that can only ask. Writing through it does not compile. */
export type ReadDb = ReadonlyKysely<OfficeTables>
/** A handle that may write: a transaction that `Desk.write` opened. */
export type WriteDb = Kysely<OfficeTables>
export type DialectName = 'sqlite' | 'postgres'

/** The books of a firm, open. On SQLite `read` is a connection of its own, so that asking never waits for writing. */
export interface OpenDatabase {
  readonly dialect: DialectName
  readonly read: ReadDb
  readonly write: WriteDb
  close(): Promise<void>
}

/** The same handle, able only to ask. The one place where the two types meet: they share one object at run time. */
export function askingOnly(db: WriteDb): ReadDb {
  return db as unknown as ReadDb
}
