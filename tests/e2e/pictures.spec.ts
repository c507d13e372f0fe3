import { expect, test } from './office-fixture.ts'

// The pictures of README.md: PENSTOCK_SHOTS=dist/pictures npx playwright test pictures, then copy what changed to assets/pictures.
test.describe('the pictures of the guide, taken in the demo office', () => {
  test.describe.configure({ timeout: 180_000 })
  test.use({ books: 'demo', today: '2026-12-01' })

  test('due households with one opened beside them', async ({ page, look }) => {
    await expect(page.locator('.tray-count').first()).not.toBeEmpty()
    await look('picture-desk')
    await page.keyboard.press('Alt+1')
    await expect(page.locator('.data-table-row').first()).toBeVisible()
    await page.getByRole('grid', { name: 'Households that are due' }).focus()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    await expect(page.getByRole('heading', { name: 'Letters and visits' })).toBeVisible()
    await look('picture-due')
  })

  test('the letters owed, the pull for tomorrow and the week', async ({ page, look }) => {
    await expect(page.locator('.tray-count').first()).not.toBeEmpty()
    await page.keyboard.press('Alt+2')
    await expect(page).toHaveURL(/#\/letters/)
    await expect(page.locator('.data-table-row').first()).toBeVisible()
    await page.keyboard.press('ArrowDown')
    await look('picture-letters')
    await page.keyboard.press('Alt+4')
    await expect(page.getByRole('heading', { name: /^Pull for / })).toBeVisible()
    await look('picture-pull')
    await page.keyboard.press('Alt+5')
    await expect(page).toHaveURL(/#\/visits/)
    await expect(page.getByText('Ilse Ravndal').or(page.getByText('Ilse R.')).first()).toBeVisible()
    await look('picture-visits')
  })
})
