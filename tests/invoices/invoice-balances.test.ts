import { sql } from 'kysely'
import { describe, expect, test } from 'vitest'
import { billVisits } from '../../core/invoices/bill-visit-answers.ts'
import type { InvoicePage } from '../../core/invoices/invoices-contract.ts'
import { aBilledHousehold, aRecordedVisit, hear } from '../builders/a-billed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

/** The judge: what is open on each issued invoice, summed up from the invoice, its credit notes and its payments. */
async function summedUp({ database }: AnOffice): Promise<Map<number, number>> {
  const { rows } = await sql<{ id: number; open: number }>`select i.id, i.gross_cents + i.rounding_cents
      - coalesce((select sum(s.amount_cents) from payment_shares s where s.invoice_id = i.id), 0)
      - coalesce((select sum(n.gross_cents + n.rounding_cents) from invoices n where n.corrects_id = i.id and n.state = 'issued'), 0) as open
    from invoices i where i.kind = 'invoice' and i.state = 'issued'`.execute(database.write)
  return new Map(rows.map((row) => [Number(row.id), Number(row.open)]))
}

async function kept({ database }: AnOffice): Promise<Map<number, number>> {
  const rows = await database.read.selectFrom('invoice_balances').select(['invoice_id', 'open_cents']).execute()
  return new Map(rows.map((row) => [row.invoice_id, Number(row.open_cents)]))
}

describe.each(databases)('what is open, kept beside each invoice, on $name', ({ open }) => {
  test('PAY-7 it is the sum of what happened, after every kind of happening', async () => {
    const office = await anOffice(await open())
    const household = await aBilledHousehold(office.database)
    for (let count = 0; count < 3; count += 1) {
      const visit = await aRecordedVisit(office.database, household, [household.sediment, household.membrane])
      await hear(office, billVisits, { kind: 'visit-recorded', visit })
    }
    const { rows } = (await office.ask('invoices/list', { pile: 'drafts' })).json as InvoicePage
    const [first, second, third] = rows.map((row) => row.invoiceId)
    const step = async (path: string, input: object): Promise<Record<string, number>> => {
      const { status, json } = await office.ask(path, input)
      expect(status, JSON.stringify(json)).toBe(200)
      expect(await kept(office)).toEqual(await summedUp(office))
      return json as Record<string, number>
    }
    const pay = {
      customerId: household.customerId,
      invoiceId: null,
      receivedOn: '2026-12-01',
      method: 'cheque',
      note: '',
    }
    await step('invoices/issue', { invoiceIds: [first, second] })
    await step('invoices/recordPayment', { ...pay, amount: 20_000, keepRest: false })
    const { paymentId } = await step('invoices/recordPayment', { ...pay, amount: 18_000, keepRest: true })
    const note = await step('invoices/draftCreditNote', { invoiceId: first, reason: 'loose', lines: null })
    await step('invoices/issue', { invoiceIds: [note.invoiceId] })
    await step('invoices/issue', { invoiceIds: [third] })
    await step('invoices/undoPayment', { paymentId, reason: 'the cheque bounced' })
    expect((await kept(office)).size).toBe(3)
  })
})

test('PAY-7 the piles are read along their own indexes, and no payment is summed up for them', async () => {
  const sqlite = databases.find(({ name }) => name === 'SQLite')
  if (!sqlite) throw new Error('No SQLite among the databases')
  const { database } = await anOffice(await sqlite.open())
  const plan = async (condition: string, order: string): Promise<string> => {
    const { rows } = await sql<{ detail: string }>`${sql.raw(
      `explain query plan select pile.invoice_id from invoice_balances as pile where pile.office_id = 1 and ${condition} order by ${order} limit 101`,
    )}`.execute(database.write)
    return rows.map((row) => row.detail).join('; ')
  }
  const unpaid = await plan('pile.open_cents > 0 and pile.invoice_id < 5000', 'pile.invoice_id desc')
  expect(unpaid).toContain('invoice_balances_unpaid')
  const byAge = await plan('pile.open_cents > 0', 'pile.due_on, pile.invoice_id')
  expect(byAge).toContain('invoice_balances_by_age')
  const paid = await plan('pile.open_cents <= 0 and pile.invoice_id < 5000', 'pile.invoice_id desc')
  expect(paid).toContain('invoice_balances_paid')
  for (const each of [unpaid, paid]) expect(each).not.toContain('TEMP B-TREE')
})
