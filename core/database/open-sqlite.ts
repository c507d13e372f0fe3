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

/** Takes the write lock at once: a transaction that read first and wrote later could not be refused half way. */
class OfficeSqliteDriver extends SqliteDriver {
  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'))
  }
}

class OfficeSqliteDialect extends SqliteDialect {
  readonly #config: SqliteDialectConfig
  constructor(config: SqliteDialectConfig) {
    super(config)
    this.#config = config
  }
  override createAdapter(): DialectAdapter {
    return new OfficeSqliteAdapter()
  }
  override createDriver(): Driver {
    return new OfficeSqliteDriver(this.#config)
  }
}

/**
 * Opens one SQLite file (or ':memory:'). Write-ahead log with full synchronising: a committed visit survives a power cut.
 * A writer that finds another writing waits `busyMs` and is then tried again by `Desk.write`, without holding the window.
 */
export function openSqlite(path: string, busyMs = 40): OpenDatabase {
  const writer = new Database(path)
  prepare(writer, busyMs)
  const write = new Kysely<OfficeTables>({ dialect: new OfficeSqliteDialect({ database: keepingStatements(writer) }) })
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
  const read = new Kysely<OfficeTables>({ dialect: new OfficeSqliteDialect({ database: reader }) })
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
 * much as writing them. A statement is never asked again while it still answers, for a connection has one user at a time. Changes
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

function prepare(database: Database.Database, busyMs: number): void {
  database.pragma('journal_mode = WAL')
  database.pragma('synchronous = FULL')
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
