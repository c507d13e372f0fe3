import type { OpenDatabase } from './handles.ts'
import { openPostgres } from './open-postgres.ts'
import { openSqlite } from './open-sqlite.ts'

export function isPostgresAddress(address: string): boolean {
  return /^postgres(ql)?:\/\//.test(address)
}

/** Opens the books at an address: a postgres:// address, a file path, or ':memory:'. Does not migrate. */
export function openDatabase(address: string): OpenDatabase {
  return isPostgresAddress(address) ? openPostgres(address) : openSqlite(address)
}
