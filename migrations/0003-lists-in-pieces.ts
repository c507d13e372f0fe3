// A list is brought in pieces, kept as the bytes it is, read and judged away from the office's own thread.
import { type Kysely, PostgresAdapter, sql } from 'kysely'

/** Frozen once released: later steps only add. A list that was held before has no bytes to read again, so it is dropped. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const postgres = db.getExecutor().adapter instanceof PostgresAdapter
  const run = (statement: string) => sql.raw(statement).execute(db)
  await run('alter table import_files add column size_bytes integer not null default 0 check (size_bytes >= 0)')
  await run(
    "alter table import_files add column read_as text check (read_as in ('utf-8', 'utf-16le', 'utf-16be', 'windows-1252'))",
  )
  await run("update import_files set state = 'dropped', content = '' where state = 'held'")
  for (const [table, column] of [
    ['import_pieces', `bytes ${postgres ? 'bytea' : 'blob'} not null`],
    ['import_judgements', 'entries text not null'],
  ])
    await run(
      `create table ${table} (office_id bigint not null references offices (id), file_id bigint not null,
       position integer not null check (position >= 0), ${column}, primary key (office_id, file_id, position),
       foreign key (office_id, file_id) references import_files (office_id, id))`,
    )
}
