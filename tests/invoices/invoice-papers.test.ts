import { writeFileSync } from 'node:fs'
import { describe, expect, test } from 'vitest'
import { billVisits } from '../../core/invoices/bill-visit-answers.ts'
import type { InvoicePage } from '../../core/invoices/invoices-contract.ts'
import { aBilledHousehold, aRecordedVisit, hear } from '../builders/a-billed-household.ts'
import { type AnOffice, anOffice } from '../builders/an-office.ts'
import { databases } from '../data/each-database.ts'
import { wordsOnPages } from '../judges/words-on-pages.ts'

const sqlite = databases.filter((database) => database.name === 'SQLite')

/** Set to a folder to keep the papers and look at them. */
const KEEP = process.env.PENSTOCK_KEEP_PAPERS

async function paper(office: AnOffice, path: string): Promise<string[]> {
  const response = await office.handle(new Request(`http://office/papers/${path}`))
  expect(response.status, path).toBe(200)
  const bytes = new Uint8Array(await response.arrayBuffer())
  if (KEEP) writeFileSync(`${KEEP}/${path.split('?')[0]?.replaceAll('/', '-')}`, bytes)
  return wordsOnPages(bytes)
}

describe.each(sqlite)('papers of invoices', ({ open }) => {
  async function issued(parts = 1) {
    const office = await anOffice(await open())
    const household = await aBilledHousehold(office.database)
    const visit = await aRecordedVisit(office.database, household, [
      household.sediment,
      ...Array.from({ length: parts }, () => household.membrane),
    ])
    await hear(office, billVisits, { kind: 'visit-recorded', visit })
    const { rows } = (await office.ask('invoices/list', { pile: 'drafts' })).json as InvoicePage
    const draft = rows[0]
    if (!draft) throw new Error('no draft')
    return { office, household, draft }
  }

  test('INV-14 the invoice says number, buyer, lines, tax by rate, what is due, by when and how to pay', async () => {
    const { office, draft } = await issued()
    const [looked] = await paper(office, `invoices/draft-${draft.invoiceId}.pdf`)
    expect(looked).toContain('Invoice, draft')
    expect(await paper(office, 'invoices-of/2026-12-01.pdf?drafts=ready')).toEqual([looked])
    await office.ask('invoices/issue', { invoiceIds: [draft.invoiceId] })
    const pages = await paper(office, 'invoices/2026-00001.pdf')
    expect(pages).toHaveLength(1)
    for (const words of [
      'Larkmoor Water',
      'IDRIS BEXHILL-MORENO',
      'TOLLARD MILL XX 00142',
      'Invoice 2026-00001',
      'December 1, 2026',
      'Membrane, 75 gal/day',
      '86.40',
      'Together without tax',
      '168.40',
      'Tax 5.6 % on 168.40',
      '9.43',
      'To pay by December 15, 2026',
      '$177.83',
      'What was done',
      'How to pay',
      'page 1 of 1',
    ])
      expect(pages[0]).toContain(words)
    expect(await paper(office, 'invoices-of/2026-12-01.pdf')).toHaveLength(1)
  })

  test('INV-14 a long invoice goes on overleaf with what is carried over, and its amounts stand flush right', async () => {
    const { office, draft } = await issued(40)
    await office.ask('invoices/issue', { invoiceIds: [draft.invoiceId] })
    const pages = await paper(office, 'invoices/2026-00001.pdf')
    expect(pages.length).toBeGreaterThan(1)
    const onFirst = (pages[0]?.match(/86\.40 1|Membrane, 75 gal\/day/g) ?? []).filter((each) =>
      each.startsWith('Membrane'),
    ).length
    const carried = ((6400 + 1800 + onFirst * 8640) / 100).toLocaleString('en-US', { minimumFractionDigits: 2 })
    expect(pages[1]).toContain('carried over')
    expect(pages[1]).toContain(carried)
  })

  test('INV-14 a credit note names the invoice and the reason; PAY-6 the statement lists both with the balance', async () => {
    const { office, draft, household } = await issued()
    await office.ask('invoices/issue', { invoiceIds: [draft.invoiceId] })
    const note = (
      await office.ask('invoices/draftCreditNote', {
        invoiceId: draft.invoiceId,
        reason: 'The membrane came loose.',
        lines: [{ position: 3, quantity: 1000 }],
      })
    ).json as { invoiceId: number }
    await office.ask('invoices/issue', { invoiceIds: [note.invoiceId] })
    const [credit] = await paper(office, 'invoices/2026-00002.pdf')
    for (const words of [
      'Credit note 2026-00002 for invoice 2026-00001',
      'The membrane came loose.',
      'Given back to you',
      '$91.24',
    ])
      expect(credit).toContain(words)
    const [statement] = await paper(office, `statements/${household.customerId}.pdf`)
    for (const words of [
      'Statement of account',
      'Brought forward',
      'Invoice 2026-00001',
      'Credit note 2026-00002',
      'You owe',
      '86.59',
      'Not due yet',
    ])
      expect(statement).toContain(words)
  })

  test('INV-14 a number that nobody issued and a day without invoices are answered with a sentence', async () => {
    const { office } = await issued()
    const none = await office.handle(new Request('http://office/papers/invoices/2026-00099.pdf'))
    expect([none.status, await none.json()]).toMatchObject([422, { code: 'RECORD_GONE' }])
    const day = await office.handle(new Request('http://office/papers/invoices-of/2026-12-01.pdf'))
    expect([day.status, await day.json()]).toMatchObject([
      422,
      { sentence: 'No invoice was issued on December 1, 2026.' },
    ])
  })
})
