// Where movements brought what was ordered is found along a list of just those: an order's sheet, and a draft whose lines are written anew,
// no longer go through every movement there ever was.
import { type Kysely, sql } from 'kysely'

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  await sql
    .raw('create index movements_of_orders on movements (office_id, order_line_id) where order_line_id is not null')
    .execute(db)
}
