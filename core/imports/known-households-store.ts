import type { ReadDb } from '../database/handles.ts'
import type { CustomerId, OfficeId, PartId } from '../units/ids.ts'
import type { KnownHousehold } from './find-likeness.ts'

/** Every household in the books, as far as a list is compared with it. */
export async function readKnownHouseholds(db: ReadDb, officeId: OfficeId): Promise<KnownHousehold[]> {
  const contacts = await contactsByCustomer(db, officeId)
  const rows = await db
    .selectFrom('sites')
    .innerJoin('customers', (join) =>
      join.onRef('customers.office_id', '=', 'sites.office_id').onRef('customers.id', '=', 'sites.customer_id'),
    )
    .select([
      'sites.id as siteId',
      'customers.id as customerId',
      'customers.reference',
      'customers.letter_name as letterName',
      'customers.sort_name as sortName',
      'customers.phone',
      'customers.email',
      'sites.line1',
      'sites.line2',
      'sites.town',
      'sites.postal_code as postalCode',
    ])
    .where('sites.office_id', '=', officeId)
    .where('sites.closed_on', 'is', null)
    .orderBy('sites.id')
    .execute()
  return rows.map(({ phone, email, ...row }) => {
    const more = contacts.get(row.customerId)
    return { ...row, phones: [phone, ...(more?.phones ?? [])], emails: [email, ...(more?.emails ?? [])] }
  })
}

async function contactsByCustomer(
  db: ReadDb,
  officeId: OfficeId,
): Promise<Map<CustomerId, { phones: string[]; emails: string[] }>> {
  const rows = await db
    .selectFrom('contacts')
    .select(['customer_id', 'phone', 'email'])
    .where('office_id', '=', officeId)
    .execute()
  const byCustomer = new Map<CustomerId, { phones: string[]; emails: string[] }>()
  for (const row of rows) {
    const there = byCustomer.get(row.customer_id) ?? { phones: [], emails: [] }
    byCustomer.set(row.customer_id, { phones: [...there.phones, row.phone], emails: [...there.emails, row.email] })
  }
  return byCustomer
}

/** Customer numbers that are given away, in small letters. */
export async function readReferences(db: ReadDb, officeId: OfficeId): Promise<Set<string>> {
  const rows = await db.selectFrom('customers').select('reference').where('office_id', '=', officeId).execute()
  return new Set(rows.map((row) => row.reference.toLowerCase()))
}

/** Parts of the catalogue by their number in small letters. */
export async function readPartNumbers(db: ReadDb, officeId: OfficeId): Promise<Map<string, PartId>> {
  const rows = await db.selectFrom('parts').select(['id', 'number']).where('office_id', '=', officeId).execute()
  return new Map(rows.map((row) => [row.number.toLowerCase(), row.id]))
}
