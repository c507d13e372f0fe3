import type { Page } from '@playwright/test'
import { expect, test } from './office-fixture.ts'

/** Once the frame stands, by its key. */
async function openDue(page: Page): Promise<void> {
  await expect(page.locator('.tray-count').first()).not.toBeEmpty()
  await page.keyboard.press('Alt+1')
  await expect(page.getByRole('grid', { name: 'Households that are due' })).toBeVisible()
}

test.describe('what is due in the demo office', () => {
  test.use({ books: 'demo' })

  test('the list says who is due, when and why; the household lies beside it', async ({ page, look, accessible }) => {
    await openDue(page)
    await expect(page.getByRole('heading', { name: /households are due within 4 weeks/ })).toBeVisible()
    await expect(page.locator('.data-table-row').first()).toBeVisible()
    await accessible()
    await look('due')
    await page.getByRole('grid', { name: 'Households that are due' }).focus()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    await expect(page.getByRole('heading', { name: 'Letters and visits' })).toBeVisible()
    await expect(page.getByRole('heading', { name: 'The visits to come' })).toBeVisible()
    await accessible()
    await look('due-household')
    await page.keyboard.press('Escape')
    await expect(page.getByRole('heading', { name: 'Letters and visits' })).toBeHidden()
  })

  test('Space chooses, L hands the chosen to the letters, B books the one in hand', async ({ page }) => {
    await openDue(page)
    await page.getByRole('grid', { name: 'Households that are due' }).focus()
    await page.keyboard.press('Space')
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Space')
    await expect(page.getByText('2 chosen')).toBeVisible()
    await expect(page.getByRole('button', { name: 'Write 2 letters' })).toBeEnabled()
    await page.keyboard.press('l')
    await expect(page).toHaveURL(/#\/letters\?households=/)
    await page.goBack()
    await expect(page.getByText('2 chosen')).toBeVisible()
    await page.getByRole('grid', { name: 'Households that are due' }).focus()
    await page.keyboard.press('Space')
    await page.keyboard.press('b')
    await expect(page).toHaveURL(/#\/bookings\?open=/)
  })

  test('the arrow and Enter pressed before the list has come are played when it is there', async ({ page }) => {
    let letGo = (): void => {}
    const held = new Promise<void>((resolve) => {
      letGo = resolve
    })
    await page.route(/\/rpc\/due\/list/, async (route) => {
      await held
      await route.continue()
    })
    await openDue(page)
    await page.getByRole('grid', { name: 'Households that are due' }).focus()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    // The head is a row as well: only the grid itself says that its list is still on its way.
    await expect(page.getByRole('grid', { name: 'Households that are due' })).toHaveAttribute('aria-busy', 'true')
    letGo()
    await expect(page).toHaveURL(/open=/)
    await expect(page.locator('.data-table-row[data-open]')).toHaveAttribute('aria-rowindex', '4')
  })

  test('the list is narrowed as one types and chooses, and stays so on another tray and back', async ({ page }) => {
    await openDue(page)
    await expect(page.locator('.data-table-row').first()).toBeVisible()
    await page.getByLabel('Search what is due').fill('nobody at all')
    await expect(page.getByText('No household fits all of this.')).toBeVisible()
    await page.keyboard.press('Alt+5')
    await openDue(page)
    await expect(page.getByLabel('Search what is due')).toHaveValue('nobody at all')
    await page.getByLabel('Search what is due').fill('')
    await page.getByRole('button', { name: /How far ahead/ }).click()
    await page.getByRole('option', { name: '13 weeks' }).click()
    await expect(page.getByRole('heading', { name: /due within 13 weeks/ })).toBeVisible()
  })
})
