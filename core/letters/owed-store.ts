import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import { addDays, type CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, OfficeId, SiteId } from '../units/ids.ts'
import { grouped } from './grouped.ts'
import type { MailedCustomer } from './owed-letters.ts'

/** A customer with what the list shows of it. */
export interface ListedCustomer extends MailedCustomer {
  readonly name: string
  readonly town: string
  readonly postalCode: string
  readonly street: string
  /** Its place with the earliest due date. */
  readonly siteId: SiteId
}

/** Customers that are read at once: as many keys as both databases take in one question without trouble. */
const AT_ONCE = 500

/** Customers with an open place due by `until`, with their places, bookings, visits and letters that were not taken back. */
export async function listMailedCustomers(
  db: ReadDb,
  officeId: OfficeId,
  until: CalendarDate,
  today: CalendarDate,
): Promise<ListedCustomer[]> {
  const listed: ListedCustomer[] = []
  for await (const some of mailedCustomersInTurn(db, officeId, until, today)) listed.push(...some)
  return listed
}

/** The same customers in the same order, some at a time, so that a firm with ten thousand of them need not be held at once. */
export async function* mailedCustomersInTurn(
  db: ReadDb,
  officeId: OfficeId,
  until: CalendarDate,
  today: CalendarDate,
): AsyncGenerator<ListedCustomer[]> {
  const due = await db
    .selectFrom('sites')
    .select('customer_id')
    .distinct()
    .where('office_id', '=', officeId)
    .where('closed_on', 'is', null)
    .where('due_on', '<=', until)
    .execute()
  const ids = due.map((row) => row.customer_id).sort((a, b) => a - b)
  for (let from = 0; from < ids.length; from += AT_ONCE)
    yield await readMailedCustomers(db, officeId, ids.slice(from, from + AT_ONCE), today)
}

async function readMailedCustomers(
  db: ReadDb,
  officeId: OfficeId,
  ids: readonly CustomerId[],
  today: CalendarDate,
): Promise<ListedCustomer[]> {
  const customers = await db
    .selectFrom('customers')
    .select([
      'id',
      'sort_name',
      'no_mail',
      'moved_on',
      'closed_on',
      'mail_elsewhere',
      'mail_line1',
      'mail_town',
      'mail_postal_code',
    ])
    .where('office_id', '=', officeId)
    .where('id', 'in', ids)
    .orderBy('id')
    .execute()
  const besides = await duesBesidesRecalls(db, officeId)
  const sites = (await readSites(db, officeId, ids)).map((site) =>
    besides.has(site.id) ? { ...site, due_on: besides.get(site.id) ?? null } : site,
  )
  const letters = await db
    .selectFrom('letters')
    .select(['customer_id', 'kind', 'written_on'])
    .where('office_id', '=', officeId)
    .where('taken_back', '=', 0)
    .where('written_on', '>=', addDays(today, -3650))
    .where('customer_id', 'in', ids)
    .execute()
  const sitesOf = grouped(sites, (site) => site.customer_id)
  const lettersOf = grouped(letters, (letter) => letter.customer_id)
  return customers.flatMap((row): ListedCustomer[] => {
    const own = sitesOf.get(row.id) ?? []
    const first = own
      .filter((site) => site.closed_on === null && site.due_on !== null)
      .sort((a, b) => ((a.due_on ?? '') < (b.due_on ?? '') ? -1 : 1))[0]
    if (!first) return []
    const elsewhere = row.mail_elsewhere === 1
    const place = elsewhere
      ? { street: row.mail_line1, town: row.mail_town, postalCode: row.mail_postal_code }
      : { street: first.line1, town: first.town, postalCode: first.postal_code }
    return [
      {
        customerId: row.id,
        name: row.sort_name,
        ...place,
        siteId: first.id,
        noMail: row.no_mail === 1,
        moved: row.moved_on !== null,
        closed: row.closed_on !== null,
        unaddressed: place.street.trim() === '' || place.town.trim() === '',
        sites: own.map((site) => ({
          siteId: site.id,
          closed: site.closed_on !== null,
          dueOn: site.due_on,
          booked: Number(site.booked) > 0,
          visitedOn: site.visited_on,
        })),
        letters: (lettersOf.get(row.id) ?? []).map((letter) => ({ kind: letter.kind, writtenOn: letter.written_on })),
      },
    ]
  })
}

