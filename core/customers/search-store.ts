import { type Expression, type SqlBool, sql } from 'kysely'
import type { DialectName, ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId, SiteId } from '../units/ids.ts'
import { type SearchWord, SHORTEST_INDEXED, searchTextOf } from './search-words.ts'

/** Lines to a statement. */
const LINES = 100
/** So many households are named by the index at once; when more fit, the list is walked in its own order instead. */
const NAMED = 400

/** Writes the search text of households again, from everything people look for them by. */
export async function refreshSearch(tx: WriteDb, officeId: OfficeId, siteIds: readonly SiteId[]): Promise<void> {
  for (let from = 0; from < siteIds.length; from += LINES) {
    const lines = await searchLines(tx, officeId, siteIds.slice(from, from + LINES))
    if (lines.length === 0) continue
    await tx
      .insertInto('site_search')
      .values(lines)
      .onConflict((row) =>
        row.columns(['office_id', 'site_id']).doUpdateSet((eb) => ({ words: eb.ref('excluded.words') })),
      )
      .execute()
  }
}

async function searchLines(tx: WriteDb, officeId: OfficeId, siteIds: readonly SiteId[]) {
  const sites = await tx
    .selectFrom('sites as t')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.id', '=', 't.customer_id').onRef('c.office_id', '=', 't.office_id'),
    )
    .select([
      't.id',
      't.customer_id',
      't.line1',
      't.line2',
      't.town',
      't.region',
      't.postal_code',
      'c.reference',
      'c.sort_name',
      'c.letter_name',
      'c.phone',
      'c.email',
      'c.mail_line1',
      'c.mail_line2',
      'c.mail_town',
      'c.mail_postal_code',
    ])
    .where('t.office_id', '=', officeId)
    .where('t.id', 'in', [...siteIds])
    .execute()
  const contacts = await tx
    .selectFrom('contacts')
    .select(['customer_id', 'name', 'phone', 'email'])
    .where('office_id', '=', officeId)
    .where('customer_id', 'in', [
      ...new Set(sites.map((site) => site.customer_id)),
      0 as (typeof sites)[number]['customer_id'],
    ])
    .execute()
  return sites.map((site) => {
    const own = contacts.filter((contact) => contact.customer_id === site.customer_id)
    const words = searchTextOf({
      names: [site.sort_name, site.letter_name, ...own.map((contact) => contact.name)],
      addressLines: [
        site.line1,
        site.line2,
        `${site.town} ${site.region} ${site.postal_code}`,
        site.mail_line1,
        site.mail_line2,
        `${site.mail_town} ${site.mail_postal_code}`,
      ],
      phones: [site.phone, ...own.map((contact) => contact.phone)],
      emails: [site.email, ...own.map((contact) => contact.email)],
      reference: site.reference,
    })
    return { office_id: officeId, site_id: site.id, words }
  })
}

/**
 * A condition on a site's id (given by its column, such as `t.id`) that holds when every word is in its search text; null without words.
 * On SQLite the index names the households when few fit; when many do, each household of the walk is looked at, and a page fills soon.
 */
export async function searchCondition(
  db: ReadDb,
  dialect: DialectName,
  officeId: OfficeId,
  words: readonly SearchWord[],
  siteColumn: string,
): Promise<Expression<SqlBool> | null> {
  if (words.length === 0) return null
  const column = sql.ref(siteColumn)
  const indexed = indexedOf(words)
  const everyWord = sql.join(
    words.map(
      (word) =>
        sql`(${sql.join(
          word.map((form) => sql`k.words like ${likeAnywhere(form)} escape '\\'`),
          sql` or `,
        )})`,
    ),
    sql` and `,
  )
  if (dialect === 'postgres')
    return sql<SqlBool>`${column} in (select k.site_id from site_search k where k.office_id = ${officeId} and ${everyWord})`
  if (indexed.length > 0) {
    const named = await namedSites(db, indexed)
    if (named !== null)
      return sql<SqlBool>`${column} in (select k.site_id from site_search k where k.rowid in (${sql.join(named)}) and k.office_id = ${officeId} and ${everyWord})`
  }
  return sql<SqlBool>`exists (select 1 from site_search k where k.office_id = ${officeId} and k.site_id = ${column} and ${everyWord})`
}

/** Whether these words are looked for in each household of a list, because more fit than the index names at once. */
export async function looksIntoEach(db: ReadDb, dialect: DialectName, words: readonly SearchWord[]): Promise<boolean> {
  if (words.length === 0 || dialect === 'postgres') return false
  const indexed = indexedOf(words)
  return indexed.length === 0 || (await namedSites(db, indexed)) === null
}

const indexedOf = (words: readonly SearchWord[]): SearchWord[] =>
  words.filter((word) => word.every((form) => form.length >= SHORTEST_INDEXED))

/** Rows of the search table that the index names; null when there are more than `NAMED`. */
async function namedSites(db: ReadDb, words: readonly SearchWord[]): Promise<number[] | null> {
  const rows = await db
    .selectFrom(
      sql<{
        rowid: number
      }>`(select rowid from site_search_index where words match ${matchOf(words)} limit ${sql.lit(NAMED + 1)})`.as(
        'hit',
      ),
    )
    .select('hit.rowid')
    .execute()
  if (rows.length > NAMED) return null
  return rows.length === 0 ? [-1] : rows.map((row) => row.rowid)
}

/** The words for the index of three-letter pieces: every word, in any of its forms, as pieces of text. */
export function matchOf(words: readonly SearchWord[]): string {
  return words.map((word) => `(${word.map((form) => `"${form.replaceAll('"', '""')}"`).join(' OR ')})`).join(' AND ')
}

function likeAnywhere(form: string): string {
  return `%${form.replace(/[\\%_]/g, (sign) => `\\${sign}`)}%`
}
