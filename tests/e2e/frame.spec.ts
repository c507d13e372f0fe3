import { expect, test } from './office-fixture.ts'

test.describe('an office with its five years', () => {
  // The five years are written first.
  test.describe.configure({ timeout: 180_000 })
  test.use({ books: 'demo' })

  test('the desk names the next action of every tray and looks half a year ahead', async ({
    page,
    look,
    accessible,
  }) => {
    await expect(page.getByRole('heading', { name: 'What to do next' })).toBeVisible()
    await expect(page.locator('.next-action')).toHaveCount(7)
    await expect(page.getByRole('img', { name: /What falls due and what is booked/ })).toBeVisible()
    await expect(page.locator('.tray-count').first()).not.toBeEmpty()
    await accessible()
    await look('desk')
  })

  test('Alt and a figure lead to the trays, and the search finds a household as one types', async ({ page, look }) => {
    await expect(page.locator('.tray-count').first()).not.toBeEmpty()
    await page.keyboard.press('Alt+5')
    await expect(page).toHaveURL(/#\/visits/)
    await page.keyboard.press('Alt+0')
    await expect(page).toHaveURL(/#\/$/)
    await page.keyboard.press('/')
    await page.keyboard.type('mill')
    await expect(page.locator('.found-line').first()).toBeVisible()
    await look('find-anything')
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    await expect(page).toHaveURL(/open=/)
  })
})

test.describe('an office without households', () => {
  test.use({ books: 'empty' })

  test('every tray says why it is empty', async ({ page, look, accessible }) => {
    await expect(
      page.getByText('Nothing is due within 4 weeks').or(page.getByText('Nothing is due within 28 days')),
    ).toBeVisible()
    await accessible()
    await look('desk-empty')
  })

  test('dark paper is chosen once and stays', async ({ page }) => {
    await page.getByRole('button', { name: /light or dark/ }).click()
    await page.getByRole('option', { name: 'dark', exact: true }).click()
    await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark')
    await page.reload()
    await expect(page.locator('html')).toHaveAttribute('data-theme', 'dark')
  })

  test('an address that leads nowhere says so and leads back', async ({ page }) => {
    await page.evaluate(() => {
      location.hash = '#/nowhere'
    })
    await page.getByRole('button', { name: 'Go to the desk' }).click()
    await expect(page.getByRole('heading', { name: 'What to do next' })).toBeVisible()
  })
})
