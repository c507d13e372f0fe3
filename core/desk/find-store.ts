import { sql } from 'kysely'
import { searchCondition } from '../customers/search-store.ts'
import type { SearchWord } from '../customers/search-words.ts'
import type { DialectName, ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'

const MOST_FOUND = 8

/** Households that hold every word, by name. */
export async function findHouseholds(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  words: readonly SearchWord[],
) {
  const holdsWords = await searchCondition(db, dialect, officeId, words, 's.id')
  if (!holdsWords) return []
  return db
    .selectFrom('sites as s')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .where('s.office_id', '=', officeId)
    .where(holdsWords)
    .select(['s.id as siteId', 'c.sort_name as name', 's.line1 as street', 's.town as town', 'c.phone as phone'])
    .orderBy('c.sort_name')
    .orderBy('s.id')
    .limit(MOST_FOUND)
    .execute()
}

/** Any text that holds this one, for `like ... escape '~'`. */
export function likePart(text: string): string {
  return `%${text.replace(/[~%_]/g, (sign) => `~${sign}`)}%`
}

export interface FoundInvoice {
  readonly id: number
  readonly kind: 'invoice' | 'credit-note'
  readonly number: string
  readonly name: string
  readonly gross: Cents
  readonly currency: string
  readonly issuedOn: CalendarDate | null
}

/** Issued invoices and credit notes by a part of their number. */
export async function findInvoices(db: ReadDb, officeId: OfficeId, typed: string): Promise<FoundInvoice[]> {
  return db
    .selectFrom('invoices as i')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 'i.office_id').onRef('c.id', '=', 'i.customer_id'),
    )
    .where('i.office_id', '=', officeId)
    .where('i.state', '=', 'issued')
    .where(sql<boolean>`lower(i.number_text) like ${likePart(typed.toLowerCase())} escape '~'`)
    .select([
      'i.id as id',
      'i.kind as kind',
      'i.number_text as number',
      'c.sort_name as name',
      'i.gross_cents as gross',
      'i.currency as currency',
      'i.issued_on as issuedOn',
    ])
    .orderBy('i.id', 'desc')
    .limit(4)
    .execute()
}

/** Parts by a piece of their number or name. */
export async function findParts(db: ReadDb, officeId: OfficeId, typed: string) {
  const part = likePart(typed.toLowerCase())
  return db
    .selectFrom('parts')
    .where('office_id', '=', officeId)
    .where('closed_on', 'is', null)
    .where(sql<boolean>`(lower(number) like ${part} escape '~' or lower(name) like ${part} escape '~')`)
    .select(['id', 'number', 'name'])
    .orderBy('number')
    .limit(4)
    .execute()
}

/** Purchase orders by a piece of their number. */
export async function findOrders(db: ReadDb, officeId: OfficeId, typed: string) {
  return db
    .selectFrom('purchase_orders as o')
    .innerJoin('suppliers as s', (join) =>
      join.onRef('s.office_id', '=', 'o.office_id').onRef('s.id', '=', 'o.supplier_id'),
    )
    .where('o.office_id', '=', officeId)
    .where(sql<boolean>`lower(o.number) like ${likePart(typed.toLowerCase())} escape '~'`)
    .select(['o.id as id', 'o.number as number', 's.name as supplier'])
    .orderBy('o.id', 'desc')
    .limit(4)
    .execute()
}
