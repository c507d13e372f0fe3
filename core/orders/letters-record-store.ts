import { sql } from 'kysely'
import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { CustomerId, InstallationId, OfficeId, SiteId } from '../units/ids.ts'
import type { LetterStep } from './letters-to-visits.ts'
import type { DelayOnRecord, LetterOnRecord } from './replies-on-record.ts'

/** A household with something due, by site; closed ones are left out. */
export interface DueSite {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly dueOn: CalendarDate
  /** The post could not find it. */
  readonly unaddressed: boolean
  readonly visitedOn: CalendarDate | null
}

const blank = (column: string) => `trim(${column}) = ''`

/** Households with anything due until then, each with its last recorded visit. */
export async function dueSites(db: ReadDb, officeId: OfficeId, until: CalendarDate): Promise<DueSite[]> {
  const unaddressed = `${blank('t.line1')} or ${blank('t.town')}`
  const rows = await db
    .selectFrom('sites as t')
    .select(['t.id as siteId', 't.customer_id as customerId'])
    .select([
      sql<CalendarDate>`t.due_on`.as('dueOn'),
      sql<number>`case when ${sql.raw(unaddressed)} then 1 else 0 end`.as('unaddressed'),
    ])
    .select((each) =>
      each
        .selectFrom('visits as v')
        .select(sql<CalendarDate>`max(v.visit_on)`.as('last'))
        .whereRef('v.site_id', '=', 't.id')
        .where('v.office_id', '=', officeId)
        .where('v.state', 'in', ['done', 'could-not'])
        .as('visitedOn'),
    )
    .where('t.office_id', '=', officeId)
    .where('t.closed_on', 'is', null)
    .where('t.due_on', '<=', until)
    .execute()
  return rows.map((row) => ({ ...row, unaddressed: Number(row.unaddressed) === 1 }))
}

/** A customer whose letters do not simply go to its site. */
export interface SparedCustomer {
  readonly customerId: CustomerId
  /** Asked for no mail, or the post could not find where its mail goes. */
  readonly unasked: boolean
  /** Moved, or the books of the customer are closed. */
  readonly gone: boolean
  readonly mailElsewhere: boolean
}

/** Customers who moved, are closed, asked for no mail or get it elsewhere: of a large office a few. */
export async function sparedCustomers(db: ReadDb, officeId: OfficeId): Promise<SparedCustomer[]> {
  const lost = `mail_elsewhere = 1 and (${blank('mail_line1')} or ${blank('mail_town')})`
  const rows = await db
    .selectFrom('customers')
    .select(['id as customerId', 'mail_elsewhere'])
    .select([
      sql<number>`case when no_mail = 1 or (${sql.raw(lost)}) then 1 else 0 end`.as('unasked'),
      sql<number>`case when moved_on is not null or closed_on is not null then 1 else 0 end`.as('gone'),
    ])
    .where('office_id', '=', officeId)
    .where((each) =>
      each.or([
        each('no_mail', '=', 1),
        each('mail_elsewhere', '=', 1),
        each('moved_on', 'is not', null),
        each('closed_on', 'is not', null),
      ]),
    )
    .execute()
  return rows.map(({ mail_elsewhere, ...row }) => ({
    ...row,
    unasked: Number(row.unasked) === 1,
    gone: Number(row.gone) === 1,
    mailElsewhere: mail_elsewhere === 1,
  }))
}

/** The households of all units that are in use. */
export async function unitsInUse(db: ReadDb, officeId: OfficeId): Promise<Map<InstallationId, SiteId>> {
  const rows = await db
    .selectFrom('installations')
    .select(['id as installationId', 'site_id as siteId'])
    .where('office_id', '=', officeId)
    .where('removed_on', 'is', null)
    .execute()
  return new Map(rows.map((row) => [row.installationId, row.siteId]))
}

