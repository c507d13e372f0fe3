// Whose notice a recall rests on, and when it began: a letter of an earlier recall of the same lot is not one of this.
import { type Kysely, sql } from 'kysely'

/** Frozen once released: later steps only add. A recall from before this step has no notice, and began with its day. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STEPS) await sql.raw(statement).execute(db)
}

const STEPS: readonly string[] = [
  "alter table lots add column recall_notice text not null default ''",
  'alter table lots add column recalled_at text',
  "update lots set recalled_at = recalled_on || 'T00:00:00.000Z' where recalled_on is not null",
  "create index movements_of_recalls on movements (office_id, lot_id) where reason = 'recall'",
]
