import { describe, expect, test } from 'vitest'
import { searchFollowUp } from '../../core/customers/households-answers.ts'
import { billVisits } from '../../core/invoices/bill-visit-answers.ts'
import { gapsInNumbers } from '../../core/invoices/invoice-number.ts'
import type { Account, InvoicePage, InvoiceSheet } from '../../core/invoices/invoices-contract.ts'
import { checkStored, issueDraft } from '../../core/invoices/issue-answers.ts'
import { findInvoice } from '../../core/invoices/one-invoice-store.ts'
import { refused } from '../../core/result.ts'
import { readSettings } from '../../core/settings/settings-store.ts'
import { type InvoiceId, invoiceIdSchema } from '../../core/units/ids.ts'
import { aBilledHousehold, aRecordedVisit, changeOf, hear } from '../builders/a-billed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'

const drafts = async (office: AnOffice) =>
  ((await office.ask('invoices/list', { pile: 'drafts' })).json as InvoicePage).rows
const sheet = async (office: AnOffice, invoiceId: number) =>
  (await office.ask('invoices/open', { invoiceId })).json as InvoiceSheet
const account = async (office: AnOffice, customerId: number) =>
  (await office.ask('invoices/account', { customerId })).json as Account
const refusal = (code: string) => ({ status: 422, json: { data: { code } } })

/** An office with one recorded visit: call 64.00, sediment filter 18.00, membrane 86.40 at 5.6 %: 177.83 with tax. */
async function withDraft(open: (typeof databases)[number]['open'], own: Parameters<typeof aBilledHousehold>[1] = {}) {
  const office = await anOffice(await open())
  const household = await aBilledHousehold(office.database, own)
  const visit = await aRecordedVisit(office.database, household, [household.sediment, household.membrane])
  await hear(office, billVisits, { kind: 'visit-recorded', visit })
  const [draft] = await drafts(office)
  if (!draft) throw new Error('no draft')
  return { office, household, visit, draft }
}
const issue = (office: AnOffice, ...invoiceIds: number[]) => office.ask('invoices/issue', { invoiceIds })
const pay = (office: AnOffice, customerId: number, amount: number, more: object = {}) =>
  office.ask('invoices/recordPayment', {
    customerId,
    invoiceId: null,
    amount,
    receivedOn: '2026-12-01',
    method: 'cheque',
    note: '',
    keepRest: false,
    ...more,
  })