function readSites(db: ReadDb, officeId: OfficeId, customers: readonly CustomerId[]) {
  return db
    .selectFrom('sites as t')
    .select((eb) => [
      't.id',
      't.customer_id',
      't.closed_on',
      't.due_on',
      't.line1',
      't.town',
      't.postal_code',
      eb
        .selectFrom('visits as v')
        .select((v) => v.fn.countAll().as('count'))
        .whereRef('v.site_id', '=', 't.id')
        .where('v.office_id', '=', officeId)
        .where('v.state', '=', 'booked')
        .as('booked'),
      eb
        .selectFrom('visits as v')
        .select(sql<CalendarDate>`max(coalesce(v.done_on, v.visit_on))`.as('last'))
        .whereRef('v.site_id', '=', 't.id')
        .where('v.office_id', '=', officeId)
        .where('v.state', 'in', ['done', 'could-not'])
        .as('visited_on'),
    ])
    .where('t.office_id', '=', officeId)
    .where('t.customer_id', 'in', customers)
    .execute()
}

/** For homes that hold some of a recalled lot: when the first of their other stages is due; null when nothing else is. */
async function duesBesidesRecalls(db: ReadDb, officeId: OfficeId): Promise<Map<SiteId, CalendarDate | null>> {
  const rows = await db
    .selectFrom('installations as i')
    .innerJoin('stages as s', (join) =>
      join.onRef('s.office_id', '=', 'i.office_id').onRef('s.installation_id', '=', 'i.id'),
    )
    .leftJoin('lots as l', (join) =>
      join.onRef('l.office_id', '=', 's.office_id').onRef('l.id', '=', 's.fitted_lot_id'),
    )
    .select([
      'i.site_id',
      sql<CalendarDate | null>`min(case when l.recalled_on is null then s.due_on end)`.as('due_on'),
    ])
    .where('i.office_id', '=', officeId)
    .where('i.removed_on', 'is', null)
    .where('s.removed_on', 'is', null)
    .where('i.site_id', 'in', ({ selectFrom }) =>
      selectFrom('lots as r')
        .innerJoin('stages as f', (join) =>
          join.onRef('f.office_id', '=', 'r.office_id').onRef('f.fitted_lot_id', '=', 'r.id'),
        )
        .innerJoin('installations as u', (join) =>
          join.onRef('u.office_id', '=', 'f.office_id').onRef('u.id', '=', 'f.installation_id'),
        )
        .select('u.site_id')
        .where('r.office_id', '=', officeId)
        .where('r.recalled_on', 'is not', null)
        .where('f.removed_on', 'is', null),
    )
    .groupBy('i.site_id')
    .execute()
  return new Map(rows.map((row) => [row.site_id, row.due_on]))
}

/** Days of the coming weeks on which someone is booked in a town, earliest first, by town. */
export async function daysInTowns(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
  until: CalendarDate,
): Promise<Map<string, CalendarDate[]>> {
  const rows = await db
    .selectFrom('visits as v')
    .innerJoin('sites as t', (join) => join.onRef('t.id', '=', 'v.site_id').onRef('t.office_id', '=', 'v.office_id'))
    .select(['t.town', 'v.visit_on'])
    .distinct()
    .where('v.office_id', '=', officeId)
    .where('v.state', '=', 'booked')
    .where('v.visit_on', '>=', from)
    .where('v.visit_on', '<=', until)
    .orderBy('v.visit_on')
    .execute()
  const days = new Map<string, CalendarDate[]>()
  for (const row of rows) days.set(row.town, [...(days.get(row.town) ?? []), row.visit_on])
  return days
}
