import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, VisitId } from '../units/ids.ts'

/** The day a visit is booked for; null when there is no such visit. */
export async function findVisitDay(db: ReadDb, officeId: OfficeId, visitId: VisitId): Promise<CalendarDate | null> {
  const visits = db.selectFrom('visits').select('visit_on').where('office_id', '=', officeId)
  return (await visits.where('id', '=', visitId).executeTakeFirst())?.visit_on ?? null
}
