import type { ReadDb } from '../database/handles.ts'
import type { CustomerId, OfficeId, PartId, SiteId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { BuyerFacts } from './buyer-address.ts'

/** Who is billed, and on what terms. */
export interface Buyer extends BuyerFacts {
  readonly customerId: CustomerId
  readonly sortName: string
  readonly reference: string
  readonly taxExempt: boolean
  /** Null: the office's own. */
  readonly paymentTermsDays: number | null
  /** Where the water is; empty when the invoice belongs to no site. */
  readonly siteTown: string
}

/** The customer as an invoice addresses them: to their own mailing address, or to the site when they have none of their own. */
export async function findBuyer(
  db: ReadDb,
  officeId: OfficeId,
  customerId: CustomerId,
  siteId: SiteId | null,
): Promise<Buyer | null> {
  const customer = await db
    .selectFrom('customers')
    .select([
      'id',
      'sort_name',
      'letter_name',
      'reference',
      'tax_exempt',
      'payment_terms_days',
      'mail_elsewhere',
      'mail_line1',
      'mail_line2',
      'mail_town',
      'mail_region',
      'mail_postal_code',
      'mail_country',
    ])
    .where('office_id', '=', officeId)
    .where('id', '=', customerId)
    .executeTakeFirst()
  if (!customer) return null
  let sites = db
    .selectFrom('sites')
    .select(['line1', 'line2', 'town', 'region', 'postal_code', 'country'])
    .where('office_id', '=', officeId)
    .where('customer_id', '=', customerId)
    .orderBy('id')
    .limit(1)
  if (siteId !== null) sites = sites.where('id', '=', siteId)
  const site = await sites.executeTakeFirst()
  const office = await db.selectFrom('offices').select('country').where('id', '=', officeId).executeTakeFirst()
  const ownMail = customer.mail_elsewhere === 1 || customer.mail_line1 !== '' || !site
  const [line1, line2, town, region, postalCode, country] = ownMail
    ? [
        customer.mail_line1,
        customer.mail_line2,
        customer.mail_town,
        customer.mail_region,
        customer.mail_postal_code,
        customer.mail_country,
      ]
    : [site.line1, site.line2, site.town, site.region, site.postal_code, site.country]
  return {
    customerId: customer.id,
    sortName: customer.sort_name,
    reference: customer.reference,
    letterName: customer.letter_name || customer.sort_name,
    line1,
    line2,
    town,
    region,
    postalCode,
    country: country === (office?.country ?? '') ? '' : country,
    taxExempt: customer.tax_exempt === 1,
    paymentTermsDays: customer.payment_terms_days,
    siteTown: site?.town ?? '',
  }
}

export interface PricedPart {
  readonly partId: PartId
  readonly number: string
  readonly name: string
  readonly price: Cents
  readonly taxFree: boolean
}

/** Parts by key, with what they cost the customer today. */
export async function pricedParts(
  db: ReadDb,
  officeId: OfficeId,
  partIds: readonly PartId[],
): Promise<ReadonlyMap<PartId, PricedPart>> {
  if (partIds.length === 0) return new Map()
  const rows = await db
    .selectFrom('parts')
    .select(['id', 'number', 'name', 'price_cents', 'tax_free'])
    .where('office_id', '=', officeId)
    .where('id', 'in', [...partIds])
    .execute()
  return new Map(
    rows.map((row) => [
      row.id,
      { partId: row.id, number: row.number, name: row.name, price: row.price_cents, taxFree: row.tax_free === 1 },
    ]),
  )
}

/** Whose site it is; null when it is not in the books. */
export async function findSiteOwner(db: ReadDb, officeId: OfficeId, siteId: SiteId): Promise<CustomerId | null> {
  const row = await db
    .selectFrom('sites')
    .select('customer_id')
    .where('office_id', '=', officeId)
    .where('id', '=', siteId)
    .executeTakeFirst()
  return row?.customer_id ?? null
}
