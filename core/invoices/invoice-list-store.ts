import { type RawBuilder, sql } from 'kysely'
import { searchCondition } from '../customers/search-store.ts'
import { searchWordsOf } from '../customers/search-words.ts'
import type { DialectName, ReadDb } from '../database/handles.ts'
import type { InvoiceId, OfficeId } from '../units/ids.ts'
import { cents } from '../units/money.ts'
import { NUMBER_DIGITS } from './invoice-number.ts'
import type { InvoiceListAsked, InvoicePage, InvoicePile, InvoiceRow, InvoiceSort } from './invoices-contract.ts'

/** A page of one pile, by key: the rows after `after` in the order asked for. Which rows is asked first, of the narrowest table that knows; then only those are read. */
export async function listInvoices(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  asked: InvoiceListAsked,
): Promise<InvoicePage> {
  const keys = await keysOfPage(db, dialect, officeId, asked)
  const shown = keys.slice(0, asked.limit)
  const last = shown.at(-1)
  const next = keys.length > asked.limit && last ? last : null
  const found = new Map((await rowsOf(db, officeId, shown)).map((row) => [row.id, rowOf(row)]))
  const rows = shown.flatMap(({ id }) => found.get(id) ?? [])
  return { rows, next }
}

/** The unpaid and the paid lie in the balances, along an index of each; drafts and everything issued among the invoices. */
function tableOf(pile: InvoicePile) {
  if (pile === 'unpaid' || pile === 'paid')
    return {
      from: sql`invoice_balances as pile`,
      id: sql<InvoiceId>`pile.invoice_id`,
      holds: pile === 'unpaid' ? sql`pile.open_cents > 0` : sql`pile.open_cents <= 0`,
      customer: sql`(select i.customer_id from invoices i where i.id = pile.invoice_id)`,
    }
  return {
    from: sql`invoices as pile`,
    id: sql<InvoiceId>`pile.id`,
    holds: pile === 'drafts' ? sql`pile.state = 'draft'` : sql`pile.state = 'issued'`,
    customer: sql`pile.customer_id`,
  }
}

type TableOfPile = ReturnType<typeof tableOf>

function sortedBy(sort: InvoiceSort, { id, customer }: TableOfPile) {
  if (sort === 'payBy') return sql<string | number>`pile.due_on`
  if (sort === 'open') return sql<string | number>`pile.open_cents`
  if (sort === 'total') return sql<string | number>`(pile.gross_cents + pile.rounding_cents)`
  if (sort === 'customer') return sql<string | number>`(select c.sort_name from customers c where c.id = ${customer})`
  return sql<string | number>`${id}`
}

type PageKey = NonNullable<InvoicePage['next']>

/** The keys of the page and one more, so that it is known whether another page follows. */
async function keysOfPage(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  { pile, search, sort, descending, after, limit }: InvoiceListAsked,
): Promise<PageKey[]> {
  const table = tableOf(pile)
  const { from, id, holds } = table
  const by = sortedBy(sort, table)
  const [direction, sign] = descending ? [sql`desc`, sql`<`] : [sql`asc`, sql`>`]
  const order = sort === 'written' ? sql`${id} ${direction}` : sql`${by} ${direction}, ${id} ${direction}`
  const beyond =
    after === null
      ? sql`1 = 1`
      : sort === 'written'
        ? sql`${id} ${sign} ${after.id}`
        : sql`(${by}, ${id}) ${sign} (${after.key}, ${after.id})`
  const found = (await foundBy(db, dialect, officeId, search, table)) ?? sql`1 = 1`
  const page = sql<PageKey>`(select ${id} as id, ${by} as key from ${from}
    where pile.office_id = ${officeId} and ${holds} and ${beyond} and ${found} order by ${order} limit ${limit + 1})`
  const run = descending ? 'desc' : 'asc'
  return db
    .selectFrom(page.as('page'))
    .select(['page.id', 'page.key'])
    .orderBy('page.key', run)
    .orderBy('page.id', run)
    .execute()
}

