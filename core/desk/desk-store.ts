import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId } from '../units/ids.ts'

/** How many, and the earliest date among them. */
export interface Pile {
  readonly count: number
  readonly oldest: CalendarDate | null
}

const EARLIEST = sql<CalendarDate | null>`min(s.due_on)`

function pileOf(row: { count: number | string; oldest: CalendarDate | null } | undefined): Pile {
  return { count: Number(row?.count ?? 0), oldest: row?.oldest ?? null }
}

/** Open households that are due until a day. */
export async function dueHouseholds(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<Pile> {
  const row = await dueSites(db, officeId, until)
    .select(({ fn }) => [fn.countAll<number>().as('count'), EARLIEST.as('oldest')])
    .executeTakeFirst()
  return pileOf(row)
}

/** Whether more than so many open households are due until a day; looks at no more than those. */
export async function hasManyDue(db: ReadDb, officeId: OfficeId, until: CalendarDate, many: number): Promise<boolean> {
  return (await hasManyDueQuery(db, officeId, until, many).executeTakeFirst()) !== undefined
}

export function hasManyDueQuery(db: ReadDb, officeId: OfficeId, until: CalendarDate, many: number) {
  return dueSites(db, officeId, until).select('s.id').orderBy('s.due_on').orderBy('s.id').offset(many).limit(1)
}

function dueSites(db: ReadDb, officeId: OfficeId, until: CalendarDate) {
  return db
    .selectFrom('sites as s')
    .where('s.office_id', '=', officeId)
    .where('s.closed_on', 'is', null)
    .where('s.due_on', 'is not', null)
    .where('s.due_on', '<=', until)
}

/** Technicians with booked visits on a day whose van has not been pulled for that day. */
export async function vansToPull(db: ReadDb, officeId: OfficeId, on: CalendarDate): Promise<number> {
  const row = await db
    .selectFrom('visits as v')
    .where('v.office_id', '=', officeId)
    .where('v.visit_on', '=', on)
    .where('v.state', '=', 'booked')
    .where('v.technician_id', 'is not', null)
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('pulls as p')
            .innerJoin('vans as w', (join) =>
              join.onRef('w.office_id', '=', 'p.office_id').onRef('w.id', '=', 'p.van_id'),
            )
            .select('p.id')
            .whereRef('p.office_id', '=', 'v.office_id')
            .where('p.pull_on', '=', on)
            .where('p.state', '=', 'confirmed')
            .whereRef('w.technician_id', '=', 'v.technician_id'),
        ),
      ),
    )
    .select(({ fn }) => fn.count<number>('v.technician_id').distinct().as('count'))
    .executeTakeFirst()
  return Number(row?.count ?? 0)
}

/** Booked visits of the days from `from` to `until` that nobody has been sent to yet: nothing is pulled for them. */
export async function visitsOfNobody(
  db: ReadDb,
  officeId: OfficeId,
  from: CalendarDate,
  until: CalendarDate,
): Promise<number> {
  const row = await db
    .selectFrom('visits')
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('technician_id', 'is', null)
    .where('visit_on', '>=', from)
    .where('visit_on', '<=', until)
    .select(({ fn }) => fn.countAll<number>().as('count'))
    .executeTakeFirst()
  return Number(row?.count ?? 0)
}

/** The next day from `from` on which anything is booked. */
export async function nextBookedDay(db: ReadDb, officeId: OfficeId, from: CalendarDate): Promise<CalendarDate | null> {
  const row = await db
    .selectFrom('visits')
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('visit_on', '>=', from)
    .select('visit_on')
    .orderBy('visit_on')
    .limit(1)
    .executeTakeFirst()
  return row?.visit_on ?? null
}

/** Booked visits by day, from before any date up to a day. */
export async function bookedByDay(
  db: ReadDb,
  officeId: OfficeId,
  until: CalendarDate,
): Promise<{ day: CalendarDate; count: number }[]> {
  const rows = await db
    .selectFrom('visits')
    .where('office_id', '=', officeId)
    .where('state', '=', 'booked')
    .where('visit_on', '<=', until)
    .groupBy('visit_on')
    .select(({ fn }) => ['visit_on', fn.countAll<number>().as('count')])
    .execute()
  return rows.map((row) => ({ day: row.visit_on, count: Number(row.count) }))
}

/** Drafts that wait to be issued; the oldest by its day of drafting. */
export async function draftInvoices(db: ReadDb, officeId: OfficeId): Promise<Pile> {
  const row = await db
    .selectFrom('invoices')
    .where('office_id', '=', officeId)
    .where('state', '=', 'draft')
    .select(({ fn }) => [fn.countAll<number>().as('count'), sql<CalendarDate | null>`min(drafted_on)`.as('oldest')])
    .executeTakeFirst()
  return pileOf(row)
}
