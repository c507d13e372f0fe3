import { existsSync } from 'node:fs'
import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { MIGRATIONS } from '../../migrations/list.ts'
import { ok, type Result, refused } from '../result.ts'
import { type BackupFile, makeBackup } from './backup-files.ts'
import type { OpenDatabase } from './handles.ts'

/** Books in a file of their own, the instant (UTC) that names their backup, and where a fault is written down. */
export interface BooksInFile {
  readonly file: string
  readonly now: string
  readonly log: (line: string) => void
}

/**
 * Brings the books up to this program's schema, all steps or none. Books of a newer program are refused (DATABASE_NEWER) and left
 * untouched. Before the first step a file that holds something is backed up, as one of the backups that are listed and can be put
 * back. A backup or a step that fails leaves the books as they were (DATABASE_AS_BEFORE); the log says why.
 */
export async function migrateBooks(
  database: OpenDatabase,
  books: BooksInFile | null,
): Promise<Result<{ backup: BackupFile | null }>> {
  const known = Object.keys(MIGRATIONS).sort()
  const done = await stepsDone(database)
  const unknown = done.filter((name) => !known.includes(name))
  if (unknown.length > 0) return refused('DATABASE_NEWER', { found: unknown.at(-1) ?? '', known: known.at(-1) ?? '' })
  if (done.length === known.length) return ok({ backup: null })
  try {
    const holdsSomething = books !== null && done.length > 0 && existsSync(books.file)
    const backup = holdsSomething ? await makeBackup(books.file, books.now, 'before-change') : null
    await takeSteps(database)
    return ok({ backup })
  } catch (error) {
    if (books === null || done.length === 0) throw error
    books.log(
      `The books were not brought up to date: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
    )
    return refused('DATABASE_AS_BEFORE', { step: done.at(-1) ?? '' })
  }
}

/** All in one transaction: both databases change tables inside one. */
async function takeSteps(database: OpenDatabase): Promise<void> {
  const migrator = new Migrator({ db: database.write, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } })
  const { error } = await migrator.migrateToLatest()
  if (error) throw error instanceof Error ? error : new Error(String(error))
}

/** Names of the steps already taken, in order; none for empty books. */
async function stepsDone(database: OpenDatabase): Promise<string[]> {
  const tables = await database.write.introspection.getTables({ withInternalKyselyTables: true })
  if (!tables.some((table) => table.name === 'kysely_migration')) return []
  const { rows } = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(database.write)
  return rows.map((row) => row.name)
}
