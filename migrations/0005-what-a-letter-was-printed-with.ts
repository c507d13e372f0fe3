// A run keeps its letterhead and the manner of its country, and a letter the names of the units, so that a reprint is the same.
import { type Kysely, sql } from 'kysely'

/** Frozen once released: later steps only add. A run from before this step has none of it, and is printed with the books of the day. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STEPS) await sql.raw(statement).execute(db)
}

const STEPS: readonly string[] = [
  'alter table letter_runs add column sender_name text',
  'alter table letter_runs add column sender_particulars text',
  'alter table letter_runs add column sender_line text',
  'alter table letter_runs add column locale text',
  'alter table letter_stages add column installation_id bigint',
  'alter table letter_stages add column unit text',
]
