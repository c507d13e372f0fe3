// Readings come from a water meter too, and can be struck out with a reason; a date set by hand can have an end.
import { type Kysely, sql } from 'kysely'

const STEPS: readonly string[] = [
  'alter table readings add column meter_ml bigint check (meter_ml >= 0)',
  "alter table readings add column struck_on text check (struck_on like '____-__-__')",
  "alter table readings add column struck_reason text not null default ''",
  "alter table stages add column own_due_ends_on text check (own_due_ends_on like '____-__-__')",
  `create index stages_own_end on stages (office_id, own_due_ends_on, installation_id)
     where own_due_ends_on is not null and removed_on is null`,
  'create index lots_recalled on lots (office_id, id) where recalled_on is not null',
]

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STEPS) await sql.raw(statement).execute(db)
}
