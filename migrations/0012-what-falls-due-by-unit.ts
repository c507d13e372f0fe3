// The index of what falls due of each part holds the unit, too: who may ask for a part is read along it without going to the stages.
import { type Kysely, sql } from 'kysely'

const STEPS: readonly string[] = [
  'drop index stages_in_want',
  `create index stages_in_want on stages (office_id, part_id, due_on, kind, removed_on, installation_id, id)
     where removed_on is null and due_on is not null and part_id is not null and kind <> 'tank'`,
]

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  for (const statement of STEPS) await sql.raw(statement).execute(db)
}
