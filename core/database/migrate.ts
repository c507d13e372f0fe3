import { existsSync, mkdirSync, rmSync } from 'node:fs'
import { basename, dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import { sql } from 'kysely'
import { Migrator } from 'kysely/migration'
import { MIGRATIONS } from '../../migrations/list.ts'
import { ok, type Result, refused } from '../result.ts'
import type { OpenDatabase } from './handles.ts'

const KNOWN = Object.keys(MIGRATIONS).sort()

/**
 * Brings the books up to this program's schema. Books of a newer program are refused (DATABASE_NEWER) and left untouched.
 * Before the first step an SQLite file that holds something is copied and the copy checked; `backedUpTo` says where.
 */
export async function migrateBooks(
  database: OpenDatabase,
  file: string | null,
): Promise<Result<{ backedUpTo: string | null }>> {
  const done = await stepsDone(database)
  const unknown = done.filter((name) => !KNOWN.includes(name))
  if (unknown.length > 0) return refused('DATABASE_NEWER', { found: unknown.at(-1) ?? '', known: KNOWN.at(-1) ?? '' })
  if (done.length === KNOWN.length) return ok({ backedUpTo: null })
  const backedUpTo =
    file !== null && done.length > 0 && existsSync(file) ? await backUpBefore(file, done.at(-1) ?? '') : null
  const migrator = new Migrator({ db: database.write, provider: { getMigrations: async () => ({ ...MIGRATIONS }) } })
  const { error } = await migrator.migrateToLatest()
  if (error) throw error instanceof Error ? error : new Error(String(error))
  return ok({ backedUpTo })
}

/** Names of the steps already taken, in order; none for empty books. */
async function stepsDone(database: OpenDatabase): Promise<string[]> {
  const tables = await database.write.introspection.getTables({ withInternalKyselyTables: true })
  if (!tables.some((table) => table.name === 'kysely_migration')) return []
  const { rows } = await sql<{ name: string }>`select name from kysely_migration order by name`.execute(database.write)
  return rows.map((row) => row.name)
}

/** A verified copy beside the file, by SQLite's own backup. Throws when the copy does not pass its check: then nothing is migrated. */
async function backUpBefore(file: string, step: string): Promise<string> {
  const folder = join(dirname(file), 'backups')
  mkdirSync(folder, { recursive: true })
  const copy = join(folder, `${basename(file)}.before-step-after-${step}`)
  rmSync(copy, { force: true })
  const source = new Database(file, { readonly: true })
  try {
    await source.backup(copy)
  } finally {
    source.close()
  }
  const check = new Database(copy, { readonly: true })
  try {
    const answer = check.pragma('integrity_check', { simple: true })
    if (answer !== 'ok')
      throw new Error(`The backup before the change of the books failed its check: ${String(answer)}`)
  } finally {
    check.close()
  }
  return copy
}
