import type { ReadDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { InstallationId, OfficeId, SiteId, VisitId } from '../units/ids.ts'
import type { HouseholdSheet } from './due-contract.ts'

const READINGS_SHOWN = 40
const HISTORY_SHOWN = 40

export async function readingsOfUnit(db: ReadDb, officeId: OfficeId, installationId: InstallationId) {
  return db
    .selectFrom('readings')
    .select([
      'taken_on as takenOn',
      'tds_in_mg_l as tdsIn',
      'tds_out_mg_l as tdsOut',
      'flow_ml_min as flow',
      'feed_kpa as feed',
      'tank_kpa as tank',
      'temperature_c as temperature',
    ])
    .where('office_id', '=', officeId)
    .where('installation_id', '=', installationId)
    .where('struck_on', 'is', null)
    .orderBy('taken_on', 'desc')
    .orderBy('id', 'desc')
    .limit(READINGS_SHOWN)
    .execute()
}

/** Letters and visits, latest first, each as a sentence. */
export async function historyOfSite(
  db: ReadDb,
  officeId: OfficeId,
  siteId: SiteId,
): Promise<HouseholdSheet['history']> {
  const letters = await db
    .selectFrom('letters as l')
    .innerJoin('letter_runs as r', (join) =>
      join.onRef('r.id', '=', 'l.run_id').onRef('r.office_id', '=', 'l.office_id'),
    )
    .select(['l.id', 'l.kind', 'l.written_on', 'l.taken_back', 'r.name'])
    .where('l.office_id', '=', officeId)
    .where('l.site_id', '=', siteId)
    .orderBy('l.written_on', 'desc')
    .limit(HISTORY_SHOWN)
    .execute()
  const visits = await db
    .selectFrom('visits as v')
    .leftJoin('technicians as n', (join) =>
      join.onRef('n.id', '=', 'v.technician_id').onRef('n.office_id', '=', 'v.office_id'),
    )
    .select(['v.id', 'v.visit_on', 'v.done_on', 'v.state', 'v.reason', 'v.remarks', 'n.name'])
    .where('v.office_id', '=', officeId)
    .where('v.site_id', '=', siteId)
    .orderBy('v.visit_on', 'desc')
    .limit(HISTORY_SHOWN)
    .execute()
  const told = [
    ...letters.map((letter) => ({
      key: `letter ${letter.id}`,
      on: letter.written_on,
      visitId: null,
      sentence: `${letter.kind} letter, run “${letter.name}”${letter.taken_back === 1 ? ', taken back' : ''}`,
    })),
    ...visits.map((visit) => ({
      key: `visit ${visit.id}`,
      on: visit.done_on ?? visit.visit_on,
      visitId: visit.id,
      sentence: visitSentence(visit),
    })),
  ]
  return told.sort((a, b) => (a.on < b.on ? 1 : a.on > b.on ? -1 : 0)).slice(0, HISTORY_SHOWN)
}

interface ToldVisit {
  readonly id: VisitId
  readonly state: 'booked' | 'done' | 'could-not' | 'cancelled'
  readonly reason: string
  readonly remarks: string
  readonly name: string | null
  readonly visit_on: CalendarDate
}

function visitSentence(visit: ToldVisit): string {
  const who = visit.name === null ? 'visit' : `visit, ${visit.name}`
  if (visit.state === 'booked') return `${who}: booked`
  if (visit.state === 'cancelled') return `${who}: cancelled${visit.reason === '' ? '' : `, ${visit.reason}`}`
  if (visit.state === 'could-not') return `${who}: could not${visit.reason === '' ? '' : `, ${visit.reason}`}`
  return visit.remarks === '' ? `${who}: done` : `${who}: ${visit.remarks}`
}

/** Invoices and credit notes to this household; drafts too. */
export async function invoicesOfSite(
  db: ReadDb,
  officeId: OfficeId,
  siteId: SiteId,
): Promise<HouseholdSheet['invoices']> {
  const rows = await db
    .selectFrom('invoices')
    .select(['id', 'kind', 'number_text', 'drafted_on', 'issued_on', 'currency', 'gross_cents'])
    .where('office_id', '=', officeId)
    .where('customer_id', 'in', (eb) =>
      eb.selectFrom('sites').select('customer_id').where('office_id', '=', officeId).where('id', '=', siteId),
    )
    .where((eb) => eb.or([eb('site_id', '=', siteId), eb('site_id', 'is', null)]))
    .orderBy('drafted_on', 'desc')
    .orderBy('id', 'desc')
    .limit(HISTORY_SHOWN)
    .execute()
  return rows.map((row) => ({
    invoiceId: row.id,
    kind: row.kind,
    number: row.number_text,
    on: row.issued_on ?? row.drafted_on,
    currency: row.currency,
    gross: row.gross_cents,
  }))
}

export async function eventsOfSite(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<HouseholdSheet['events']> {
  const rows = await db
    .selectFrom('events')
    .select(['id', 'happened_on', 'by_whom', 'sentence', 'details'])
    .where('office_id', '=', officeId)
    .where('site_id', '=', siteId)
    .orderBy('id', 'desc')
    .limit(HISTORY_SHOWN)
    .execute()
  return rows.map((row) => ({
    key: `event ${row.id}`,
    on: row.happened_on,
    by: row.by_whom,
    sentence: row.sentence,
    details: row.details,
  }))
}
