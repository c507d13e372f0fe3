import type { WriteDb } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { cents } from '../../core/units/money.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'

const office_id = FIRST_OFFICE
const none = { region: 'XX', country: 'US' }

/** A technician, Monday to Friday, 8 to 5, with a van. */
export async function aTechnicianWithVan(db: WriteDb, name = 'Ilse Rademaker') {
  const technician = await db
    .insertInto('technicians')
    .values({
      office_id,
      name,
      short_name: name.split(' ')[0] ?? name,
      phone: '555-0110',
      workdays: '12345',
      starts_at: timeOfDay(480),
      ends_at: timeOfDay(1020),
      minutes_a_day: minutes(480),
      left_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const place = await db
    .insertInto('places')
    .values({ office_id, kind: 'van', code: `Van of ${name}`, aisle: '', walk_order: 0, closed_on: null })
    .returning('id')
    .executeTakeFirstOrThrow()
  await db
    .insertInto('vans')
    .values({ office_id, name: `Van of ${name}`, place_id: place.id, technician_id: technician.id, closed_on: null })
    .execute()
  return { technicianId: technician.id, vanPlaceId: place.id }
}

/** A part with one lot of five pieces at a place. */
export async function aPartInStock(db: WriteDb, number: string, name: string, placeId: number, code = `${number}-a`) {
  const part = await db
    .insertInto('parts')
    .values({
      office_id,
      number,
      name,
      stage_kind: null,
      gtin: '',
      price_cents: cents(2500),
      cost_cents: cents(900),
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
  const lot = await aLot(db, part.id, code, placeId)
  return { partId: part.id, ...lot }
}

/** Five pieces of a lot at a place, put there by a movement. */
export async function aLot(db: WriteDb, partId: number, code: string, placeId: number) {
  const lot = await db
    .insertInto('lots')
    .values({
      office_id,
      part_id: partId as never,
      code,
      expires_on: calendarDate('2028-06-30'),
      received_on: calendarDate('2026-06-01'),
      cost_cents: cents(900),
      recalled_on: null,
      recall_note: '',
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  await db
    .insertInto('movements')
    .values({
      office_id,
      part_id: partId as never,
      lot_id: lot.id,
      from_place_id: null,
      to_place_id: placeId as never,
      quantity: 5,
      reason: 'receive',
      moved_on: calendarDate('2026-06-01'),
      moved_at: '2026-06-01T09:00:00.000Z',
      by_whom: 'the office',
      note: '',
    } as never)
    .execute()
  return { lotId: lot.id }
}

export interface HouseholdWanted {
  readonly reference?: string
  readonly name?: string
  readonly town?: string
  readonly parts: readonly {
    readonly kind: 'sediment' | 'carbon' | 'membrane' | 'tank'
    readonly partId: number | null
  }[]
  readonly latitude?: number | null
}

/** A household with one unit, every stage fitted on 2026-05-08 and due on 2026-11-09. */
export async function aServicedHousehold(db: WriteDb, wanted: HouseholdWanted) {
  const name = wanted.name ?? 'Abernathy-Vance, Corinne'
  const customer = await db
    .insertInto('customers')
    .values({
      office_id,
      reference: wanted.reference ?? 'AV-0118',
      kind: 'person',
      sort_name: name,
      letter_name: name,
      salutation: '',
      phone: '555-0142',
      phone_note: 'mornings',
      email: '',
      mail_line1: '',
      mail_line2: '',
      mail_town: '',
      mail_region: '',
      mail_postal_code: '',
      mail_country: '',
      moved_on: null,
      payment_terms_days: null,
      note: '',
      created_on: calendarDate('2021-05-01'),
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const site = await db
    .insertInto('sites')
    .values({
      ...none,
      office_id,
      customer_id: customer.id,
      line1: '18 Weirside Lane',
      line2: '',
      town: wanted.town ?? 'Tollard Mill',
      postal_code: '00142',
      latitude: wanted.latitude ?? null,
      longitude: wanted.latitude == null ? null : -93.2,
      access_note: 'side door; dog in the yard',
      water_source: 'mains',
      hardness_mg_l: null,
      feed_tds_mg_l: null,
      people: 6,
      daily_ml: null,
      due_on: calendarDate('2026-11-09'),
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const unit = await db
    .insertInto('installations')
    .values({
      office_id,
      site_id: site.id,
      name: 'Kitchen',
      installed_on: calendarDate('2021-05-08'),
      removed_on: null,
      recovery_percent: null,
      people: null,
      daily_ml: null,
      interval_months: null,
      due_on: calendarDate('2026-11-09'),
      note: '',
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const stageIds: number[] = []
  for (const [index, part] of wanted.parts.entries()) {
    const stage = await db
      .insertInto('stages')
      .values({
        office_id,
        installation_id: unit.id,
        position: index + 1,
        kind: part.kind,
        label: '',
        part_id: part.partId as never,
        fitted_on: calendarDate('2026-05-08'),
        fitted_lot_id: null,
        fitted_visit_id: null,
        interval_months: null,
        own_due_on: null,
        own_due_until: null,
        due_on: calendarDate('2026-11-09'),
        due_rule: 'months',
        due_reason: '6 months, family of six',
        removed_on: null,
        earlier_fitted_on: null,
        earlier_part_id: null,
        earlier_lot_id: null,
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    stageIds.push(stage.id)
  }
  return { siteId: site.id, customerId: customer.id, installationId: unit.id, stageIds }
}
