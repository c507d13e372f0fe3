import { PGlite } from '@electric-sql/pglite'
import { pg_trgm } from '@electric-sql/pglite/contrib/pg_trgm'
import { Kysely, PGliteDialect, sql } from 'kysely'
import pg from 'pg'
import { afterAll, beforeAll } from 'vitest'
import { askingOnly, type OpenDatabase } from '../../core/database/handles.ts'
import { migrateBooks } from '../../core/database/migrate.ts'
import { openPostgres } from '../../core/database/open-postgres.ts'
import { openSqlite } from '../../core/database/open-sqlite.ts'
import type { OfficeTables } from '../../core/database/schema.ts'

/** A database to run a suite on: `open` gives empty, migrated books. Close what you opened. */
export interface EachDatabase {
  readonly name: string
  readonly open: () => Promise<OpenDatabase>
}

/** Set by .ci/run: the folder of a real PostgreSQL's socket. Without it the suite runs on PGlite, the same engine in process. */
const socketFolder = process.env.PENSTOCK_TEST_POSTGRES

/** `describe.each(databases)('$name', ({ open }) => ...)`: SQLite in memory, and PostgreSQL (a real server in CI, else PGlite). */
export const databases: readonly EachDatabase[] = [
  { name: 'SQLite', open: openMemory },
  socketFolder
    ? { name: 'PostgreSQL', open: () => openRealPostgres(socketFolder) }
    : { name: 'PGlite', open: openPglite },
]

export const isRealPostgres = socketFolder !== undefined

async function openMemory(): Promise<OpenDatabase> {
  return migrated(openSqlite(':memory:'))
}

async function migrated(database: OpenDatabase): Promise<OpenDatabase> {
  const result = await migrateBooks(database, null)
  if (!result.ok) throw new Error(result.problem.sentence)
  return database
}

let pglite: Promise<OpenDatabase> | null = null

/** The engine starts before the first test of a file, so that a busy machine does not count its start as that test's time. */
if (!socketFolder)
  beforeAll(async () => {
    pglite ??= startPglite()
    await pglite
  }, 240_000)

/** One engine a test file (it takes seconds to start); every opening empties the tables. */
async function openPglite(): Promise<OpenDatabase> {
  pglite ??= startPglite()
  const database = await pglite
  await emptyAll(database)
  return { ...database, close: async () => {} }
}

async function startPglite(): Promise<OpenDatabase> {
  const engine = await PGlite.create({ extensions: { pg_trgm } })
  const db = new Kysely<OfficeTables>({ dialect: new PGliteDialect({ pglite: engine }) })
  afterAll(async () => db.destroy())
  return migrated({ dialect: 'postgres', read: askingOnly(db), write: db, close: async () => {} })
}

async function emptyAll({ write }: OpenDatabase): Promise<void> {
  const tables = await write.introspection.getTables()
  const names = tables.filter((table) => !table.isView).map((table) => `"${table.name}"`)
  await sql.raw(`truncate ${names.join(', ')} restart identity cascade`).execute(write)
}

let counter = 0

/** A database of its own on the real server, thrown away on closing. */
async function openRealPostgres(folder: string): Promise<OpenDatabase> {
  counter += 1
  const name = `books_${process.pid}_${counter}`
  await onServer(folder, `create database ${name}`)
  const database = await migrated(openPostgres(addressOf(folder, name)))
  let ending: Promise<void> | null = null
  const end = async () => {
    await database.close()
    await onServer(folder, `drop database ${name} with (force)`)
  }
  // A test may close its office itself before the builder does.
  return {
    ...database,
    close: () => {
      ending ??= end()
      return ending
    },
  }
}

export function addressOf(folder: string, name: string): string {
  return `postgres://postgres@localhost/${name}?host=${encodeURIComponent(folder)}`
}

async function onServer(folder: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: addressOf(folder, 'postgres') })
  await client.connect()
  try {
    await client.query(statement)
  } finally {
    await client.end()
  }
}
