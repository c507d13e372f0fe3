// Pieces that are on the way between two places say where they are to arrive; when a lot was last counted, and all of what lies
// anywhere, is read along an index of its own.
import { type Kysely, sql } from 'kysely'

const STEPS: readonly string[] = [
  'alter table movements add column bound_for_place_id bigint',
  `create index movements_on_the_way on movements (office_id, lot_id, bound_for_place_id) where bound_for_place_id is not null`,
  `create index movements_counted on movements (office_id, lot_id, moved_on) where reason = 'count'`,
  'create index balances_in_full on balances (office_id, lot_id, place_id, quantity)',
  'create index lots_in_full on lots (office_id, part_id, id, expires_on, recalled_on)',
]

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STEPS) await sql.raw(statement).execute(db)
}
