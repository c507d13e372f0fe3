import type { OpenBooks } from '../../core/answering.ts'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import type { Happening, RecordedTask, RecordedVisit } from '../../core/happenings.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { CustomerId, PartId, SiteId } from '../../core/units/ids.ts'
import { visitTaskIdSchema } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'
import type { AnOffice } from './an-office.ts'

const office_id = FIRST_OFFICE

export interface BilledHousehold {
  readonly customerId: CustomerId
  readonly siteId: SiteId
  readonly sediment: PartId
  readonly membrane: PartId
}

let counter = 0

/** A household with two parts of the catalogue at 18.00 and 86.40; taxed unless told otherwise. */
export async function aBilledHousehold(
  database: OpenDatabase,
  own: { taxExempt?: boolean; name?: string } = {},
): Promise<BilledHousehold> {
  counter += 1
  const db = database.write
  const { id: customerId } = await db
    .insertInto('customers')
    .values({
      office_id,
      reference: `BM-${String(counter).padStart(4, '0')}`,
      kind: 'person',
      sort_name: own.name ?? 'Bexhill-Moreno, Idris',
      letter_name: own.name ?? 'Idris Bexhill-Moreno',
      salutation: '',
      phone: '555-0142',
      phone_note: '',
      email: '',
      mail_line1: '7 Millrace Ct',
      mail_line2: 'Apt 2',
      mail_town: 'Tollard Mill',
      mail_region: 'XX',
      mail_postal_code: '00142',
      mail_country: 'US',
      tax_exempt: own.taxExempt ? 1 : 0,
      payment_terms_days: null,
      moved_on: null,
      closed_on: null,
      note: '',
      created_on: calendarDate('2021-05-01'),
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: siteId } = await db
    .insertInto('sites')
    .values({
      office_id,
      customer_id: customerId,
      line1: '7 Millrace Ct',
      line2: 'Apt 2',
      town: 'Tollard Mill',
      region: 'XX',
      postal_code: '00142',
      country: 'US',
      latitude: null,
      longitude: null,
      access_note: '',
      water_source: 'mains',
      hardness_mg_l: null,
      feed_tds_mg_l: null,
      people: 2,
      daily_ml: null,
      due_on: null,
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const part = async (number: string, name: string, price: number): Promise<PartId> => {
    const { id } = await db
      .insertInto('parts')
      .values({
        office_id,
        number: `${number}-${counter}`,
        name,
        stage_kind: null,
        gtin: '',
        price_cents: cents(price),
        cost_cents: cents(0),
        rated_ml: null,
        shelf_months: null,
        fit_minutes: null,
        reorder_point: null,
        service_level_percent: null,
        note: '',
        closed_on: null,
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    return id
  }
  return {
    customerId,
    siteId,
    sediment: await part('P-1005', 'Sediment filter, 10 in, 5 µm', 1800),
    membrane: await part('P-2075', 'Membrane, 75 gal/day', 8640),
  }
}

/** A visit of Nov 24 in the books, recorded: one change a part. */
export async function aRecordedVisit(
  database: OpenDatabase,
  household: BilledHousehold,
  parts: readonly PartId[],
): Promise<RecordedVisit> {
  const doneOn = calendarDate('2026-11-24')
  const { id: visitId } = await database.write
    .insertInto('visits')
    .values({
      office_id,
      site_id: household.siteId,
      technician_id: null,
      visit_on: doneOn,
      window_from: timeOfDay(480),
      window_until: timeOfDay(600),
      planned_minutes: minutes(60),
      route_position: null,
      state: 'done',
      reason: '',
      note: '',
      done_on: doneOn,
      remarks: '',
      booked_at: '2026-11-01T09:00:00.000Z',
      recorded_at: '2026-11-24T15:00:00.000Z',
      letter_id: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return {
    visitId,
    siteId: household.siteId,
    customerId: household.customerId,
    technicianId: null,
    doneOn,
    outcome: 'done',
    sanitised: false,
    callFree: false,
    tasks: parts.map((partId, index) => changeOf(partId, index + 1)),
  }
}

export function changeOf(partId: PartId, place: number): RecordedTask {
  return {
    taskId: visitTaskIdSchema.parse(place),
    kind: 'change',
    done: true,
    stageId: null,
    partId,
    lotId: null,
    fromPlaceId: null,
    quantity: 1,
    description: `Part ${place} changed`,
    minutes: minutes(8),
    freeOfCharge: false,
  }
}

/** Lets a follow-up hear a happening, in a transaction of its own; throws when it refuses. */
export async function hear(
  office: Pick<AnOffice, 'desk'>,
  followUp: (books: OpenBooks, happening: Happening) => Promise<{ ok: boolean }>,
  happening: Happening,
): Promise<void> {
  const result = await office.desk().write(async (books) => {
    await followUp(books, happening)
    return { ok: true, value: undefined }
  })
  if (!result.ok) throw new Error(result.problem.sentence)
}
