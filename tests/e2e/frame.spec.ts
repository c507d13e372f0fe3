import { expect, test } from './office-fixture.ts'

test.describe('an office with its five years', () => {
  test.use({ books: 'demo' })

  test('the desk names the next action of every tray and looks a year ahead', async ({ page, look, accessible }) => {
    await expect(page.getByRole('heading', { name: 'What to do next' })).toBeVisible()
    await expect(page.locator('.next-action')).toHaveCount(7)
    await expect(page.getByRole('img', { name: /The next 52 weeks against the hours there are/ })).toBeVisible()
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

/** What the desktop window would have to say of a printed page, in a browser that stands for it. */
test.describe('a page that is printed from the desktop window', () => {
  test.use({ books: 'demo' })

  for (const [told, sentence] of [
    ['opened', 'Opens in your PDF reader; print from there.'],
    ['no-reader', 'No PDF reader took the page, so nothing was printed.'],
    ['no-paper', 'The page could not be made, so nothing was printed.'],
  ] as const) {
    test(`says so at the foot: ${told}`, async ({ page, opened, look, accessible }) => {
      await page.addInitScript((answer) => {
        Object.defineProperty(window, 'desktop', { value: { printPaper: async () => answer } })
      }, told)
      await page.goto(`${opened.origin}/#/pull`)
      await page.reload()
      await page
        .getByRole('button', { name: /^Print/ })
        .first()
        .click()
      await expect(page.getByText(sentence)).toBeVisible()
      await accessible()
      await look(`printed-${told}`)
      await page.locator('.frame-foot').getByRole('button', { name: 'Leave it' }).click()
      await expect(page.getByText(sentence)).toBeHidden()
    })
  }
})

test.describe('a sheet that breaks', () => {
  test.use({ books: 'empty', provokes: [/Fault \w+|TypeError/] })

  test('says what happened, what was kept, what to do, and an id; the other trays still work, and it can be tried again', async ({
    page,
    opened,
    look,
    accessible,
  }) => {
    // The office answers with something that the sheet cannot draw: rows that are no rows.
    let breaks = true
    await page.route('**/rpc/orders/**', (route) =>
      breaks ? route.fulfill({ json: { json: { rows: 7, pages: 7, proposals: 7, open: 7 } } }) : route.continue(),
    )
    await page.goto(`${opened.origin}/#/orders`)
    const note = page.getByRole('alert').filter({ hasText: 'This sheet could not be drawn.' })
    await expect(note).toBeVisible()
    await expect(note).toContainText('Nothing was changed, and what you typed is kept.')
    await expect(note).toContainText('Try again.')
    await expect(note).toContainText(/[0-9a-z]{6}/)
    await look('sheet-broken')
    await accessible()
    await page.keyboard.press('Alt+1')
    await expect(page).toHaveURL(/#\/due/)
    await expect(note).toBeHidden()
    await page.keyboard.press('Alt+7')
    await expect(note).toBeVisible()
    breaks = false
    await note.getByRole('button', { name: 'Try again' }).click()
    await expect(note).toBeHidden()
  })
})

test.describe('a key that is no longer valid', () => {
  test.use({ books: 'empty', provokes: [/status of 401|assets\/[\w-]+\.(css|js)|Fault \w+/] })

  test('is said in words on the sheet: what happened and how to get in again', async ({
    page,
    opened,
    context,
    look,
  }) => {
    await expect(page.getByRole('heading', { name: 'What to do next' })).toBeVisible()
    await context.clearCookies()
    await page.evaluate(() => {
      location.hash = '#/households'
    })
    await expect(page.getByText('The office does not know this window any more.').first()).toBeVisible()
    await expect(page.getByText(/Open Penstock again with its own address/).first()).toBeVisible()
    await look('key-no-longer-valid')
    // A new address lets the same window in again.
    await page.goto(opened.newAddress())
    await expect(page.getByRole('heading', { name: 'What to do next' })).toBeVisible()
  })
})
