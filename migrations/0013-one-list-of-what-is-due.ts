// What is due is listed by household; the same list by stage was asked by nobody any more and cost half a second of every whole reckoning.
import { type Kysely, sql } from 'kysely'

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql.raw('drop index stages_due').execute(db)
}
