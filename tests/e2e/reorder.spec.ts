import type { Page } from '@playwright/test'
import { aReorderStory } from '../builders/a-reorder-story.ts'
import { expect, test } from './office-fixture.ts'

test.use({
  books: async ({ baseURL: _ }, use) =>
    use(async (books) => {
      await aReorderStory(books)
    }),
})

/** Opens the first part that runs short, by keyboard. */
async function openFirst(page: Page): Promise<void> {
  await expect(page.getByRole('row', { name: /Sediment filter/ })).toBeVisible()
  await page.getByRole('grid', { name: 'Parts that run short' }).focus()
  await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Enter')
}

test('ORD-58 ORD-61 a proposal opens to arithmetic that a warehouse owner can follow, by keyboard alone', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(`${page.url().split('#')[0]}#/orders`)
  await expect(page.getByRole('heading', { name: '1 part runs short' })).toBeVisible()
  await openFirst(page)
  await expect(
    page.getByText(/^Order \d+ in \d+ packs? of 6: until Dec 13, 2026 as many as \d+ may be wanted/),
  ).toBeVisible()
  const sum = page.getByRole('table').filter({ hasText: 'for visits booked until' })
  await expect(sum.getByRole('row', { name: /^6 for visits booked until Dec 13, 2026/ })).toBeVisible()
  await expect(sum.getByRole('row', { name: /in reserve: \d+ are enough in 9\d of 100 cases/ })).toBeVisible()
  await expect(sum.getByRole('row', { name: /ordered and awaited; 2 of them are 11 days late/ })).toBeVisible()
  // The lines add up to what is ordered.
  const figures = await sum.locator('td.figure').allInnerTexts()
  const pieces = figures.map((text) => Number(text.replace('−', '-')))
  expect(pieces.slice(0, -1).reduce((all, each) => all + each, 0)).toBe(pieces.at(-1))
  await expect(page.getByRole('img', { name: /How many may be wanted/ })).toBeVisible()
  await expect(page.getByRole('img', { name: /The stock of the coming weeks/ })).toBeVisible()
  await expect(
    page.getByText(/26 of 40 households that had a first letter in the last 2 years booked within 30 days/),
  ).toBeVisible()
  await accessible()
  await look('reorder')
  await page.getByText('Week by week').press('Enter')
  await expect(page.getByRole('columnheader', { name: 'Without this order' })).toBeVisible()
  await accessible()
})

test('ORD-59 another quantity is kept over a reload, says what it costs, and is what is drafted', async ({
  page,
  accessible,
}) => {
  await page.goto(`${page.url().split('#')[0]}#/orders`)
  await openFirst(page)
  const quantity = page.getByRole('textbox', { name: 'Order of Orrin Supply' })
  const proposed = Number(await quantity.inputValue())
  await quantity.fill('50')
  await expect(page.getByText('Sold in packs of 6. That would be 48 or 54.')).toBeVisible()
  await quantity.fill('54')
  await expect(page.getByText('$432.00').first()).toBeVisible()
  await expect(page.getByRole('row', { name: new RegExp(`54.*not ${proposed}`) })).toBeVisible()
  await accessible()
  await page.reload()
  await expect(quantity).toHaveValue('54')
  await page.getByRole('button', { name: `Order ${proposed} as proposed` }).press('Enter')
  await expect(quantity).toHaveValue(String(proposed))
  await quantity.fill('54')
  await page.getByRole('button', { name: 'Draft 1 line to Orrin Supply' }).press('Enter')
  await expect(page.getByRole('textbox', { name: /Pieces/ }).first()).toHaveValue('54')
})
