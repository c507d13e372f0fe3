// The warehouse to the piece: what a pull found, deliveries line by line, counts by rounds, recall letters, and room on the vans.
import { type Kysely, PostgresAdapter, sql } from 'kysely'

const date = (column: string) => `${column} text not null check (${column} like '____-__-__')`
const to = (column: string, table: string) => `foreign key (office_id, ${column}) references ${table} (office_id, id)`
const pieces = (column: string) => `${column} integer not null check (${column} >= 0)`

/** Tables with a key of their own, as in the first step. */
const KEYED_TABLES: readonly (readonly [string, string])[] = [
  [
    'pull_findings',
    `pull_id bigint not null, kind text not null check (kind in ('short', 'damaged', 'elsewhere')), part_id bigint not null,
     lot_id bigint not null, place_id bigint not null, quantity integer not null check (quantity > 0), found_at text not null,
     by_whom text not null, note text not null, ${to('pull_id', 'pulls')}, ${to('part_id', 'parts')}, ${to('lot_id', 'lots')}, ${to('place_id', 'places')}`,
  ],
  [
    'receipt_lines',
    `receipt_id bigint not null, order_line_id bigint, part_id bigint not null, lot_id bigint not null, ${pieces('accepted')}, ${pieces('damaged')},
     price_cents bigint not null check (price_cents >= 0), check (accepted + damaged > 0), ${to('receipt_id', 'receipts')},
     ${to('order_line_id', 'purchase_order_lines')}, ${to('part_id', 'parts')}, ${to('lot_id', 'lots')}`,
  ],
  [
    'stock_counts',
    `${date('count_on')}, name text not null, state text not null check (state in ('open', 'approved', 'dropped')), begun_at text not null, begun_by text not null,
     ended_at text, ended_by text not null default '', version integer not null default 1`,
  ],
  [
    'stock_count_lines',
    `count_id bigint not null, place_id bigint not null, part_id bigint not null, lot_id bigint not null, why text not null, counted integer check (counted >= 0),
     books_said integer, counted_at text, counted_by text not null default '', note text not null default '', movement_id bigint,
     ${to('count_id', 'stock_counts')}, ${to('place_id', 'places')}, ${to('part_id', 'parts')}, ${to('lot_id', 'lots')}, ${to('movement_id', 'movements')},
     unique (office_id, count_id, place_id, lot_id)`,
  ],
  [
    'recall_letters',
    `lot_id bigint not null, customer_id bigint not null, site_id bigint not null, ${date('written_on')}, written_at text not null, by_whom text not null,
     position integer not null, address text not null, salutation text not null, subject text not null, body text not null, answer text not null, cautions text not null,
     sender text not null, ${to('lot_id', 'lots')}, ${to('customer_id', 'customers')}, ${to('site_id', 'sites')}, unique (office_id, lot_id, site_id)`,
  ],
]

/** Tables whose key is the pair of what they join. */
const PAIRED_TABLES: readonly (readonly [string, string])[] = [
  [
    'pull_shortages',
    `pull_id bigint not null, visit_id bigint not null, part_id bigint not null, quantity integer not null check (quantity > 0),
     primary key (office_id, pull_id, visit_id, part_id), ${to('pull_id', 'pulls')}, ${to('visit_id', 'visits')}, ${to('part_id', 'parts')}`,
  ],
  [
    'van_pars',
    `van_id bigint not null, part_id bigint not null, ${pieces('par')}, primary key (office_id, van_id, part_id), ${to('van_id', 'vans')}, ${to('part_id', 'parts')}`,
  ],
]

const STEPS: readonly string[] = [
  'alter table parts add column space_ml bigint check (space_ml > 0)',
  'alter table vans add column space_ml bigint check (space_ml > 0)',
  'alter table stages add column own_part_only integer not null default 0 check (own_part_only in (0, 1))',
  'alter table pull_lines add column for_par integer not null default 0 check (for_par in (0, 1))',
  "alter table purchase_orders add column cancelled_on text check (cancelled_on like '____-__-__')",
  "alter table purchase_orders add column cancelled_reason text not null default ''",
  'alter table purchase_order_lines add column given_up_quantity integer not null default 0 check (given_up_quantity >= 0)',
  'create index pull_findings_by_pull on pull_findings (office_id, pull_id)',
  'create index receipt_lines_by_receipt on receipt_lines (office_id, receipt_id)',
  'create index receipt_lines_by_lot on receipt_lines (office_id, lot_id, id)',
  'create index receipt_lines_by_order_line on receipt_lines (office_id, order_line_id) where order_line_id is not null',
  "create unique index stock_counts_one_open_name on stock_counts (office_id, name) where state = 'open'",
  'create index stock_count_lines_by_count on stock_count_lines (office_id, count_id)',
  'create index stock_count_lines_by_lot on stock_count_lines (office_id, place_id, lot_id)',
  'create index recall_letters_by_lot on recall_letters (office_id, lot_id, position)',
  'create index recall_letters_by_site on recall_letters (office_id, site_id)',
  'create index movements_by_day on movements (office_id, moved_on)',
  "create index parts_by_gtin on parts (office_id, gtin) where gtin <> ''",
  'create index visits_by_letter on visits (office_id, letter_id) where letter_id is not null',
]

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const postgres = db.getExecutor().adapter instanceof PostgresAdapter
  const run = (statement: string) => sql.raw(statement).execute(db)
  const key = postgres ? 'id bigint generated by default as identity' : 'id integer primary key autoincrement'
  const keyed = postgres ? 'primary key (office_id, id)' : 'unique (office_id, id)'
  const owned = 'office_id bigint not null references offices (id)'
  for (const [name, columns] of KEYED_TABLES) await run(`create table ${name} (${key}, ${owned}, ${columns}, ${keyed})`)
  for (const [name, columns] of PAIRED_TABLES) await run(`create table ${name} (${owned}, ${columns})`)
  for (const statement of STEPS) await run(statement)
}
