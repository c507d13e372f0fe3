import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { CustomerId, SiteId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'

export interface MailedHousehold {
  readonly customerId: CustomerId
  readonly siteId: SiteId
}

interface Wanted {
  readonly name?: string
  readonly reference: string
  readonly dueOn: string
  readonly street?: string
  readonly town?: string
  readonly postalCode?: string
  readonly noMail?: boolean
}

/** A household in the books with a unit of sediment filter, carbon filter and tank; the filters due on `dueOn`. */
export async function aMailedHousehold({ write }: OpenDatabase, wanted: Wanted): Promise<MailedHousehold> {
  const office_id = FIRST_OFFICE
  const name = wanted.name ?? 'Idris Bexhill-Moreno'
  const dueOn = calendarDate(wanted.dueOn)
  const { id: customerId } = await write
    .insertInto('customers')
    .values({
      office_id,
      reference: wanted.reference,
      kind: 'person',
      sort_name: name,
      letter_name: name,
      salutation: `Dear ${name}`,
      ...{
        phone: '555-0142',
        phone_note: '',
        email: '',
        mail_line1: '',
        mail_line2: '',
        mail_town: '',
        mail_region: '',
      },
      ...{ mail_postal_code: '', mail_country: '', no_mail: wanted.noMail ? 1 : 0, moved_on: null, note: '' },
      payment_terms_days: null,
      created_on: calendarDate('2021-05-01'),
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: siteId } = await write
    .insertInto('sites')
    .values({
      office_id,
      customer_id: customerId,
      ...{ line1: wanted.street ?? '7 Millrace Ct', line2: '', town: wanted.town ?? 'Tollard Mill', region: 'XX' },
      ...{ postal_code: wanted.postalCode ?? '00142', country: '', latitude: null, longitude: null, access_note: '' },
      ...{ water_source: 'mains', hardness_mg_l: null, feed_tds_mg_l: null, people: 2, daily_ml: null },
      due_on: dueOn,
      closed_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: partId } = await write
    .insertInto('parts')
    .values({
      office_id,
      ...{ number: `P-${wanted.reference}`, name: 'Sediment filter, 10 in', stage_kind: 'sediment', gtin: '' },
      ...{ price_cents: cents(2100), cost_cents: cents(900), rated_ml: null, shelf_months: null, fit_minutes: null },
      ...{ reorder_point: null, service_level_percent: null, note: '', closed_on: null },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const { id: installationId } = await write
    .insertInto('installations')
    .values({
      office_id,
      site_id: siteId,
      name: '',
      installed_on: calendarDate('2021-05-08'),
      ...{ removed_on: null, recovery_percent: null, people: null, daily_ml: null, interval_months: null, note: '' },
      due_on: dueOn,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const stages = [
    {
      kind: 'sediment' as const,
      part_id: partId,
      due_on: dueOn,
      due_rule: 'months',
      due_reason: '12 months, household of two',
    },
    {
      kind: 'carbon' as const,
      part_id: partId,
      due_on: dueOn,
      due_rule: 'months',
      due_reason: '12 months, household of two',
    },
    {
      kind: 'tank' as const,
      part_id: null,
      due_on: calendarDate('2027-09-01'),
      due_rule: 'sanitise',
      due_reason: 'sanitise, once a year',
    },
  ]
  for (const [index, stage] of stages.entries())
    await write
      .insertInto('stages')
      .values({
        office_id,
        installation_id: installationId,
        position: index + 1,
        label: '',
        fitted_on: calendarDate('2025-12-10'),
        ...{ fitted_lot_id: null, fitted_visit_id: null, interval_months: null, own_due_on: null, own_due_until: null },
        ...{ removed_on: null, earlier_fitted_on: null, earlier_part_id: null, earlier_lot_id: null },
        ...stage,
      })
      .execute()
  return { customerId, siteId }
}
