import { readFileSync } from 'node:fs'
import { parse } from 'csv-parse/sync'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { aLot, aPart, aPlace } from '../builders/a-warehouse.ts'
import { expect, test } from './office-fixture.ts'

async function aSmallStock({ write }: OpenDatabase): Promise<void> {
  const filter = await aPart(write, 'P-1005', { name: 'Sediment filter' })
  const membrane = await aPart(write, 'P-2075', { name: 'Membrane' })
  const bin = await aPlace(write, 'A-02-1', 10)
  await aLot(write, { partId: filter, code: 'L-1', expiresOn: '2026-12-20', placeId: bin, pieces: 30 })
  await aLot(write, { partId: membrane, code: 'L-2', placeId: bin, pieces: 5 })
}

test.use({ today: '2026-12-01', books: async ({ baseURL: _ }, use) => use(aSmallStock) })

test('STK-65 STK-66 STK-67 the owner reads what the stock is worth, looks back, and takes all of it along as one list', async ({
  page,
}) => {
  await page.evaluate(() => {
    location.hash = '#/stock'
  })
  await page.getByRole('button', { name: /look at parts/ }).click()
  await page.getByRole('option', { name: 'what it is worth' }).click()
  await expect(page.getByRole('heading', { name: 'Stock worth $210.00' })).toBeVisible()
  await expect(page.getByText('1 lot will expire within 90 days; 30 pieces for $180.00')).toBeVisible()

  await page.getByRole('button', { name: /list every part/ }).click()
  await page.getByRole('option', { name: 'what expires' }).click()
  await expect(page.getByRole('grid').getByText('Dec 20, 2026')).toBeVisible()

  const saving = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save it all as a list' }).click()
  const saved = await saving
  expect(saved.suggestedFilename()).toBe('stock-worth-2026-12-01.csv')
  const rows: Record<string, string>[] = parse(readFileSync(await saved.path()), { bom: true, columns: true })
  expect(rows.map((row) => [row.What, row.Name, row.Value])).toEqual([
    ['in all', '2026-12-01', '210'],
    ['part', 'Membrane', '30'],
    ['part', 'Sediment filter', '180'],
    ['bin', 'A-02-1', '210'],
    ['expiring lot', 'Sediment filter', '180'],
  ])
  await expect(page.getByText('Saved 5 rows in stock-worth-2026-12-01.csv.')).toBeVisible()

  await page.getByRole('button', { name: /as of today/ }).click()
  await page.getByRole('option', { name: 'another day' }).click()
  await page.getByLabel('The day').fill('2026-10-31')
  await page.getByLabel('The day').press('Tab')
  await expect(page.getByText('On Oct 31, 2026 nothing lay in stock that had cost anything.')).toBeVisible()
})
