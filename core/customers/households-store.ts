import { sql } from 'kysely'
import type { DialectName, ReadDb } from '../database/handles.ts'
import type { OfficeId } from '../units/ids.ts'
import type { HouseholdRow, HouseholdSort, PageEnd } from './customers-contract.ts'
import { searchCondition } from './search-store.ts'
import { searchWordsOf } from './search-words.ts'

export interface HouseholdsWanted {
  readonly search: string
  readonly withClosed: boolean
  readonly sort: HouseholdSort
  readonly descending: boolean
  readonly after: PageEnd | null
  readonly limit: number
}

/** Sorts behind every date: a household without one stands last. */
const NO_DATE = '9999-99-99'

/** A page of the ledger, by key: the rows after `after` in the order asked for. */
export async function listHouseholds(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  wanted: HouseholdsWanted,
): Promise<HouseholdRow[]> {
  const { sort, descending, after, limit } = wanted
  const direction = descending ? 'desc' : 'asc'
  const key =
    sort === 'household'
      ? sql<string>`c.sort_name`
      : sort === 'town'
        ? sql<string>`t.town`
        : sql<string>`coalesce(t.due_on, ${sql.lit(NO_DATE)})`
  const id = sort === 'household' ? sql<number>`c.id` : sql<number>`t.id`
  const found = await searchCondition(db, dialect, officeId, searchWordsOf(wanted.search), 't.id')
  let query = db
    .selectFrom('sites as t')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.id', '=', 't.customer_id').onRef('c.office_id', '=', 't.office_id'),
    )
    .select([
      't.id as siteId',
      't.customer_id as customerId',
      'c.sort_name as household',
      'c.reference',
      't.line1',
      't.town',
      't.postal_code as postalCode',
      'c.phone',
      'c.email',
      't.due_on as dueOn',
      't.closed_on',
      'c.moved_on',
      'c.no_mail',
    ])
    .where('c.office_id', '=', officeId)
    .where('t.office_id', '=', officeId)
    .orderBy(key, direction)
    .orderBy(id, direction)
    .limit(limit)
  if (sort === 'household') query = query.orderBy('t.id', direction)
  if (!wanted.withClosed) query = query.where('t.closed_on', 'is', null)
  if (found) query = query.where(found)
  if (after) query = query.where(beyond(sort, descending, key, after))
  const rows = await query.execute()
  return rows.map(({ closed_on, moved_on, no_mail, ...row }) => ({
    ...row,
    closed: closed_on !== null,
    moved: moved_on !== null,
    noMail: no_mail === 1,
  }))
}

/** Where a page ended, for the next one. */
export function pageEndOf(row: HouseholdRow, sort: HouseholdSort): PageEnd {
  const key = sort === 'household' ? row.household : sort === 'town' ? row.town : (row.dueOn ?? NO_DATE)
  return { key, id: row.siteId }
}

/** Rows beyond the last one of the page before; by name two sites of one customer stand in the order of their ids. */
function beyond(sort: HouseholdSort, descending: boolean, key: ReturnType<typeof sql<string>>, after: PageEnd) {
  const sign = sql.raw(descending ? '<' : '>')
  if (sort !== 'household') return sql<boolean>`(${key}, t.id) ${sign} (${after.key}, ${after.id})`
  const customer = sql`(select customer_id from sites where id = ${after.id})`
  return sql<boolean>`(c.sort_name, c.id, t.id) ${sign} (${after.key}, ${customer}, ${after.id})`
}

export async function countHouseholds(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  search: string,
  withClosed: boolean,
): Promise<number> {
  const found = await searchCondition(db, dialect, officeId, searchWordsOf(search), 't.id')
  let query = db
    .selectFrom('sites as t')
    .select((eb) => eb.fn.countAll<number>().as('total'))
    .where('t.office_id', '=', officeId)
  if (!withClosed) query = query.where('t.closed_on', 'is', null)
  if (found) query = query.where(found)
  const row = await query.executeTakeFirst()
  return Number(row?.total ?? 0)
}
