import type { Insertable } from 'kysely'
import type { WriteDb } from '../database/handles.ts'
import type { OfficeTables } from '../database/schema.ts'

/** Databases take so many values in one statement; SQLite the fewer. */
const VALUES_AT_ONCE = 30_000

/** Writes many rows of one table, as many at once as the databases take. */
export async function insertRows<Table extends keyof OfficeTables>(
  tx: WriteDb,
  table: Table,
  rows: readonly Insertable<OfficeTables[Table]>[],
): Promise<void> {
  const columns = Object.keys(rows[0] ?? {}).length
  if (columns === 0) return
  const atOnce = Math.max(1, Math.floor(VALUES_AT_ONCE / columns))
  for (let from = 0; from < rows.length; from += atOnce)
    await tx
      .insertInto(table)
      .values(rows.slice(from, from + atOnce))
      .execute()
}