describe.each(databases)('invoices on $name', ({ open }) => {
  test('INV-5 a recorded visit leaves a draft ready, once', async () => {
    const { office, visit, draft } = await withDraft(open)
    expect(draft).toMatchObject({
      kind: 'invoice',
      total: 17783,
      lines: 3,
      town: 'Tollard Mill',
      suppliedOn: '2026-11-24',
    })
    await hear(office, billVisits, { kind: 'visit-recorded', visit })
    expect(await drafts(office)).toHaveLength(1)
    const opened = await sheet(office, draft.invoiceId)
    expect(opened.totals).toMatchObject({ withoutTax: 16840, tax: 943, withTax: 17783 })
    expect(opened.buyerAddress).toBe('Idris Bexhill-Moreno\n7 Millrace Ct\nApt 2\nTollard Mill XX 00142')
  })

  test('INV-8 while it is a draft, it follows a corrected visit; a visit that charges nothing any more drops it', async () => {
    const { office, visit, household, draft } = await withDraft(open)
    const after = { ...visit, tasks: [changeOf(household.sediment, 1)] }
    await hear(office, billVisits, { kind: 'visit-corrected', before: visit, after })
    expect((await sheet(office, draft.invoiceId)).totals.withoutTax).toBe(8200)
    await hear(office, billVisits, {
      kind: 'visit-corrected',
      before: after,
      after: { ...after, outcome: 'could-not' },
    })
    expect(await drafts(office)).toEqual([])
  })

  test('INV-8 once it is issued, a corrected visit lays ready a credit note and a new draft, and changes nothing that went out', async () => {
    const { office, visit, household, draft } = await withDraft(open)
    await issue(office, draft.invoiceId)
    await hear(office, billVisits, { kind: 'visit-corrected', before: visit, after: visit })
    expect(await drafts(office)).toEqual([])
    const after = { ...visit, tasks: [changeOf(household.sediment, 1)] }
    await hear(office, billVisits, { kind: 'visit-corrected', before: visit, after })
    const laid = await drafts(office)
    expect(laid.map((row) => [row.kind, row.total, row.corrects])).toEqual([
      ['credit-note', 17783, '2026-00001'],
      ['invoice', 8659, ''],
    ])
    expect((await sheet(office, draft.invoiceId)).totals.due).toBe(17783)
    await issue(office, ...laid.map((row) => row.invoiceId))
    expect(await account(office, household.customerId)).toMatchObject({ balance: 8659, credit: 0 })
  })

  test('INV-9 INV-15 an issued invoice never changes, nor does the name it was written to', async () => {
    const { office, household, draft } = await withDraft(open)
    expect(await issue(office, draft.invoiceId)).toMatchObject({
      status: 200,
      json: { issued: [{ number: '2026-00001' }] },
    })
    await office.database.write
      .updateTable('customers')
      .set({ letter_name: 'Someone Else' })
      .where('id', '=', household.customerId)
      .execute()
    const before = await sheet(office, draft.invoiceId)
    expect(before).toMatchObject({ state: 'issued', issuedOn: '2026-12-01', payBy: '2026-12-15' })
    expect(before.buyerAddress).toContain('Idris Bexhill-Moreno')
    const edit = {
      invoiceId: draft.invoiceId,
      version: before.version,
      draft: { lines: [], allowance: 0, allowanceReason: '', note: '', buyerReference: '' },
    }
    expect(await office.ask('invoices/saveDraft', edit)).toMatchObject(refusal('INVOICE_ISSUED'))
    expect(await office.ask('invoices/dropDraft', edit)).toMatchObject(refusal('INVOICE_ISSUED'))
    expect(await issue(office, draft.invoiceId)).toMatchObject(refusal('INVOICE_ISSUED'))
    const db = office.database.write
    await expect(db.updateTable('invoices').set({ note: 'x' }).execute()).rejects.toThrow(/never changes/)
    await expect(db.deleteFrom('invoice_lines').execute()).rejects.toThrow(/never changes/)
    await expect(db.updateTable('invoice_taxes').set({ tax_cents: before.totals.tax }).execute()).rejects.toThrow(
      /never changes/,
    )
    expect(await sheet(office, draft.invoiceId)).toEqual(before)
  })

  test('INV-13 a draft is edited and reckoned again; a stale save and a bad line are refused', async () => {
    const { office, draft } = await withDraft(open)
    const { lines, version } = await sheet(office, draft.invoiceId)
    const edited = lines.map(({ position: _, net: __, charge: ___, ...line }) => line)
    const save = (change: object, seen = version) =>
      office.ask('invoices/saveDraft', {
        invoiceId: draft.invoiceId,
        version: seen,
        draft: {
          lines: edited,
          allowance: 1000,
          allowanceReason: 'neighbours',
          note: 'n',
          buyerReference: 'PO 7',
          ...change,
        },
      })
    expect(await save({})).toMatchObject({ status: 200, json: { version: version + 1 } })
    expect((await sheet(office, draft.invoiceId)).totals).toMatchObject({
      allowances: 1000,
      withoutTax: 15840,
      tax: 887,
    })
    expect(await save({})).toMatchObject(refusal('RECORD_CHANGED'))
    expect(await save({ lines: [{ ...edited[0], rate: 300_000 }] }, version + 1)).toMatchObject(
      refusal('INVOICE_TAX_RATE_OUTSIDE'),
    )
    expect(await save({ lines: [{ ...edited[0], quantity: -1000 }] }, version + 1)).toMatchObject(
      refusal('INVOICE_QUANTITY_NOT_ABOVE_ZERO'),
    )
  })

  test('INV-11 an empty draft is not issued, and takes no number', async () => {
    const { office, household, draft } = await withDraft(open)
    const begun = (await office.ask('invoices/startDraft', { siteId: household.siteId })).json as {
      invoiceId: InvoiceId
    }
    expect(await issue(office, draft.invoiceId, begun.invoiceId)).toMatchObject(refusal('INVOICE_EMPTY'))
    expect((await sheet(office, draft.invoiceId)).state).toBe('draft')
    await office.ask('invoices/dropDraft', { invoiceId: begun.invoiceId, version: 1 })
    expect(await issue(office, draft.invoiceId)).toMatchObject({ json: { issued: [{ number: '2026-00001' }] } })
  })

  test('INV-4 numbers have no gap and no double: twenty writers at once, and an issue that was taken back', async () => {
    const office = await anOffice(await open())
    const household = await aBilledHousehold(office.database)
    for (let count = 0; count < 20; count += 1) {
      const visit = await aRecordedVisit(office.database, household, [household.sediment])
      await hear(office, billVisits, { kind: 'visit-recorded', visit })
    }
    const ids = (await drafts(office)).map((row) => row.invoiceId)
    const back = await office.desk().write(async (books) => {
      await issueDraft(books, await readSettings(books.read, books.officeId), invoiceIdSchema.parse(ids[0]))
      return refused('WORK_STOPPED')
    })
    expect(back.ok).toBe(false)
    const all = await Promise.all(ids.map((id) => issue(office, id)))
    expect(all.every((each) => each.status === 200)).toBe(true)
    const rows = await office.database.read.selectFrom('invoices').select('number').execute()
    expect(gapsInNumbers(rows.flatMap((row) => row.number ?? []))).toEqual({ missing: [], doubled: [] })
    expect(rows).toHaveLength(20)
  })

  test('INV-2 what stands in the books of an issued invoice passes the judge', async () => {
    const { office, draft } = await withDraft(open, { taxExempt: true })
    await issue(office, draft.invoiceId)
    const desk = office.desk()
    const stored = await findInvoice(desk.read, desk.officeId, draft.invoiceId)
    expect(stored && checkStored(stored)).toEqual([])
    expect(stored?.totals).toMatchObject({ tax: 0, due: 16840 })
  })

  test('INV-10 credit notes by line and then for the rest give back the invoice, and not a piece more', async () => {
    const { office, draft, household } = await withDraft(open)
    const credit = (lines: { position: number; quantity: number }[] | null) =>
      office.ask('invoices/draftCreditNote', { invoiceId: draft.invoiceId, reason: 'came loose', lines })
    expect(await credit(null)).toMatchObject(refusal('INVOICE_NOT_ISSUED'))
    await issue(office, draft.invoiceId)
    expect(await credit([{ position: 3, quantity: 2000 }])).toMatchObject(refusal('CREDIT_ABOVE_INVOICED'))
    expect(await credit([])).toMatchObject(refusal('CREDIT_NOTHING_CHOSEN'))
    const byLine = (await credit([{ position: 3, quantity: 1000 }])).json as { invoiceId: InvoiceId }
    const rest = (await credit(null)).json as { invoiceId: InvoiceId }
    await issue(office, byLine.invoiceId)
    // The second was drafted for the whole before the first went out: it would give the membrane back twice.
    expect(await issue(office, rest.invoiceId)).toMatchObject(refusal('CREDIT_ABOVE_INVOICED'))
    await office.ask('invoices/dropDraft', { invoiceId: rest.invoiceId, version: 1 })
    const last = (await credit(null)).json as { invoiceId: InvoiceId }
    expect(await issue(office, last.invoiceId)).toMatchObject({ json: { issued: [{ number: '2026-00003' }] } })
    expect(await credit(null)).toMatchObject(refusal('CREDIT_NOTHING_LEFT'))
    expect(await account(office, household.customerId)).toMatchObject({ balance: 0, credit: 0, open: [] })
  })

  test('PAY-2 PAY-4 a part payment leaves the rest open; undone by a counter-entry it is owed again', async () => {
    const { office, draft, household } = await withDraft(open)
    await issue(office, draft.invoiceId)
    expect(await pay(office, household.customerId, 0)).toMatchObject(refusal('PAYMENT_NOT_ABOVE_ZERO'))
    expect(await pay(office, household.customerId, 500, { receivedOn: '2026-12-02' })).toMatchObject(
      refusal('PAYMENT_IN_FUTURE'),
    )
    const paid = (await pay(office, household.customerId, 10000)).json as { paymentId: number; paid: unknown }
    expect(paid.paid).toEqual([{ number: '2026-00001', amount: 10000, left: 7783 }])
    expect((await sheet(office, draft.invoiceId)).open).toBe(7783)
    expect((await office.ask('invoices/undoPayment', { paymentId: paid.paymentId, reason: 'bounced' })).status).toBe(
      200,
    )
    expect(await office.ask('invoices/undoPayment', { paymentId: paid.paymentId, reason: '' })).toMatchObject(
      refusal('PAYMENT_UNDONE'),
    )
    const after = await sheet(office, draft.invoiceId)
    expect(after).toMatchObject({ open: 17783, payments: [{ undone: true }] })
    expect((await account(office, household.customerId)).lines.map((line) => [line.kind, line.balance])).toEqual([
      ['invoice', 17783],
      ['payment', 7783],
      ['payment-undone', 17783],
    ])
    await expect(office.database.write.deleteFrom('payments').execute()).rejects.toThrow(/never changes/)
  })

  test('PAY-3 a payment above what is owed is said first; kept, it pays the next invoice', async () => {
    const { office, draft, household } = await withDraft(open)
    await issue(office, draft.invoiceId)
    expect(await pay(office, household.customerId, 20000)).toMatchObject({
      status: 422,
      json: {
        data: {
          code: 'PAYMENT_ABOVE_OWED',
          sentence: 'Bexhill-Moreno, Idris owes $177.83; $22.17 of this payment would be left over.',
        },
      },
    })
    expect(await pay(office, household.customerId, 20000, { keepRest: true })).toMatchObject({ json: { credit: 2217 } })
    const visit = await aRecordedVisit(office.database, household, [household.sediment])
    await hear(office, billVisits, { kind: 'visit-recorded', visit })
    const [next] = await drafts(office)
    await issue(office, next?.invoiceId ?? 0)
    expect(await sheet(office, next?.invoiceId ?? 0)).toMatchObject({
      totals: { withTax: 8659, prepaid: 2217, due: 6442 },
      open: 6442,
    })
    expect(await account(office, household.customerId)).toMatchObject({ balance: 6442, credit: 0 })
  })

  test('PAY-3 money on an invoice that is credited later becomes credit', async () => {
    const { office, draft, household } = await withDraft(open)
    await issue(office, draft.invoiceId)
    await pay(office, household.customerId, 17783)
    const note = (
      await office.ask('invoices/draftCreditNote', {
        invoiceId: draft.invoiceId,
        reason: '',
        lines: [{ position: 2, quantity: 1000 }],
      })
    ).json as { invoiceId: InvoiceId }
    await issue(office, note.invoiceId)
    expect(await account(office, household.customerId)).toMatchObject({ balance: -1901, credit: 1901, open: [] })
  })

  test('PAY-5 who has not paid, by age, and who has', async () => {
    const { office, draft, household } = await withDraft(open)
    await issue(office, draft.invoiceId)
    await hear(office, searchFollowUp, { kind: 'sites-changed', siteIds: [household.siteId] })
    const unpaid = async (search: string) =>
      ((await office.ask('invoices/list', { pile: 'unpaid', search })).json as InvoicePage).rows
    expect(await unpaid('bexhill tollard')).toMatchObject([{ open: 17783 }])
    expect(await unpaid('2026-00001')).toHaveLength(1)
    expect(await unpaid('00002')).toEqual([])
    expect((await office.ask('invoices/sums')).json).toMatchObject({
      drafts: 0,
      lastDraft: null,
      unpaid: 1,
      ages: { current: 17783 },
    })
    expect(
      ((await office.ask('invoices/list', { pile: 'unpaid', search: 'nobody%' })).json as InvoicePage).rows,
    ).toEqual([])
    await pay(office, household.customerId, 17783)
    expect(((await office.ask('invoices/list', { pile: 'unpaid' })).json as InvoicePage).rows).toEqual([])
    expect(((await office.ask('invoices/list', { pile: 'paid' })).json as InvoicePage).rows).toHaveLength(1)
  })
})
