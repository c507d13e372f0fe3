import type { Locator, Page } from '@playwright/test'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { aPlace } from '../builders/a-warehouse.ts'
import { expect, test } from './office-fixture.ts'

/** Two households that are due for a filter that lies in the warehouse; one technician with a van. */
async function twoWhoAreDue({ write }: OpenDatabase): Promise<void> {
  await aTechnicianWithVan(write)
  const bin = await aPlace(write, 'A-02-1', 10)
  const { partId } = await aPartInStock(write, 'P-1005', 'Sediment filter, 10 in', bin)
  const parts = [{ kind: 'sediment', partId }] as const
  await aServicedHousehold(write, { parts })
  await aServicedHousehold(write, { reference: 'BM-0417', name: 'Bexhill-Moreno, Idris', parts })
}

/** Presses Tab until the keyboard is there. Nobody presses it more often than this. */
async function tabTo(page: Page, wanted: Locator): Promise<void> {
  await expect(wanted).toBeVisible()
  const isThere = (): Promise<boolean> => wanted.evaluate((element) => element === document.activeElement)
  for (let presses = 0; presses < 80 && !(await isThere()); presses += 1) await page.keyboard.press('Tab')
  await expect(wanted).toBeFocused()
}

async function press(page: Page, wanted: Locator): Promise<void> {
  await expect(wanted).toBeEnabled()
  await tabTo(page, wanted)
  await page.keyboard.press('Enter')
}

async function type(page: Page, wanted: Locator, text: string): Promise<void> {
  await tabTo(page, wanted)
  await page.keyboard.press('ControlOrMeta+a')
  await page.keyboard.type(text)
  await page.keyboard.press('Tab')
}

test.describe.configure({ timeout: 120_000 })
// A function would be taken for a fixture of its own: it is handed on by one.
test.use({ books: async ({ baseURL: _ }, use) => use(twoWhoAreDue) })

test('from the desk to the invoice without a mouse', async ({ page }) => {
  const button = (name: string | RegExp): Locator => page.getByRole('button', { name })
  await press(page, page.getByRole('link', { name: /^Look through 2 households/ }))

  await tabTo(page, page.getByRole('grid', { name: 'Households that are due' }))
  await page.keyboard.press('Space')
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Space')
  await expect(page.getByText('2 chosen')).toBeVisible()
  await page.keyboard.press('l')

  await expect(page).toHaveURL(/#\/letters/)
  await press(page, button('Write 2 letters'))
  await expect(page.getByText('2 letters written.')).toBeVisible()

  await page.keyboard.press('Alt+3')
  await tabTo(page, page.getByRole('grid', { name: 'Households that wait for a booking' }))
  await page.keyboard.press('Home')
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: 'Book Abernathy-Vance, Corinne' })).toBeVisible()
  await press(page, button(/Wednesday, Dec 2/).first())
  await type(page, page.getByRole('textbox', { name: 'Day' }), '12/1')
  await press(page, button(/^Book Tuesday/))
  await expect(page.getByText(/^Booked/)).toBeVisible()

  await page.keyboard.press('Alt+4')
  await type(page, page.getByRole('textbox', { name: 'Day' }), '12/1')
  await press(page, button('Begin pulling 1 piece'))
  await tabTo(page, page.getByRole('checkbox', { name: /Sediment filter/ }))
  await page.keyboard.press('Space')
  await expect(page.getByText(/1 of 1 pieces? pulled/)).toBeVisible()
  await press(page, button(/^Put 1 piece on/))
  await expect(page.getByText(/^1 piece put on/).first()).toBeVisible()

  await page.keyboard.press('Alt+5')
  await press(page, button(/Abernathy-Vance, Corinne/))
  await press(page, button('Record this visit'))
  await expect(page.getByRole('checkbox', { name: 'Changed sediment' })).toBeChecked()
  await press(page, button('Record this visit'))
  await expect(page.getByText(/changed: Sediment filter, 10 in/)).toBeVisible()

  await page.keyboard.press('Alt+6')
  await tabTo(page, page.getByRole('grid', { name: /^Invoices/ }))
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: 'Invoice, draft' })).toBeVisible()
  await press(page, button('Issue 1 invoice').last())
  await expect(page.getByRole('alertdialog')).toBeVisible()
  await press(page, page.getByRole('alertdialog').getByRole('button', { name: 'Issue 1 invoice' }))
  await expect(page.getByRole('heading', { name: 'Invoice 2026-00001' })).toBeVisible()
})
