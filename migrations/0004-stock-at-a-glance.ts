// The usual bins of a part have an order; and what falls due of each part is counted along an index of its own.
import { type Kysely, sql } from 'kysely'

const STEPS: readonly string[] = [
  'alter table part_bins add column rank integer not null default 0 check (rank >= 0)',
  'create index movements_of_part on movements (office_id, part_id, id)',
  `create index stages_in_want on stages (office_id, part_id, due_on, kind, removed_on)
     where removed_on is null and due_on is not null and part_id is not null and kind <> 'tank'`,
  `create index movements_fitted on movements (office_id, moved_on, part_id, quantity) where reason = 'fit'`,
]

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STEPS) await sql.raw(statement).execute(db)
}
