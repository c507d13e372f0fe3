import { sql } from 'kysely'
import type { DialectName, WriteDb } from './handles.ts'
import type { OfficeTables } from './schema.ts'

/**
 * Sets `count` keys of a table aside and returns the first of the run of SQLite, or all of them on PostgreSQL, as a list in order.
 * For writing many rows that point at one another without asking for each key. Call inside the writing transaction.
 */
export async function reserveIds(
  tx: WriteDb,
  dialect: DialectName,
  table: keyof OfficeTables,
  count: number,
): Promise<number[]> {
  if (count === 0) return []
  if (dialect === 'postgres') {
    const { rows } = await sql<{ id: number }>`
      select nextval(pg_get_serial_sequence(${table}, 'id')) as id from generate_series(1, ${count}::int)`.execute(tx)
    return rows.map((row) => Number(row.id))
  }
  const { rows } = await sql<{ seq: number }>`select seq from sqlite_sequence where name = ${table}`.execute(tx)
  const last = rows[0]?.seq ?? 0
  if (rows.length === 0) await sql`insert into sqlite_sequence (name, seq) values (${table}, ${count})`.execute(tx)
  else await sql`update sqlite_sequence set seq = ${last + count} where name = ${table}`.execute(tx)
  return Array.from({ length: count }, (_, index) => last + 1 + index)
}
