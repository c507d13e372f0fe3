import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, SiteId } from '../units/ids.ts'
import type { WaitingHousehold } from './visits-contract.ts'

export interface WaitingRow {
  readonly siteId: SiteId
  readonly household: string
  readonly town: string
  readonly phone: string
  readonly phoneNote: string
  readonly dueOn: CalendarDate
}

/** Households that are read at once; the count says how many there are. */
export const WAITING_AT_ONCE = 200

/** Where a page of waiting households ended. */
export interface WaitingEnd {
  readonly dueOn: CalendarDate
  readonly siteId: SiteId
}

function waiting(db: ReadDb, officeId: OfficeId, dueUntil: CalendarDate, onlyWithLetter: boolean) {
  let query = db
    .selectFrom('sites as s')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.office_id', '=', 's.office_id').onRef('c.id', '=', 's.customer_id'),
    )
    .where('s.office_id', '=', officeId)
    .where('s.closed_on', 'is', null)
    .where('s.due_on', 'is not', null)
    .where('s.due_on', '<=', dueUntil)
    .where('c.closed_on', 'is', null)
    .where('c.moved_on', 'is', null)
    .where(({ not, exists, selectFrom }) =>
      not(
        exists(
          selectFrom('visits as v')
            .select('v.id')
            .whereRef('v.office_id', '=', 's.office_id')
            .whereRef('v.site_id', '=', 's.id')
            .where('v.state', '=', 'booked'),
        ),
      ),
    )
  // A letter written for the work before the last visit is answered: only one about what is due now counts.
  if (onlyWithLetter)
    query = query.where(({ exists, selectFrom }) =>
      exists(
        selectFrom('letters as l')
          .select('l.id')
          .whereRef('l.office_id', '=', 's.office_id')
          .whereRef('l.site_id', '=', 's.id')
          .where('l.taken_back', '=', 0)
          .whereRef('l.due_on', '>=', 's.due_on'),
      ),
    )
  return query
}

/** Households that wait for a booking, the longest due first, a page of them from where the one before ended. */
export async function listWaiting(
  db: ReadDb,
  officeId: OfficeId,
  dueUntil: CalendarDate,
  onlyWithLetter: boolean,
  { after, limit }: { readonly after: WaitingEnd | null; readonly limit: number },
): Promise<WaitingRow[]> {
  let query = waiting(db, officeId, dueUntil, onlyWithLetter)
  if (after !== null)
    query = query.where(({ or, and, eb }) =>
      or([eb('s.due_on', '>', after.dueOn), and([eb('s.due_on', '=', after.dueOn), eb('s.id', '>', after.siteId)])]),
    )
  const rows = await query
    .select([
      's.id as siteId',
      'c.sort_name as household',
      's.town as town',
      'c.phone as phone',
      'c.phone_note as phoneNote',
      's.due_on as dueOn',
    ])
    .orderBy('s.due_on')
    .orderBy('s.id')
    .limit(limit)
    .execute()
  return rows.flatMap(({ dueOn, ...row }) => (dueOn === null ? [] : [{ ...row, dueOn }]))
}

export async function countWaiting(
  db: ReadDb,
  officeId: OfficeId,
  dueUntil: CalendarDate,
  onlyWithLetter: boolean,
): Promise<number> {
  const row = await waiting(db, officeId, dueUntil, onlyWithLetter)
    .select(({ fn }) => fn.countAll<number>().as('count'))
    .executeTakeFirst()
  return Number(row?.count ?? 0)
}

/** The latest letter of each household that was not taken back. */
export async function latestLetters(
  db: ReadDb,
  officeId: OfficeId,
  siteIds: readonly SiteId[],
): Promise<Map<SiteId, WaitingHousehold['letter']>> {
  const found = new Map<SiteId, WaitingHousehold['letter']>()
  if (siteIds.length === 0) return found
  const rows = await db
    .selectFrom('letters')
    .select(['site_id', 'kind', 'written_on'])
    .where('office_id', '=', officeId)
    .where('site_id', 'in', siteIds)
    .where('taken_back', '=', 0)
    .orderBy('written_on')
    .orderBy('id')
    .execute()
  for (const row of rows) found.set(row.site_id, { kind: row.kind, writtenOn: row.written_on })
  return found
}
