// What is open on each invoice is kept beside it, as balances are beside movements; a day's order may be made by hand.
import { type Kysely, PostgresAdapter, sql } from 'kysely'

/** Frozen once released: later steps only add. */
export async function up(db: Kysely<unknown>): Promise<void> {
  const postgres = db.getExecutor().adapter instanceof PostgresAdapter
  const steps = [...BOTH, ...(postgres ? POSTGRES_ONLY : SQLITE_ONLY)]
  for (const statement of steps) await sql.raw(statement).execute(db)
}

const BOTH: readonly string[] = [
  'alter table visits add column route_by_hand integer not null default 0 check (route_by_hand in (0, 1))',
  `create table invoice_balances (office_id bigint not null references offices (id), invoice_id bigint not null,
     due_on text not null check (due_on like '____-__-__'), open_cents bigint not null, primary key (office_id, invoice_id),
     foreign key (office_id, invoice_id) references invoices (office_id, id))`,
  'create index invoice_balances_by_age on invoice_balances (office_id, due_on, open_cents) where open_cents > 0',
  'create index invoice_balances_unpaid on invoice_balances (office_id, invoice_id, open_cents) where open_cents > 0',
  'create index invoice_balances_paid on invoice_balances (office_id, invoice_id) where open_cents <= 0',
  'create index invoices_by_number on invoices (office_id, state, id, number_text)',
  'create index invoices_corrected on invoices (office_id, corrects_id) where corrects_id is not null',
  `insert into invoice_balances (office_id, invoice_id, due_on, open_cents)
     select i.office_id, i.id, coalesce(i.pay_by, i.issued_on), i.gross_cents + i.rounding_cents
       - coalesce((select sum(s.amount_cents) from payment_shares s where s.office_id = i.office_id and s.invoice_id = i.id), 0)
       - coalesce((select sum(n.gross_cents + n.rounding_cents) from invoices n where n.office_id = i.office_id and n.corrects_id = i.id
           and n.kind = 'credit-note' and n.state = 'issued'), 0)
     from invoices i where i.kind = 'invoice' and i.state = 'issued'`,
]

/** What an invoice or a credit note does to the balances on the day it is issued. */
const ISSUED = [
  `insert into invoice_balances (office_id, invoice_id, due_on, open_cents)
     select new.office_id, new.id, coalesce(new.pay_by, new.issued_on), new.gross_cents + new.rounding_cents where new.kind = 'invoice';`,
  `update invoice_balances set open_cents = open_cents - (new.gross_cents + new.rounding_cents)
     where new.kind = 'credit-note' and office_id = new.office_id and invoice_id = new.corrects_id;`,
].join('\n')
const PAID = `update invoice_balances set open_cents = open_cents - new.amount_cents where office_id = new.office_id and invoice_id = new.invoice_id;`

const SQLITE_ONLY: readonly string[] = [
  `create trigger invoices_open_balance after insert on invoices when new.state = 'issued' begin ${ISSUED} end`,
  `create trigger invoices_issued_open_balance after update on invoices when old.state = 'draft' and new.state = 'issued' begin ${ISSUED} end`,
  `create trigger payment_shares_keep_balances after insert on payment_shares begin ${PAID} end`,
]

const POSTGRES_ONLY: readonly string[] = [
  `create function invoices_open_balance() returns trigger language plpgsql as $$ begin ${ISSUED} return null; end $$`,
  `create trigger invoices_open_balance after insert on invoices for each row when (new.state = 'issued') execute function invoices_open_balance()`,
  `create trigger invoices_issued_open_balance after update on invoices for each row when (old.state = 'draft' and new.state = 'issued')
     execute function invoices_open_balance()`,
  `create function payment_shares_keep_balances() returns trigger language plpgsql as $$ begin ${PAID} return null; end $$`,
  `create trigger payment_shares_keep_balances after insert on payment_shares for each row execute function payment_shares_keep_balances()`,
]
