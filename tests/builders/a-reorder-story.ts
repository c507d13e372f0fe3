import type { OpenDatabase } from '../../core/database/handles.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import type { CustomerId, PartId, SiteId, SupplierId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { aMailedHousehold } from './a-mailed-household.ts'
import { aBookedVisit, aLot, aPart, aPlace, aSupplier, aVan } from './a-warehouse.ts'

const office_id = FIRST_OFFICE

/** A run of first letters to these households on one day. */
async function lettersTo(
  { write }: OpenDatabase,
  homes: readonly { readonly customerId: CustomerId; readonly siteId: SiteId }[],
  on: string,
): Promise<void> {
  const writtenOn = calendarDate(on)
  const at = { written_on: writtenOn, written_at: `${on}T09:00:00.000Z` }
  const { id: run_id } = await write
    .insertInto('letter_runs')
    .values({
      office_id,
      name: `run of ${on}`,
      ...at,
      by_whom: 'test',
      letters: homes.length,
      page_size: 'letter',
      window_envelope: 'us-10',
      ...{ taken_back_at: null, taken_back_reason: '', sender_name: null, sender_particulars: null },
      ...{ sender_line: null, locale: null },
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  const blank = { reference: '', address: '', salutation: '', subject: '', body: '', answer: '', cautions: '' }
  const money = { currency: 'USD', net_cents: cents(0), tax_cents: cents(0), total_cents: cents(0) }
  for (const [index, { customerId, siteId }] of homes.entries())
    await write
      .insertInto('letters')
      .values({
        office_id,
        run_id,
        customer_id: customerId,
        site_id: siteId,
        kind: 'first',
        written_on: writtenOn,
        due_on: addDays(writtenOn, 30),
        position: index + 1,
        ...blank,
        ...money,
      })
      .execute()
}

/**
 * A sediment filter that forty households will need: six of them are booked, twelve have had a letter for nine days, the rest are due
 * later. A year ago all forty had a letter, and twenty-six of them booked within a month. Four filters are there, three of which expire
 * tomorrow; two of a pack are late. Sold in packs of 6 at 9.00, from 48 on at 8.00.
 */
export async function aReorderStory(books: OpenDatabase): Promise<PartId> {
  const { write: tx } = books
  const partId = await aPart(tx, 'P-1005', { name: 'Sediment filter, 10 in', shelfMonths: 36 })
  const bin = await aPlace(tx, 'A-01-2', 10)
  await aLot(tx, { partId, code: '2312-004', expiresOn: '2026-12-02', placeId: bin, pieces: 3 })
  await aLot(tx, { partId, code: '2606-011', expiresOn: '2029-06-30', placeId: bin, pieces: 1 })
  const supplierId = await aSupplier(tx, 'Orrin Supply', [{ partId, price: 900, packSize: 6 }])
  const term = await tx.selectFrom('supplier_terms').select('id').executeTakeFirstOrThrow()
  await tx
    .insertInto('price_breaks')
    .values({ office_id, term_id: term.id, from_quantity: 48, price_cents: cents(800) })
    .execute()
  const homes = []
  for (let n = 0; n < 40; n += 1)
    homes.push(
      await aMailedHousehold(books, { reference: `H-${n}`, dueOn: addDays(calendarDate('2026-11-24'), n * 2) }),
    )
  // One part for all, one stage a home: the carbon filters have none.
  await tx.updateTable('stages').set({ part_id: null }).where('kind', '=', 'carbon').execute()
  await tx.updateTable('stages').set({ part_id: partId }).where('kind', '=', 'sediment').execute()
  await lettersTo(books, homes, '2025-11-20')
  const { technicianId } = await aVan(tx, 'van 1', 'Ilse R.')
  for (const [n, { siteId }] of homes.slice(0, 26).entries()) {
    const bookedOn = addDays(calendarDate('2025-11-22'), n)
    const visitId = await aBookedVisit(tx, { siteId, technicianId, on: addDays(bookedOn, 9), needs: [] })
    const done = { state: 'done' as const, done_on: addDays(bookedOn, 9), booked_at: `${bookedOn}T10:00:00.000Z` }
    await tx.updateTable('visits').set(done).where('id', '=', visitId).execute()
  }
  await lettersTo(books, homes.slice(6, 18), '2026-11-22')
  for (const [n, { siteId }] of homes.slice(0, 6).entries())
    await aBookedVisit(tx, { siteId, technicianId, on: addDays(calendarDate('2026-12-02'), n), needs: [[partId, 1]] })
  await aLateOrder(books, { supplierId, partId })
  return partId
}

async function aLateOrder(
  { write: tx }: OpenDatabase,
  order: { readonly supplierId: SupplierId; readonly partId: PartId },
): Promise<void> {
  const { id: order_id } = await tx
    .insertInto('purchase_orders')
    .values({
      office_id,
      supplier_id: order.supplierId,
      number: 'PO-2026-0001',
      state: 'sent',
      drafted_on: calendarDate('2026-11-12'),
      sent_on: calendarDate('2026-11-12'),
      expected_on: calendarDate('2026-11-20'),
      note: '',
      cancelled_on: null,
    })
    .returning('id')
    .executeTakeFirstOrThrow()
  await tx
    .insertInto('purchase_order_lines')
    .values({
      office_id,
      order_id,
      part_id: order.partId,
      position: 1,
      quantity: 6,
      received_quantity: 4,
      price_cents: cents(900),
      reason: '',
    })
    .execute()
}
