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
    // Keys that come before the list are played when it is there.
    await page.getByRole('grid', { name: 'Households that are due' }).focus()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    await expect(page.getByRole('heading', { name: 'Letters and visits' })).toBeVisible()
    await look('picture-due')
  })

  test('a household with a failing membrane: its rules, the next visit, what the membrane holds back', async ({
    page,
    look,
  }) => {
    await page.getByRole('link', { name: 'Households', exact: true }).click()
    await page.getByLabel('Search households').fill('Aldersey')
    await expect(page.getByRole('heading', { name: '1 household found' })).toBeVisible()
    await page.getByRole('grid', { name: 'Households' }).focus()
    await page.keyboard.press('ArrowDown')
    await page.keyboard.press('Enter')
    await page.getByRole('button', { name: /^Membrane/ }).click()
    await expect(page.getByRole('region', { name: 'Why this date: Membrane' })).toBeVisible()
    await expect(page.getByRole('heading', { name: 'The visits to come' })).toBeVisible()
    await look('picture-household')
    const rejection = page.getByRole('heading', { name: /^What the membrane holds back/ })
    await rejection.evaluate((heading) => heading.scrollIntoView({ block: 'start' }))
    await expect(page.getByText(/it comes to 75 about/).first()).toBeVisible()
    await look('picture-membrane')
  })

  test('the weeks ahead, once every household is planned', async ({ page, look }) => {
    await expect(page.getByRole('img', { name: /The next 52 weeks against the hours there are/ })).toBeVisible()
    await expect(page.getByText('No shifting can bring', { exact: false })).toBeVisible()
    const year = page.getByRole('heading', { name: 'The next 52 weeks' })
    await year.evaluate((heading) => heading.scrollIntoView({ block: 'start' }))
    await look('picture-weeks-ahead')
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
