import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { ContactId, CustomerId, OfficeId, SiteId } from '../units/ids.ts'
import type { ContactFields, CustomerFields, SiteFields } from './customers-contract.ts'

/** A household's customer and site as the books have them. */
export interface Household {
  readonly siteId: SiteId
  readonly customerId: CustomerId
  readonly reference: string
  readonly closedOn: CalendarDate | null
  readonly movedOn: CalendarDate | null
  readonly customer: CustomerFields
  readonly site: SiteFields
}

export async function findHousehold(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<Household | null> {
  const row = await db
    .selectFrom('sites as t')
    .innerJoin('customers as c', (join) =>
      join.onRef('c.id', '=', 't.customer_id').onRef('c.office_id', '=', 't.office_id'),
    )
    .select([
      't.id',
      't.customer_id',
      't.line1',
      't.line2',
      't.town',
      't.region',
      't.postal_code',
      't.country',
      't.access_note',
      't.water_source',
      't.hardness_mg_l',
      't.feed_tds_mg_l',
      't.people',
      't.daily_ml',
      't.months_away',
      't.closed_on',
      'c.reference',
      'c.kind',
      'c.sort_name',
      'c.letter_name',
      'c.salutation',
      'c.phone',
      'c.phone_note',
      'c.email',
      'c.mail_elsewhere',
      'c.mail_line1',
      'c.mail_line2',
      'c.mail_town',
      'c.mail_region',
      'c.mail_postal_code',
      'c.mail_country',
      'c.no_mail',
      'c.moved_on',
      'c.tax_exempt',
      'c.payment_terms_days',
      'c.note',
    ])
    .where('t.office_id', '=', officeId)
    .where('t.id', '=', siteId)
    .executeTakeFirst()
  if (!row) return null
  return {
    siteId: row.id,
    customerId: row.customer_id,
    reference: row.reference,
    closedOn: row.closed_on,
    movedOn: row.moved_on,
    customer: {
      kind: row.kind,
      sortName: row.sort_name,
      letterName: row.letter_name,
      salutation: row.salutation,
      phone: row.phone,
      phoneNote: row.phone_note,
      email: row.email,
      mailElsewhere: row.mail_elsewhere === 1,
      mailLine1: row.mail_line1,
      mailLine2: row.mail_line2,
      mailTown: row.mail_town,
      mailRegion: row.mail_region,
      mailPostalCode: row.mail_postal_code,
      mailCountry: row.mail_country,
      noMail: row.no_mail === 1,
      taxExempt: row.tax_exempt === 1,
      paymentTermsDays: row.payment_terms_days,
      note: row.note,
    },
    site: {
      line1: row.line1,
      line2: row.line2,
      town: row.town,
      region: row.region,
      postalCode: row.postal_code,
      country: row.country,
      accessNote: row.access_note,
      waterSource: row.water_source,
      hardness: row.hardness_mg_l,
      feedTds: row.feed_tds_mg_l,
      people: row.people,
      drunkPerDay: row.daily_ml,
      monthsAway: row.months_away,
    },
  }
}

function customerColumns(fields: CustomerFields) {
  return {
    kind: fields.kind,
    sort_name: fields.sortName,
    letter_name: fields.letterName,
    salutation: fields.salutation,
    phone: fields.phone,
    phone_note: fields.phoneNote,
    email: fields.email,
    mail_elsewhere: fields.mailElsewhere ? (1 as const) : (0 as const),
    mail_line1: fields.mailLine1,
    mail_line2: fields.mailLine2,
    mail_town: fields.mailTown,
    mail_region: fields.mailRegion,
    mail_postal_code: fields.mailPostalCode,
    mail_country: fields.mailCountry,
    no_mail: fields.noMail ? (1 as const) : (0 as const),
    tax_exempt: fields.taxExempt ? (1 as const) : (0 as const),
    payment_terms_days: fields.paymentTermsDays,
    note: fields.note,
  }
}

function siteColumns(fields: SiteFields) {
  return {
    line1: fields.line1,
    line2: fields.line2,
    town: fields.town,
    region: fields.region,
    postal_code: fields.postalCode,
    country: fields.country,
    access_note: fields.accessNote,
    water_source: fields.waterSource,
    hardness_mg_l: fields.hardness,
    feed_tds_mg_l: fields.feedTds,
    people: fields.people,
    daily_ml: fields.drunkPerDay,
    months_away: fields.monthsAway,
  }
}

/** A new customer under a passing reference; `setReference` gives the lasting one, made from the id. */
export async function insertCustomer(
  tx: WriteDb,
  officeId: OfficeId,
  fields: CustomerFields,
  today: CalendarDate,
): Promise<CustomerId> {
  const { id } = await tx
    .insertInto('customers')
    .values({
      ...customerColumns(fields),
      office_id: officeId,
      reference: `new ${fields.sortName} ${today}`,
      created_on: today,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

export async function setReference(
  tx: WriteDb,
  officeId: OfficeId,
  customerId: CustomerId,
  reference: string,
): Promise<void> {
  await tx
    .updateTable('customers')
    .set({ reference })
    .where('office_id', '=', officeId)
    .where('id', '=', customerId)
    .execute()
}

export async function insertSite(
  tx: WriteDb,
  officeId: OfficeId,
  customerId: CustomerId,
  fields: SiteFields,
): Promise<SiteId> {
  const { id } = await tx
    .insertInto('sites')
    .values({ ...siteColumns(fields), office_id: officeId, customer_id: customerId })
    .returning('id')
    .executeTakeFirstOrThrow()
  return id
}

export async function updateCustomer(
  tx: WriteDb,
  officeId: OfficeId,
  customerId: CustomerId,
  fields: CustomerFields,
): Promise<void> {
  await tx
    .updateTable('customers')
    .set((eb) => ({ ...customerColumns(fields), version: eb('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', customerId)
    .execute()
}

export async function updateSite(tx: WriteDb, officeId: OfficeId, siteId: SiteId, fields: SiteFields): Promise<void> {
  await tx
    .updateTable('sites')
    .set((eb) => ({ ...siteColumns(fields), version: eb('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .execute()
}

export async function setSiteClosed(
  tx: WriteDb,
  officeId: OfficeId,
  siteId: SiteId,
  closedOn: CalendarDate | null,
): Promise<void> {
  await tx
    .updateTable('sites')
    .set((eb) => ({ closed_on: closedOn, version: eb('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .execute()
}

export async function setCustomerMoved(
  tx: WriteDb,
  officeId: OfficeId,
  customerId: CustomerId,
  movedOn: CalendarDate | null,
): Promise<void> {
  await tx
    .updateTable('customers')
    .set((eb) => ({ moved_on: movedOn, version: eb('version', '+', 1) }))
    .where('office_id', '=', officeId)
    .where('id', '=', customerId)
    .execute()
}

export async function listContacts(
  db: ReadDb,
  officeId: OfficeId,
  customerId: CustomerId,
): Promise<(ContactFields & { contactId: ContactId })[]> {
  const rows = await db
    .selectFrom('contacts')
    .select(['id as contactId', 'name', 'role', 'phone', 'email', 'note'])
    .where('office_id', '=', officeId)
    .where('customer_id', '=', customerId)
    .orderBy('name')
    .execute()
  return rows
}

/** Writes a contact, new when `contactId` is null. Null when it is no longer in the books. */
export async function putContact(
  tx: WriteDb,
  officeId: OfficeId,
  customerId: CustomerId,
  contactId: ContactId | null,
  fields: ContactFields,
): Promise<ContactId | null> {
  const row =
    contactId === null
      ? await tx
          .insertInto('contacts')
          .values({ ...fields, office_id: officeId, customer_id: customerId })
          .returning('id')
          .executeTakeFirst()
      : await tx
          .updateTable('contacts')
          .set((eb) => ({ ...fields, version: eb('version', '+', 1) }))
          .where('office_id', '=', officeId)
          .where('customer_id', '=', customerId)
          .where('id', '=', contactId)
          .returning('id')
          .executeTakeFirst()
  return row?.id ?? null
}

export async function deleteContact(
  tx: WriteDb,
  officeId: OfficeId,
  customerId: CustomerId,
  contactId: ContactId,
): Promise<void> {
  await tx
    .deleteFrom('contacts')
    .where('office_id', '=', officeId)
    .where('customer_id', '=', customerId)
    .where('id', '=', contactId)
    .execute()
}

export async function siteIdsOfCustomer(db: ReadDb, officeId: OfficeId, customerId: CustomerId): Promise<SiteId[]> {
  const rows = await db
    .selectFrom('sites')
    .select('id')
    .where('office_id', '=', officeId)
    .where('customer_id', '=', customerId)
    .execute()
  return rows.map((row) => row.id)
}
