import type { ReadDb, WriteDb } from '../database/handles.ts'
import type { OfficeId, PartId, SupplierId } from '../units/ids.ts'
import type { Cents } from '../units/money.ts'
import type { SupplierRow, TermRow } from './orders-contract.ts'

/** Suppliers by name, those no longer asked last. */
export async function listSuppliers(db: ReadDb, officeId: OfficeId): Promise<SupplierRow[]> {
  const rows = await db
    .selectFrom('suppliers')
    .select(['id as supplierId', 'name', 'phone', 'email', 'lead_time_days as leadTimeDays'])
    .select(['review_days as reviewDays', 'minimum_order_cents as minimumOrder', 'closed_on', 'version'])
    .where('office_id', '=', officeId)
    .orderBy('name')
    .execute()
  return rows.map(({ closed_on, ...row }) => ({ ...row, closed: closed_on !== null }))
}

type SupplierFields = Pick<SupplierRow, 'name' | 'phone' | 'email' | 'leadTimeDays' | 'reviewDays' | 'minimumOrder'>

const columnsOf = (supplier: SupplierFields) => ({
  name: supplier.name,
  phone: supplier.phone,
  email: supplier.email,
  lead_time_days: supplier.leadTimeDays,
  review_days: supplier.reviewDays,
  minimum_order_cents: supplier.minimumOrder,
})

export async function insertSupplier(tx: WriteDb, officeId: OfficeId, supplier: SupplierFields): Promise<SupplierId> {
  const address = { account: '', line1: '', line2: '', town: '', region: '', postal_code: '', country: '', note: '' }
  const row = { office_id: officeId, ...address, ...columnsOf(supplier), closed_on: null }
  return (await tx.insertInto('suppliers').values(row).returning('id').executeTakeFirstOrThrow()).id
}

/** Saves a supplier when nobody saved it since; false otherwise. */
export async function updateSupplier(
  tx: WriteDb,
  officeId: OfficeId,
  supplierId: SupplierId,
  version: number,
  supplier: SupplierFields,
): Promise<boolean> {
  const { numUpdatedRows } = await tx
    .updateTable('suppliers')
    .set({ ...columnsOf(supplier), version: version + 1 })
    .where('office_id', '=', officeId)
    .where('id', '=', supplierId)
    .where('version', '=', version)
    .executeTakeFirst()
  return numUpdatedRows === 1n
}

export interface TermWithTimes extends TermRow {
  readonly leadTimeDays: number
  readonly reviewDays: number | null
}

/** On what terms parts are sold, by suppliers still asked. */
export async function listTerms(db: ReadDb, officeId: OfficeId): Promise<TermWithTimes[]> {
  const rows = await db
    .selectFrom('supplier_terms as t')
    .innerJoin('suppliers as s', (join) =>
      join.onRef('s.office_id', '=', 't.office_id').onRef('s.id', '=', 't.supplier_id'),
    )
    .select(['t.supplier_id as supplierId', 't.part_id as partId', 's.name as supplier', 't.preferred as preferred'])
    .select(['t.supplier_number as supplierNumber', 't.price_cents as price', 't.pack_size as packSize'])
    .select([
      't.minimum_quantity as minimumQuantity',
      's.lead_time_days as leadTimeDays',
      's.review_days as reviewDays',
    ])
    .where('t.office_id', '=', officeId)
    .where('s.closed_on', 'is', null)
    .orderBy('t.part_id')
    .orderBy('t.preferred', 'desc')
    .orderBy('t.price_cents')
    .execute()
  return rows.map((row) => ({ ...row, preferred: row.preferred === 1 }))
}

/** Writes the terms of one supplier for one part; the preferred one is preferred alone. */
export async function writeTerm(
  tx: WriteDb,
  officeId: OfficeId,
  term: {
    supplierId: SupplierId
    partId: PartId
    supplierNumber: string
    price: Cents
    packSize: number
    minimumQuantity: number
    preferred: boolean
  },
): Promise<void> {
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
  await tx
    .insertInto('supplier_terms')
    .values({ office_id: officeId, supplier_id: term.supplierId, part_id: term.partId, ...columns })
    .onConflict((conflict) => conflict.columns(['office_id', 'supplier_id', 'part_id']).doUpdateSet(columns))
    .execute()
}
