import { AxeBuilder } from '@axe-core/playwright'
import { expect, type Page, test } from '@playwright/test'
import { type OpenGallery, openGallery } from '../renderer/gallery/open-gallery.ts'

// The first page waits until the gallery is made ready.
test.describe.configure({ timeout: 120_000 })

let gallery: OpenGallery
test.beforeAll(async () => {
  gallery = await openGallery()
})
test.afterAll(async () => gallery.close())

const grid = (page: Page) => page.getByRole('grid', { name: 'Households that are due' })
const rowInHand = (page: Page) => page.locator('.data-table-row[data-hand]')

for (const colorScheme of ['light', 'dark'] as const)
  for (const part of ['table', 'fields', 'states', 'pictures'])
    for (const size of [
      { width: 1440, height: 900 },
      { width: 720, height: 450 },
      { width: 390, height: 844 },
    ])
      test(`${part} has no finding at AA, ${colorScheme}, ${size.width} wide`, async ({ page }) => {
        await page.setViewportSize(size)
        await page.emulateMedia({ colorScheme })
        await page.goto(`${gallery.address}?part=${part}`)
        await expect(page.locator('.sheet').last()).toBeVisible()
        const { violations } = await new AxeBuilder({ page })
          .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
          .analyze()
        expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.html).join(' ')}`)).toEqual([])
        const overflow = await page.evaluate(
          () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
        )
        expect(overflow).toBeLessThanOrEqual(0)
      })

test('a hundred thousand rows: only those in sight are drawn, End and Home reach both ends', async ({ page }) => {
  await page.goto(gallery.address)
  await grid(page).focus()
  expect(await page.locator('.data-table-body .data-table-row').count()).toBeLessThan(60)
  await expect(grid(page)).toHaveAttribute('aria-rowcount', '100001')
  await page.keyboard.press('End')
  await expect(rowInHand(page)).toContainText('Household 100000')
  await expect(rowInHand(page)).toHaveAttribute('aria-rowindex', '100001')
  await page.keyboard.press('Home')
  await expect(rowInHand(page)).toContainText('Household 000001')
})

test('Space chooses, Shift chooses a range, Enter opens, a letter acts on what is chosen', async ({ page }) => {
  await page.goto(gallery.address)
  await grid(page).focus()
  await page.keyboard.press('Home')
  await page.keyboard.press('Space')
  for (let step = 0; step < 3; step += 1) await page.keyboard.press('ArrowDown')
  await page.keyboard.press('Shift+Space')
  await expect(page.locator('.data-table-row[aria-selected="true"]')).toHaveCount(4)
  await page.keyboard.press('b')
  await expect(page.locator('output')).toHaveText('booked 4')
  await page.keyboard.press('Enter')
  await expect(page.locator('.data-table-row[data-open]')).toContainText('Household 000004')
  const active = await grid(page).getAttribute('aria-activedescendant')
  await expect(page.locator(`[id="${active}"]`)).toContainText('Household 000004')
})

test('a header sorts and says so', async ({ page }) => {
  await page.goto(gallery.address)
  const price = page.getByRole('columnheader', { name: 'Price, USD' })
  await price.getByRole('button').click()
  await expect(price).toHaveAttribute('aria-sort', 'ascending')
  await price.getByRole('button').click()
  await expect(price).toHaveAttribute('aria-sort', 'descending')
  await expect(page.locator('.data-table-body .data-table-row').first()).toContainText('Household 100000')
})

test('pages are fetched as the end comes in sight', async ({ page }) => {
  await page.goto(`${gallery.address}#paged`)
  await grid(page).focus()
  await page.keyboard.press('End')
  await expect(rowInHand(page)).toContainText('Household 000050')
  await page.keyboard.press('End')
  await expect(rowInHand(page)).toContainText('Household 000100')
})

test('a column that is put away stays away after a reload', async ({ page }) => {
  await page.goto(gallery.address)
  await page.getByRole('button', { name: 'Columns' }).click()
  await page.getByRole('menuitemcheckbox', { name: 'Price, USD' }).click()
  await page.keyboard.press('Escape')
  await page.reload()
  await expect(page.getByRole('columnheader', { name: 'Household' })).toBeVisible()
  await expect(page.getByRole('columnheader', { name: 'Price, USD' })).toHaveCount(0)
})

test('the list is saved as a file with every row of the view', async ({ page }) => {
  await page.goto(gallery.address)
  const waiting = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save this list' }).click()
  const download = await waiting
  expect(download.suggestedFilename()).toBe('gallery.csv')
  await expect(page.getByText('Saved 100,000 rows in gallery.csv')).toBeVisible()
})

test('what is typed survives a reload', async ({ page }) => {
  await page.goto(`${gallery.address}?part=fields`)
  await page.getByLabel('Name').fill('Corinne Abernathy-Vance')
  await page.reload()
  await expect(page.getByLabel('Name')).toHaveValue('Corinne Abernathy-Vance')
})

test('dates and amounts are read as they are typed, and said back the office’s way', async ({ page }) => {
  await page.goto(`${gallery.address}?part=fields`)
  await page.getByLabel('Day').fill('12/8')
  await expect(page.getByText('Tuesday, in 7 days')).toBeVisible()
  await page.getByLabel('Price').fill('64.5')
  await page.getByLabel('Price').blur()
  await expect(page.getByLabel('Price')).toHaveValue('64.50')
  await page.getByLabel('Feed pressure').fill('lots')
  await expect(page.getByText('Write a whole number from 0 to 200.')).toBeVisible()
})

test('Escape leaves a decision as it was', async ({ page }) => {
  await page.goto(`${gallery.address}?part=fields`)
  await page.getByRole('button', { name: 'Take back 42 letters' }).click()
  await expect(page.getByRole('alertdialog', { name: 'Take back the run of 42 letters?' })).toBeVisible()
  await page.keyboard.press('Escape')
  await expect(page.getByRole('alertdialog')).toHaveCount(0)
})

test('what was done is undone from the foot', async ({ page }) => {
  await page.goto(`${gallery.address}?part=fields`)
  await page.getByRole('button', { name: 'Book Tuesday morning' }).click()
  await page.getByRole('button', { name: 'Undo' }).click()
  await expect(page.getByText('The booking is taken back.')).toBeVisible()
})

test('below 1180 px the second sheet takes the place of the first, with a way back', async ({ page }) => {
  await page.setViewportSize({ width: 1024, height: 768 })
  await page.goto(gallery.address)
  await expect(grid(page)).toBeHidden()
  await page.getByRole('button', { name: 'Back to what is due' }).click()
  await expect(grid(page)).toBeVisible()
})
