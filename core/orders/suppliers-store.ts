import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import type { OfficeId, SupplierId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { SaveSupplier, SaveTerm, SupplierRow, TermRow } from './order-shapes.ts'

/** Suppliers by name, those no longer asked too. */
export async function listSuppliers(db: ReadDb, officeId: OfficeId): Promise<SupplierRow[]> {
  const rows = await db
    .selectFrom('suppliers')
    .select(['id as supplierId', 'name', 'account', 'line1', 'line2', 'town', 'region', 'postal_code as postalCode'])
    .select(['country', 'phone', 'email', 'lead_time_days as leadTimeDays', 'review_days as reviewDays'])
    .select(['minimum_order_cents as minimumOrder', 'note', 'closed_on', 'version'])
    .where('office_id', '=', officeId)
    .orderBy('name')
    .execute()
  return rows.map(({ closed_on, ...row }) => ({ ...row, closed: closed_on !== null }))
}

export async function findSupplier(
  db: ReadDb,
  officeId: OfficeId,
  supplierId: SupplierId,
): Promise<SupplierRow | null> {
  return (await listSuppliers(db, officeId)).find((each) => each.supplierId === supplierId) ?? null
}

type SupplierFields = Omit<SaveSupplier, 'supplierId' | 'version'>

const columnsOf = (supplier: SupplierFields, today: CalendarDate) => ({
  name: supplier.name,
  account: supplier.account,
  line1: supplier.line1,
  line2: supplier.line2,
  town: supplier.town,
  region: supplier.region,
  postal_code: supplier.postalCode,
  country: supplier.country,
  phone: supplier.phone,
  email: supplier.email,
  lead_time_days: supplier.leadTimeDays,
  review_days: supplier.reviewDays,
  minimum_order_cents: supplier.minimumOrder,
  note: supplier.note,
  closed_on: supplier.closed ? today : null,
})

export async function insertSupplier(
  tx: WriteDb,
  officeId: OfficeId,
  supplier: SupplierFields,
  today: CalendarDate,
): Promise<SupplierId> {
  const row = { office_id: officeId, ...columnsOf(supplier, today) }
  return (await tx.insertInto('suppliers').values(row).returning('id').executeTakeFirstOrThrow()).id
}

/** Saves a supplier when nobody saved it since; false otherwise. */
export async function updateSupplier(
  tx: WriteDb,
  officeId: OfficeId,
  key: { readonly supplierId: SupplierId; readonly version: number },
  supplier: SupplierFields,
  today: CalendarDate,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('suppliers')
    .set({ ...columnsOf(supplier, today), version: key.version + 1 })
    .where('office_id', '=', officeId)
    .where('id', '=', key.supplierId)
    .where('version', '=', key.version)
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

export interface TermWithTimes extends TermRow {
  readonly leadTimeDays: number
  readonly reviewDays: number | null
}

/** On what terms parts are sold, by suppliers still asked; breaks by quantity. */
export async function listTerms(db: ReadDb, officeId: OfficeId): Promise<TermWithTimes[]> {
  const rows = await db
    .selectFrom('supplier_terms as t')
    .innerJoin('suppliers as s', (join) =>
      join.onRef('s.office_id', '=', 't.office_id').onRef('s.id', '=', 't.supplier_id'),
    )
    .select(['t.id as termId', 't.supplier_id as supplierId', 't.part_id as partId', 's.name as supplier'])
    .select(['t.supplier_number as supplierNumber', 't.price_cents as price', 't.pack_size as packSize'])
    .select(['t.preferred as preferred', 't.minimum_quantity as minimumQuantity'])
    .select(['s.lead_time_days as leadTimeDays', 's.review_days as reviewDays'])
    .where('t.office_id', '=', officeId)
    .where('s.closed_on', 'is', null)
    .orderBy('t.part_id')
    .orderBy('t.preferred', 'desc')
    .orderBy('t.price_cents')
    .execute()
  const breaks = await breaksByTerm(db, officeId)
  return rows.map(({ termId, ...row }) => ({
    ...row,
    preferred: row.preferred === 1,
    breaks: breaks.get(termId) ?? [],
  }))
}

async function breaksByTerm(db: ReadDb, officeId: OfficeId): Promise<Map<number, { from: number; price: Cents }[]>> {
  const rows = await db
    .selectFrom('price_breaks')
    .select(['term_id', 'from_quantity as from', 'price_cents as price'])
    .where('office_id', '=', officeId)
    .orderBy('term_id')
    .orderBy('from_quantity')
    .execute()
  const found = new Map<number, { from: number; price: Cents }[]>()
  for (const { term_id, ...step } of rows) found.set(term_id, [...(found.get(term_id) ?? []), step])
  return found
}

/** Writes the terms of one supplier for one part with their breaks; the preferred one is preferred alone. */
export async function writeTerm(tx: WriteDb, officeId: OfficeId, term: SaveTerm): Promise<void> {
  if (term.preferred)
    await tx
      .updateTable('supplier_terms')
      .set({ preferred: 0 })
      .where('office_id', '=', officeId)
      .where('part_id', '=', term.partId)
      .execute()
  const columns = {
    supplier_number: term.supplierNumber,
    price_cents: term.price,
    pack_size: term.packSize,
    minimum_quantity: term.minimumQuantity,
    preferred: term.preferred ? (1 as const) : (0 as const),
  }
  const { id } = await tx
    .insertInto('supplier_terms')
    .values({ office_id: officeId, supplier_id: term.supplierId, part_id: term.partId, ...columns })
    .onConflict((conflict) => conflict.columns(['office_id', 'supplier_id', 'part_id']).doUpdateSet(columns))
    .returning('id')
    .executeTakeFirstOrThrow()
  await tx.deleteFrom('price_breaks').where('office_id', '=', officeId).where('term_id', '=', id).execute()
  if (term.breaks.length === 0) return
  await tx
    .insertInto('price_breaks')
    .values(
      term.breaks.map(({ from, price }) => ({
        office_id: officeId,
        term_id: id,
        from_quantity: from,
        price_cents: price,
      })),
    )
    .execute()
}
