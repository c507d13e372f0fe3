// What an order was sent with is kept beside it, so that its paper can be printed again the same when supplier, parts or office have changed.
import { type Kysely, sql } from 'kysely'

const to = (column: string, table: string) => `foreign key (office_id, ${column}) references ${table} (office_id, id)`

const TABLES: readonly (readonly [string, string])[] = [
  [
    'sent_orders',
    `order_id bigint not null, sender_name text not null, sender text not null, supplier_address text not null, account text not null,
     deliver_to text not null, remark text not null, expected_on text check (expected_on like '____-__-__'), currency text not null,
     locale text not null, page_size text not null, window_envelope text not null, sent_at text not null, by_whom text not null,
     primary key (office_id, order_id), ${to('order_id', 'purchase_orders')}`,
  ],
  [
    'sent_order_lines',
    `order_line_id bigint not null, part_number text not null, part_name text not null, supplier_number text not null,
     pack_size integer not null check (pack_size > 0), primary key (office_id, order_line_id), ${to('order_line_id', 'purchase_order_lines')}`,
  ],
]

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const owned = 'office_id bigint not null references offices (id)'
  for (const [name, columns] of TABLES) await sql.raw(`create table ${name} (${owned}, ${columns})`).execute(db)
}
