import { Kysely, PostgresDialect } from 'kysely'
import pg from 'pg'
import { askingOnly, type OpenDatabase } from './handles.ts'
import type { OfficeTables } from './schema.ts'

const INT8 = 20
const NUMERIC = 1700

/** Whole numbers come back as numbers: keys and cents stay far below 2^53, and a larger one is refused aloud. */
function parseWhole(text: string): number {
  const value = Number(text)
  if (!Number.isSafeInteger(value)) throw new RangeError(`Too large a number in the books: ${text}`)
  return value
}

/** Opens a PostgreSQL address such as postgres://user@host/name; `?host=/run/postgresql` for a socket folder. */
export function openPostgres(address: string): OpenDatabase {
  const pool = new pg.Pool({
    connectionString: address,
    max: 8,
    types: {
      getTypeParser: (oid: number, format?: 'text' | 'binary') => {
        if (oid === INT8) return parseWhole
        if (oid === NUMERIC) return Number
        return pg.types.getTypeParser(oid, format)
      },
    },
  })
  // A resting connection that the server ends is replaced at the next question; without a listener it would end the program.
  pool.on('error', () => {})
  const db = new Kysely<OfficeTables>({ dialect: new PostgresDialect({ pool }) })
  return { dialect: 'postgres', read: askingOnly(db), write: db, close: () => db.destroy() }
}