async function rowsOf(db: ReadDb, officeId: OfficeId, shown: readonly PageKey[]) {
  // A list of no ids is no SQL on PostgreSQL.
  if (shown.length === 0) return []
  return db
    .selectFrom('invoices')
    .innerJoin('customers', (join) =>
      join.onRef('customers.id', '=', 'invoices.customer_id').on('customers.office_id', '=', officeId),
    )
    .leftJoin('sites', (join) => join.onRef('sites.id', '=', 'invoices.site_id').on('sites.office_id', '=', officeId))
    .leftJoin('invoices as corrected', (join) =>
      join.onRef('corrected.id', '=', 'invoices.corrects_id').on('corrected.office_id', '=', officeId),
    )
    .leftJoin('invoice_balances as balance', (join) =>
      join.onRef('balance.invoice_id', '=', 'invoices.id').on('balance.office_id', '=', officeId),
    )
    .select((of) => [
      'invoices.id',
      'invoices.kind',
      'invoices.state',
      'invoices.number_text',
      'invoices.customer_id',
      'invoices.drafted_on',
      'invoices.issued_on',
      'invoices.pay_by',
      'invoices.supplied_on',
      'invoices.currency',
      'customers.sort_name',
      'customers.reference',
      'sites.town',
      'corrected.number_text as corrects',
      sql<number>`(invoices.gross_cents + invoices.rounding_cents)`.as('total'),
      'balance.open_cents as open',
      of
        .selectFrom('invoice_lines')
        .select(sql<number>`count(*)`.as('count'))
        .where('invoice_lines.office_id', '=', officeId)
        .whereRef('invoice_lines.invoice_id', '=', 'invoices.id')
        .as('lines'),
    ])
    .where('invoices.office_id', '=', officeId)
    .where(
      'invoices.id',
      'in',
      shown.map((key) => key.id),
    )
    .execute()
}

type FoundRow = Awaited<ReturnType<typeof rowsOf>>[number]

const rowOf = (row: FoundRow): InvoiceRow => ({
  invoiceId: row.id,
  kind: row.kind,
  state: row.state,
  number: row.number_text,
  customerId: row.customer_id,
  customer: row.sort_name,
  reference: row.reference,
  town: row.town ?? '',
  draftedOn: row.drafted_on,
  issuedOn: row.issued_on,
  payBy: row.pay_by,
  suppliedOn: row.supplied_on,
  lines: Number(row.lines ?? 0),
  total: cents(Number(row.total)),
  open: cents(Math.max(0, Number(row.open ?? 0))),
  currency: row.currency,
  corrects: row.corrects ?? '',
})

/** More households than this are not named one by one: their invoices are met soon enough on the way through the pile. */
const NAMED = 1000

/** What was typed is an invoice number, or it finds the household as the ledger's search does. Null when nothing was typed. */
async function foundBy(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  search: string,
  { id, customer }: TableOfPile,
): Promise<RawBuilder<unknown> | null> {
  const sites = await searchCondition(db, dialect, officeId, searchWordsOf(search), 'wanted.id')
  if (sites === null) return null
  const named = await db
    .selectFrom('sites as wanted')
    .select('wanted.customer_id')
    .where('wanted.office_id', '=', officeId)
    .where(sites)
    .limit(NAMED + 1)
    .execute()
  const numbered = sql`select n.id from invoices n where n.office_id = ${officeId} and ${numberIs(search)}`
  if (named.length > NAMED)
    return sql`(exists (select 1 from sites as wanted where wanted.office_id = ${officeId} and wanted.customer_id = ${customer} and ${sites})
      or ${id} in (${numbered}))`
  const customers = named.length === 0 ? sql`null` : sql.join(named.map((row) => row.customer_id))
  return sql`${id} in (select i.id from invoices i where i.office_id = ${officeId} and i.customer_id in (${customers}) union all ${numbered})`
}

/** "417" is that number of any year; "2026-004" begins the numbers 400 to 499 of 2026. Along the numbers' own index. */
function numberIs(search: string): RawBuilder<unknown> {
  const typed = /^(?:(\d{4})-)?(\d{1,9})$/.exec(search.trim())
  if (!typed) return sql`1 = 0`
  const [, year, digits = ''] = typed
  if (year === undefined)
    return sql`n.year in (select y.year from number_series y where y.office_id = n.office_id) and n.number = ${Number(digits)}`
  const open = 10 ** Math.max(0, NUMBER_DIGITS - digits.length)
  const from = Number(digits) * open
  return sql`n.year = ${Number(year)} and n.number between ${from} and ${from + open - 1}`
}
