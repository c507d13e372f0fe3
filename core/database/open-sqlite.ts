import Database from 'better-sqlite3'
import {
  CompiledQuery,
  type DatabaseConnection,
  type DialectAdapter,
  type Driver,
  Kysely,
  SqliteAdapter,
  type SqliteDatabase,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
} from 'kysely'
import { askingOnly, type OpenDatabase } from './handles.ts'
import type { OfficeTables } from './schema.ts'

/** SQLite runs table changes inside transactions; Kysely's own adapter is more careful than it needs to be here. */
class OfficeSqliteAdapter extends SqliteAdapter {
  override get supportsTransactionalDdl(): boolean {
    return true
  }
}

/**
 * Takes the write lock at once: a transaction that read first and wrote later could not be refused half way. What a very large one wrote
 * is safe in the log once it is committed; whoever waits for it has the answer before the log is folded into the file.
 */
class OfficeSqliteDriver extends SqliteDriver {
  readonly #database: Database.Database
  #rowsBefore = 0
  constructor(config: SqliteDialectConfig, database: Database.Database) {
    super(config)
    this.#database = database
  }

  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'))
    this.#rowsBefore = await rowsChanged(connection)
  }

  override async commitTransaction(connection: DatabaseConnection): Promise<void> {
    if ((await rowsChanged(connection)) - this.#rowsBefore < FOLDED_LATER) return super.commitTransaction(connection)
    try {
      this.#database.pragma('wal_autocheckpoint = 0')
      await super.commitTransaction(connection)
      setImmediate(() => foldLog(this.#database))
    } finally {
      this.#database.pragma(`wal_autocheckpoint = ${PAGES_OF_LOG}`)
    }
  }
}

/** So many rows in one transaction make a log that takes a while to fold. */
const FOLDED_LATER = 20_000

/** Pages in the log from which on a commit folds it: SQLite's own figure. */
const PAGES_OF_LOG = 1_000

/** Rows that a connection has written since it was opened. */
async function rowsChanged(connection: DatabaseConnection): Promise<number> {
  const { rows } = await connection.executeQuery<{ rows: number }>(CompiledQuery.raw('select total_changes() as rows'))
  return rows[0]?.rows ?? 0
}

/** Copies the log into the file, as far as nobody else is in the way; what stays is folded by a later commit, or when the books are closed. */
function foldLog(database: Database.Database): void {
  if (database.open && !database.inTransaction) database.pragma('wal_checkpoint(PASSIVE)')
}

class OfficeSqliteDialect extends SqliteDialect {
  readonly #database: Database.Database
  readonly #config: SqliteDialectConfig
  constructor(database: Database.Database) {
    const config = { database: keepingStatements(database) }
    super(config)
    this.#database = database
    this.#config = config
  }
  override createAdapter(): DialectAdapter {
    return new OfficeSqliteAdapter()
  }
  override createDriver(): Driver {
    return new OfficeSqliteDriver(this.#config, this.#database)
  }
}

/**
 * Opens one SQLite file (or ':memory:'). Write-ahead log with full synchronising: a committed visit survives a power cut.
 * A writer that finds another writing waits `busyMs` and is then tried again by `Desk.write`, without holding the window.
 */
export function openSqlite(path: string, busyMs = 40): OpenDatabase {
  const writer = new Database(path)
  prepare(writer, busyMs)
  const write = new Kysely<OfficeTables>({ dialect: new OfficeSqliteDialect(writer) })
  if (path === ':memory:') return { dialect: 'sqlite', read: askingOnly(write), write, close: () => write.destroy() }
  const reader = openToRead(path)
  return {
    dialect: 'sqlite',
    read: reader.read,
    write,
    // Kysely closes only what it used. The writer goes last, so that it can fold the log back into the file.
    close: async () => {
      await reader.close()
      if (writer.open) learnSizes(writer)
      await write.destroy()
      writer.close()
    },
  }
}

/** Opens a file that somebody else keeps up to date, only to ask. */
export function openToRead(path: string): Pick<OpenDatabase, 'read' | 'close'> {
  const reader = new Database(path, { readonly: true })
  reader.pragma('busy_timeout = 2000')
  reader.pragma('cache_size = -32000')
  const read = new Kysely<OfficeTables>({ dialect: new OfficeSqliteDialect(reader) })
  return {
    read: askingOnly(read),
    close: async () => {
      await read.destroy()
      reader.close()
    },
  }
}

/** Statements that stay prepared; the one that was asked longest ago goes first. */
const STATEMENTS_KEPT = 100

/**
 * The same database, which prepares a question or a change once and keeps it: preparing half a million lines again and again costs as
 * much as writing them. A statement is never asked again while it still answers, for all rows of an answer are fetched at once. Changes
 * of the tables themselves are not kept; SQLite prepares what is kept anew after them by itself.
 */
function keepingStatements(database: Database.Database): SqliteDatabase {
  const kept = new Map<string, Database.Statement>()
  return {
    close: () => database.close(),
    prepare: (text) => {
      const statement = kept.get(text) ?? database.prepare(text)
      if (!/^\s*(select|insert|update|delete|with)\b/i.test(text)) return statement
      kept.delete(text)
      kept.set(text, statement)
      const [oldest] = kept.keys()
      if (kept.size > STATEMENTS_KEPT && oldest !== undefined) kept.delete(oldest)
      return statement
    },
  }
}

/** Of a new file, bytes: half as many pages as usual are half as many to write one by one when everything changes. */
const PAGE_BYTES = 8_192

function prepare(database: Database.Database, busyMs: number): void {
  // Does nothing to a file that is there already.
  database.pragma(`page_size = ${PAGE_BYTES}`)
  database.pragma('journal_mode = WAL')
  database.pragma('synchronous = FULL')
  database.pragma(`wal_autocheckpoint = ${PAGES_OF_LOG}`)
  database.pragma('foreign_keys = ON')
  database.pragma(`busy_timeout = ${busyMs}`)
  database.pragma('cache_size = -32000')
  learnSizes(database)
}

/**
 * Lets SQLite count what its tables hold, so that it walks the right index: without figures it takes the office alone for a narrow
 * choice. Bounded work; skipped when another is writing.
 */
function learnSizes(database: Database.Database): void {
  try {
    database.pragma('analysis_limit = 1000')
    database.pragma('optimize = 0x10002')
  } catch (error) {
    const busy = error instanceof Error && 'code' in error && String(error.code).startsWith('SQLITE_BUSY')
    if (!busy) throw error
  }
}
