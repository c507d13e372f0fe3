import { describe, expect, test } from 'vitest'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { refused } from '../../core/result.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import type { LotId, PartId, PlaceId } from '../../core/units/ids.ts'
import { cents } from '../../core/units/money.ts'
import { anOffice } from '../builders/an-office.ts'
import { databases } from './each-database.ts'

const office_id = FIRST_OFFICE

describe.each(databases)('the books on $name', ({ open }) => {
  test('an empty office says so, and can be founded once', async () => {
    const office = await anOffice(await open(), '2026-12-01', false)
    expect(await office.ask('office/state')).toMatchObject({
      status: 200,
      json: { founded: false, today: '2026-12-01' },
    })
    const address = {
      name: 'Larkmoor Water',
      line1: '4 Sluice Yard',
      line2: '',
      town: 'Tollard Mill',
      region: 'XX',
      postalCode: '00142',
      country: 'US',
      phone: '555-0100',
      email: 'office@larkmoor.example.com',
    }
    expect((await office.ask('office/found', address)).status).toBe(200)
    expect(await office.ask('office/found', address)).toMatchObject({
      status: 422,
      json: { data: { code: 'OFFICE_EXISTS' } },
    })
    expect(await office.ask('office/state')).toMatchObject({
      json: { founded: true, address: { name: 'Larkmoor Water' }, settings: { callOutCents: 6400 } },
    })
  })

  test('a refusal takes everything back', async () => {
    const office = await anOffice(await open())
    const result = await office.desk().write(async (books) => {
      await books.record({ subjectKind: 'office', subjectId: 1, verb: 'tried', sentence: 'tried' })
      return refused('WORK_STOPPED')
    })
    expect(result).toMatchObject({ ok: false, problem: { code: 'WORK_STOPPED' } })
    expect(await office.database.write.selectFrom('events').select('id').execute()).toEqual([])
  })

  test('stock follows the movements, is never below zero, and movements never change', async () => {
    const office = await anOffice(await open())
    const { tx, partId, lotId, bin, van } = await aShelf(office.database.write)
    const move = (from: PlaceId | null, to: PlaceId | null, quantity: number) =>
      tx
        .insertInto('movements')
        .values({
          office_id,
          part_id: partId,
          lot_id: lotId,
          from_place_id: from,
          to_place_id: to,
          quantity,
          reason: 'move',
          moved_on: calendarDate('2026-12-01'),
          moved_at: '2026-12-01T08:00:00.000Z',
          by_whom: 'test',
          note: '',
        })
        .execute()
    await move(null, bin, 10)
    await move(bin, van, 4)
    const held = await tx.selectFrom('balances').select(['place_id', 'quantity']).orderBy('place_id').execute()
    expect(held).toEqual([
      { place_id: bin, quantity: 6 },
      { place_id: van, quantity: 4 },
    ])
    await expect(move(van, null, 5)).rejects.toThrow(/stock_not_below_zero/)
    await expect(tx.updateTable('movements').set({ quantity: 99 }).execute()).rejects.toThrow(/never changes/)
    await expect(tx.deleteFrom('movements').execute()).rejects.toThrow(/never changes/)
  })

  test('an issued invoice and its lines never change', async () => {
    const office = await anOffice(await open())
    const db = office.database.write
    const customer = await db
      .insertInto('customers')
      .values({
        office_id,
        reference: 'BM-1',
        kind: 'person',
        sort_name: 'Bexhill, Idris',
        letter_name: 'Idris Bexhill',
        salutation: 'Dear Idris Bexhill,',
        phone: '',
        phone_note: '',
        email: '',
        mail_line1: '',
        mail_line2: '',
        mail_town: '',
        mail_region: '',
        mail_postal_code: '',
        mail_country: '',
        note: '',
        created_on: calendarDate('2026-01-01'),
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    const none = cents(0)
    const invoice = await db
      .insertInto('invoices')
      .values({
        office_id,
        kind: 'invoice',
        state: 'draft',
        customer_id: customer.id,
        currency: 'USD',
        drafted_on: calendarDate('2026-12-01'),
        buyer_address: '',
        buyer_reference: '',
        note: '',
        line_net_cents: none,
        allowance_cents: none,
        charge_cents: none,
        net_cents: none,
        tax_cents: none,
        gross_cents: none,
        due_cents: none,
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    const line = {
      office_id,
      invoice_id: invoice.id,
      position: 1,
      description: 'The call',
      quantity_thousandths: 1000,
      unit: 'each',
      unit_price_e4: 640000,
      net_cents: cents(6400),
      tax_category: 'standard' as const,
      tax_rate: 5600 as never,
    }
    await db.insertInto('invoice_lines').values(line).execute()
    await db
      .updateTable('invoices')
      .set({ state: 'issued', number: 1, year: 2026, number_text: '2026-00001', issued_on: calendarDate('2026-12-01') })
      .execute()
    await expect(db.updateTable('invoices').set({ note: 'x' }).execute()).rejects.toThrow(/never changes/)
    await expect(db.deleteFrom('invoices').execute()).rejects.toThrow(/never changes/)
    await expect(db.updateTable('invoice_lines').set({ description: 'x' }).execute()).rejects.toThrow(/never changes/)
    await expect(db.deleteFrom('invoice_lines').execute()).rejects.toThrow(/never changes/)
    await expect(
      db
        .insertInto('invoice_lines')
        .values({ ...line, position: 2 })
        .execute(),
    ).rejects.toThrow(/never changes/)
  })

  test('the schema types name exactly the columns of the migrated books', async () => {
    const { write, close } = await open()
    const tables = await write.introspection.getTables()
    const found = tables
      .filter((table) => !table.isView && !table.name.startsWith('site_search_index'))
      .flatMap((table) => table.columns.map((column) => `${table.name}.${column.name}`))
      .sort()
    expect(found).toEqual(await columnsOfSchemaFile())
    await close()
  })

  async function aShelf(tx: Awaited<ReturnType<typeof open>>['write']) {
    const part = await tx
      .insertInto('parts')
      .values({
        office_id,
        number: 'P-1005',
        name: 'Sediment filter',
        stage_kind: 'sediment',
        gtin: '',
        price_cents: cents(1200),
        cost_cents: cents(400),
        note: '',
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    const lot = await tx
      .insertInto('lots')
      .values({
        office_id,
        part_id: part.id,
        code: '2608-114',
        received_on: calendarDate('2026-08-01'),
        cost_cents: cents(400),
        recall_note: '',
      })
      .returning('id')
      .executeTakeFirstOrThrow()
    const place = async (kind: 'bin' | 'van', code: string) =>
      (
        await tx
          .insertInto('places')
          .values({ office_id, kind, code, aisle: 'A', walk_order: 1 })
          .returning('id')
          .executeTakeFirstOrThrow()
      ).id
    const partId: PartId = part.id
    const lotId: LotId = lot.id
    return { tx, partId, lotId, bin: await place('bin', 'A-02-1'), van: await place('van', 'van 1') }
  }
})

/** Table and column names as core/database/schema.ts writes them. */
async function columnsOfSchemaFile(): Promise<string[]> {
  const { readFile } = await import('node:fs/promises')
  const text = await readFile(new URL('../../core/database/schema.ts', import.meta.url), 'utf8')
  const interfaces = new Map(
    [...text.matchAll(/export interface (\w+Table) \{\n([^}]*)\}/g)].map((match) => [match[1] ?? '', match[2] ?? '']),
  )
  const tables = [...(/OfficeTables \{\n([^}]*)\}/.exec(text)?.[1]?.matchAll(/(\w+): (\w+)/g) ?? [])]
  return tables
    .flatMap((table) =>
      [...(interfaces.get(table[2] ?? '') ?? '').matchAll(/^\s*(\w+):/gm)].map((column) => `${table[1]}.${column[1]}`),
    )
    .sort()
}
