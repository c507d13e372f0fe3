import { sql } from 'kysely'
import type { DialectName, ReadDb } from './handles.ts'

/** On SQLite the first counts what other connections wrote, the second what this one did. */
const SQLITE_MARK = sql<string>`(select data_version from pragma_data_version) || '/' || total_changes()`
const POSTGRES_MARK = sql<string>`pg_current_snapshot()::text`

/**
 * A mark of the books as this handle sees them now: as long as it is the same, nothing was written since, by whomever. It may change
 * without anything having changed that matters here, never the other way round.
 */
export async function markOfBooks(db: ReadDb, dialect: DialectName): Promise<string> {
  const mark = dialect === 'postgres' ? POSTGRES_MARK : SQLITE_MARK
  return (await db.selectNoFrom(mark.as('mark')).executeTakeFirstOrThrow()).mark
}
