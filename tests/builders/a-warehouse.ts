import type { WriteDb } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { LotId, PartId, PlaceId, SiteId, SupplierId, TechnicianId, VanId, VisitId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { minutes, timeOfDay } from '../../core/units/time-of-day.ts'

const office_id = FIRST_OFFICE

export async function aPart(
  tx: WriteDb,
  number: string,
  own: { name?: string; perVisit?: number; shelfMonths?: number; vanPar?: number; space?: number } = {},
): Promise<PartId> {
  const row = {
    office_id,
    number,
    name: own.name ?? `Part ${number}`,
    stage_kind: null,
    gtin: '',
    price_cents: cents(1500),
    cost_cents: cents(600),
    rated_ml: null,
    shelf_months: own.shelfMonths ?? null,
    fit_minutes: null,
    per_visit_quantity: own.perVisit ?? 0,
    van_par: own.vanPar ?? 0,
    space_ml: own.space ?? null,
    reorder_point: null,
    service_level_percent: null,
    note: '',
    closed_on: null,
  }
  return (await tx.insertInto('parts').values(row).returning('id').executeTakeFirstOrThrow()).id
}

export async function aPlace(
  tx: WriteDb,
  code: string,
  walkOrder: number,
  kind: 'bin' | 'van' = 'bin',
): Promise<PlaceId> {
  const row = { office_id, kind, code, aisle: '', walk_order: walkOrder, closed_on: null }
  return (await tx.insertInto('places').values(row).returning('id').executeTakeFirstOrThrow()).id
}

/** A lot with so many pieces received into a place. */
export async function aLot(
  tx: WriteDb,
  lot: { partId: PartId; code: string; expiresOn?: string; placeId: PlaceId; pieces: number },
): Promise<LotId> {
  const { id } = await tx
    .insertInto('lots')
    .values({
      office_id,
      part_id: lot.partId,
      code: lot.code,
      expires_on: lot.expiresOn === undefined ? null : calendarDate(lot.expiresOn),
      received_on: calendarDate('2026-11-01'),
      cost_cents: cents(600),
      recalled_on: null,
      recall_note: '',
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  await tx
    .insertInto('movements')
    .values({
      office_id,
      part_id: lot.partId,
      lot_id: id,
      from_place_id: null,
      to_place_id: lot.placeId,
      quantity: lot.pieces,
      reason: 'receive',
      moved_on: calendarDate('2026-11-01'),
      moved_at: '2026-11-01T08:00:00.000Z',
      by_whom: 'test',
      note: '',
    })
    .execute()
  return id
}

export interface AVan {
  readonly vanId: VanId
  readonly placeId: PlaceId
  readonly technicianId: TechnicianId
}

/** A van that a technician of its own drives. */
export async function aVan(tx: WriteDb, name: string, driver: string): Promise<AVan> {
  const technician = {
    office_id,
    name: driver,
    short_name: driver,
    phone: '555-0130',
    workdays: '12345',
    starts_at: timeOfDay(480),
    ends_at: timeOfDay(1020),
    minutes_a_day: minutes(480),
    left_on: null,
  }
  const { id: technicianId } = await tx
    .insertInto('technicians')
    .values(technician)
    .returning('id')
    .executeTakeFirstOrThrow()
  const placeId = await aPlace(tx, name, 0, 'van')
  const van = { office_id, name, place_id: placeId, technician_id: technicianId, closed_on: null }
  const { id: vanId } = await tx.insertInto('vans').values(van).returning('id').executeTakeFirstOrThrow()
  return { vanId, placeId, technicianId }
}

export async function aHousehold(tx: WriteDb, name: string): Promise<SiteId> {
  const customer = {
    office_id,
    reference: name,
    kind: 'person' as const,
    sort_name: name,
    letter_name: name,
    salutation: '',
    phone: '555-0142',
    phone_note: '',
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
    created_on: calendarDate('2026-01-01'),
    closed_on: null,
  }
  const { id } = await tx.insertInto('customers').values(customer).returning('id').executeTakeFirstOrThrow()
  const site = {
    office_id,
    customer_id: id,
    line1: '18 Weirside Lane',
    line2: '',
    town: 'Tollard Mill',
    region: 'XX',
    postal_code: '00142',
    country: 'US',
    latitude: null,
    longitude: null,
    access_note: '',
    water_source: 'mains' as const,
    hardness_mg_l: null,
    feed_tds_mg_l: null,
    people: null,
    daily_ml: null,
    due_on: null,
    closed_on: null,
  }
  return (await tx.insertInto('sites').values(site).returning('id').executeTakeFirstOrThrow()).id
}

/** A visit booked for a day, with a task for each part it needs. */
export async function aBookedVisit(
  tx: WriteDb,
  visit: {
    siteId: SiteId
    technicianId: TechnicianId | null
    on: string
    from?: number
    needs: readonly (readonly [PartId, number])[]
  },
): Promise<VisitId> {
  const row = {
    office_id,
    site_id: visit.siteId,
    technician_id: visit.technicianId,
    visit_on: calendarDate(visit.on),
    window_from: timeOfDay(visit.from ?? 480),
    window_until: timeOfDay((visit.from ?? 480) + 120),
    planned_minutes: minutes(40),
    route_position: null,
    state: 'booked' as const,
    reason: '',
    note: '',
    done_on: null,
    remarks: '',
    booked_at: '2026-11-20T09:00:00.000Z',
    recorded_at: null,
    letter_id: null,
  }
  const { id } = await tx.insertInto('visits').values(row).returning('id').executeTakeFirstOrThrow()
  for (const [index, [partId, quantity]] of visit.needs.entries())
    await tx
      .insertInto('visit_tasks')
      .values({
        office_id,
        visit_id: id,
        kind: 'other',
        stage_id: null,
        part_id: partId,
        quantity,
        description: '',
        state: 'planned',
        fitted_part_id: null,
        fitted_lot_id: null,
        from_place_id: null,
        position: index + 1,
      })
      .execute()
  return id
}

/** A supplier with the parts it sells, five days of lead time. */
export async function aSupplier(
  tx: WriteDb,
  name: string,
  terms: readonly { partId: PartId; price: number; packSize: number }[],
): Promise<SupplierId> {
  const address = { line1: '', line2: '', town: '', region: '', postal_code: '', country: '', email: '' }
  const row = {
    office_id,
    name,
    account: '',
    ...address,
    phone: '555-0171',
    lead_time_days: 5,
    review_days: null,
    minimum_order_cents: cents(0),
    note: '',
    closed_on: null,
  }
  const { id } = await tx.insertInto('suppliers').values(row).returning('id').executeTakeFirstOrThrow()
  for (const { partId, price, packSize } of terms)
    await tx
      .insertInto('supplier_terms')
      .values({
        office_id,
        supplier_id: id,
        part_id: partId,
        supplier_number: '',
        price_cents: cents(price),
        pack_size: packSize,
        minimum_quantity: 0,
        preferred: 1,
      })
      .execute()
  return id
}

/** Pieces at every place, as "place: pieces". */
export async function held(tx: WriteDb): Promise<Record<string, number>> {
  const rows = await tx
    .selectFrom('balances as b')
    .innerJoin('places as p', 'p.id', 'b.place_id')
    .select(['p.code as code', 'b.quantity as quantity'])
    .where('b.quantity', '>', 0)
    .execute()
  const sums: Record<string, number> = {}
  for (const row of rows) sums[row.code] = (sums[row.code] ?? 0) + row.quantity
  return sums
}