/** The latest letter of each kind to customers with anything due until then; letters that were taken back do not count. */
export async function latestLetters(
  db: ReadDb,
  officeId: OfficeId,
  until: CalendarDate,
): Promise<{ readonly customerId: CustomerId; readonly kind: LetterStep; readonly writtenOn: CalendarDate }[]> {
  return db
    .selectFrom('letters as l')
    .select(['l.customer_id as customerId', 'l.kind as kind', sql<CalendarDate>`max(l.written_on)`.as('writtenOn')])
    .where('l.office_id', '=', officeId)
    .where('l.taken_back', '=', 0)
    .where((each) =>
      each(
        'l.customer_id',
        'in',
        each
          .selectFrom('sites')
          .select('customer_id')
          .where('office_id', '=', officeId)
          .where('closed_on', 'is', null)
          .where('due_on', '<=', until),
      ),
    )
    .groupBy(['l.customer_id', 'l.kind'])
    .execute()
}

/** The latest letters since a day, at most so many, each with the first booking of its household after it. */
export async function lettersOnRecord(
  db: ReadDb,
  officeId: OfficeId,
  since: CalendarDate,
  most: number,
): Promise<LetterOnRecord[]> {
  const rows = await db
    .selectFrom('letter_runs as r')
    .innerJoin('letters as l', (join) => join.onRef('l.office_id', '=', 'r.office_id').onRef('l.run_id', '=', 'r.id'))
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 'l.office_id').onRef('c.id', '=', 'l.customer_id'),
    )
    .select(['l.customer_id as customerId', 'l.kind as kind', 'l.written_on as writtenOn'])
    .select(sql<CalendarDate | null>`coalesce(c.moved_on, c.closed_on)`.as('leftOn'))
    .select((each) =>
      each
        .selectFrom('visits as v')
        .select(sql<string>`min(v.booked_at)`.as('first'))
        .whereRef('v.site_id', '=', 'l.site_id')
        .whereRef('v.booked_at', '>=', 'l.written_on')
        .where('v.office_id', '=', officeId)
        .where('v.state', '<>', 'cancelled')
        .as('bookedAt'),
    )
    .where('r.office_id', '=', officeId)
    .where('r.written_on', '>=', since)
    .where('l.taken_back', '=', 0)
    .orderBy('r.id', 'desc')
    .orderBy('l.id', 'desc')
    .limit(most)
    .execute()
  return rows.map(({ bookedAt, ...row }) => ({ ...row, bookedOn: dayOf(bookedAt) }))
}

/** From booking to visit, by pairs of days. */
export async function bookingDelays(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<DelayOnRecord[]> {
  const day = sql<CalendarDate>`substr(booked_at, 1, 10)`
  const rows = await db
    .selectFrom('visits')
    .select([day.as('bookedOn'), 'visit_on as visitOn'])
    .select((each) => each.fn.countAll<number>().as('visits'))
    .where('office_id', '=', officeId)
    .where('visit_on', '>=', since)
    .where('state', '<>', 'cancelled')
    .groupBy([day, 'visit_on'])
    .execute()
  return rows.map((row) => ({ ...row, visits: Number(row.visits) }))
}

/** Visits that households without letters booked since a day. */
export async function unaskedBookings(db: ReadDb, officeId: OfficeId, since: CalendarDate): Promise<number> {
  const row = await db
    .selectFrom('customers as c')
    .innerJoin('sites as t', (join) =>
      join.onRef('t.office_id', '=', 'c.office_id').onRef('t.customer_id', '=', 'c.id'),
    )
    .innerJoin('visits as v', (join) => join.onRef('v.office_id', '=', 't.office_id').onRef('v.site_id', '=', 't.id'))
    .select((each) => each.fn.countAll<number>().as('visits'))
    .where('c.office_id', '=', officeId)
    .where('c.no_mail', '=', 1)
    .where('c.moved_on', 'is', null)
    .where('v.booked_at', '>=', since)
    .where('v.state', '<>', 'cancelled')
    .executeTakeFirst()
  return Number(row?.visits ?? 0)
}

/** The day of the first visit in the books; null before there is one. */
export async function firstVisitOn(db: ReadDb, officeId: OfficeId): Promise<CalendarDate | null> {
  const row = await db
    .selectFrom('visits')
    .select('visit_on as on')
    .where('office_id', '=', officeId)
    .orderBy('visit_on')
    .limit(1)
    .executeTakeFirst()
  return row?.on ?? null
}

const dayOf = (at: string | null): CalendarDate | null => (at === null ? null : (at.slice(0, 10) as CalendarDate))
