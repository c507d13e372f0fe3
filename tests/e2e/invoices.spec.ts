import type { OpenDatabase } from '../../core/database/handles.ts'
import { billVisits } from '../../core/invoices/bill-visit-answers.ts'
import type { Office } from '../../core/office.ts'
import { aBilledHousehold, aRecordedVisit, hear } from '../builders/a-billed-household.ts'
import { expect, test } from './office-fixture.ts'

/** Three visits of last week, each with its draft. */
async function threeDrafts(books: OpenDatabase, office: Office): Promise<void> {
  for (const name of ['Bexhill-Moreno, Idris', 'Galbraith, Ottoline', 'Ivanek, Rosalind']) {
    const household = await aBilledHousehold(books, { name })
    const visit = await aRecordedVisit(books, household, [household.sediment, household.membrane])
    await hear(office, billVisits, { kind: 'visit-recorded', visit })
  }
}

test.describe('three visits were recorded', () => {
  test.use({ books: async ({ baseURL: _ }, use) => use(threeDrafts), provokes: [/status of 422/] })

  test('drafts are looked at, edited, issued together, paid in part and credited', async ({
    page,
    opened,
    look,
    accessible,
  }) => {
    await page.goto(`${opened.origin}/#/invoices`)
    await expect(page.getByRole('heading', { name: '3 drafts to look at' })).toBeVisible()
    await accessible()
    await look('invoices-drafts')
    await page.getByText('Galbraith, Ottoline').click()
    await expect(page.getByRole('heading', { name: 'Invoice, draft' })).toBeVisible()
    const rate = page.getByLabel('Rate').first()
    await rate.fill('300')
    await page.getByRole('button', { name: 'Save the draft' }).click()
    await expect(page.getByText('Line 1 has a tax rate of 300 %')).toBeVisible()
    await look('invoices-draft-refused')
    await rate.fill('5.6')
    await page.getByLabel('Less, before tax').fill('10')
    await page.getByLabel('What for').fill('goodwill')
    await expect(page.locator('.invoice-foot')).toContainText('158.40')
    await page.getByRole('button', { name: 'Save the draft' }).click()
    await expect(page.getByText('The draft is saved.')).toBeVisible()
    await accessible()
    await look('invoices-draft')
    await page.keyboard.press('Escape')

    await page.getByRole('button', { name: 'Issue 3 invoices' }).click()
    await expect(page.getByRole('alertdialog')).toContainText('can no longer be changed')
    await page.getByRole('alertdialog').getByRole('button', { name: 'Issue 3 invoices' }).click()
    await expect(page.getByText('Issued 3, 2026-00001 to 2026-00003.')).toBeVisible()
    await expect(page.getByText('No draft waits to be looked at.')).toBeVisible()

    await page.goto(`${opened.origin}/#/invoices?pile=unpaid`)
    await expect(page.getByRole('heading', { name: '3 invoices not paid yet' })).toBeVisible()
    await look('invoices-unpaid')
    await page.getByText('2026-00002').click()
    await expect(page.getByRole('heading', { name: 'Invoice 2026-00002' })).toBeVisible()
    await page.getByRole('button', { name: 'Record a payment' }).click()
    await page.getByLabel('Amount').fill('200')
    await page.getByRole('button', { name: 'Record $200.00' }).click()
    await expect(page.getByText('of this payment would be left over')).toBeVisible()
    await look('invoices-payment-above')
    await page.getByLabel('Amount').fill('100')
    await page.getByRole('button', { name: 'Record $100.00' }).click()
    await expect(page.getByText('$100.00 recorded for 2026-00002.')).toBeVisible()
    await accessible()
    await look('invoices-issued')
    await page.getByRole('button', { name: 'Write a credit note' }).click()
    await page.getByLabel('Why').fill('the membrane came loose')
    await page.getByLabel('Give back of line 3').fill('1')
    await page.getByRole('button', { name: 'Draft it for 1 of 3 lines' }).click()
    await page.getByRole('button', { name: 'Issue the credit note' }).click()
    await page.getByRole('alertdialog').getByRole('button', { name: 'Issue 1 credit note' }).click()
    await expect(page.getByRole('heading', { name: 'Credit note 2026-00004' })).toBeVisible()
    await page.getByRole('button', { name: 'Open the account' }).click()
    await expect(page.getByRole('cell', { name: 'Credit note 2026-00004' })).toBeVisible()
    await accessible()
    await look('invoices-account')
  })

  test('what was typed on a draft is still there after another tray', async ({ page, opened }) => {
    await page.goto(`${opened.origin}/#/invoices`)
    await page.getByText('Ivanek, Rosalind').click()
    await page.getByLabel('Their reference').fill('order 77')
    await page.keyboard.press('Alt+1')
    await expect(page).toHaveURL(/#\/due/)
    await page.keyboard.press('Alt+6')
    await page.getByText('Ivanek, Rosalind').click()
    await expect(page.getByLabel('Their reference')).toHaveValue('order 77')
  })
})

test.describe('no visit yet', () => {
  test('every pile says why it is empty and what to do', async ({ page, opened, accessible, look }) => {
    await page.goto(`${opened.origin}/#/invoices`)
    await expect(page.getByText('No draft waits to be looked at.')).toBeVisible()
    await accessible()
    await look('invoices-empty')
    await page.goto(`${opened.origin}/#/invoices?pile=unpaid`)
    await expect(page.getByText('Nobody owes anything.')).toBeVisible()
  })
})
