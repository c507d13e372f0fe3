import type { Page } from '@playwright/test'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aSupplier, aVan } from '../builders/a-warehouse.ts'
import { expect, test } from './office-fixture.ts'

/** A bin with carbon blocks, an empty one, and two visits that want more membranes than there are. */
async function aWarehouse({ write: tx }: OpenDatabase): Promise<void> {
  const carbon = await aPart(tx, 'P-1010', { name: 'Carbon block, 10 in' })
  const membrane = await aPart(tx, 'P-2075', { name: 'Membrane, 75 gal/day' })
  await aPart(tx, 'P-1011', { name: 'Carbon block, coconut' })
  const near = await aPlace(tx, 'A-02-1', 10)
  await aPlace(tx, 'A-02-3', 20)
  await aLot(tx, { partId: carbon, code: '2607-031', expiresOn: '2028-07-31', placeId: near, pieces: 9 })
  await aSupplier(tx, 'Orrin Supply', [{ partId: membrane, price: 4100, packSize: 4 }])
  const { technicianId } = await aVan(tx, 'van 1', 'Ilse R.')
  for (const [index, name] of ['Abernathy-Vance, Corinne', 'Bexhill-Moreno, Idris'].entries()) {
    const siteId = await aHousehold(tx, name)
    const needs = [
      [carbon, index === 0 ? 4 : 5],
      [membrane, 1],
    ] as const
    await aBookedVisit(tx, { siteId, technicianId, on: '2026-12-02', from: 480 + index * 60, needs })
  }
}

// A function would be taken for a fixture of its own: it is handed on by one.
test.use({ books: async ({ baseURL: _ }, use) => use(aWarehouse) })

async function goTo(page: Page, where: string): Promise<void> {
  await page.goto(`${page.url().split('#')[0]}#/${where}`)
}

/** Opens a choice by its label and takes one of it, by keyboard. */
async function choose(page: Page, label: string, words: string): Promise<void> {
  // The name of a choice is what is chosen, then its label.
  await page.getByRole('button', { name: new RegExp(`\\S ${label}$`) }).press('Enter')
  await page.getByRole('option', { name: words, exact: true }).press('Enter')
}

test('STK-1 STK-3 STK-5 a delivery is received, moved, counted and thrown away, each a movement, without the mouse', async ({
  page,
  accessible,
}) => {
  await goTo(page, 'stock')
  await page.getByText('Carbon block, 10 in').first().click()
  await page.getByRole('button', { name: 'Receive a lot' }).press('Enter')
  await page.getByRole('textbox', { name: 'Lot, as on the box' }).fill('2609-001')
  await page.getByRole('textbox', { name: 'Good until' }).fill('2028-09-30')
  await page.getByRole('textbox', { name: 'Pieces' }).fill('24')
  await page.getByRole('textbox', { name: 'Pieces' }).press('Enter')
  await expect(page.getByText('24 pieces of Carbon block, 10 in, lot 2609-001, received into A-02-1.')).toBeVisible()
  await page.getByRole('button', { name: 'Move or count lot 2609-001 in A-02-1' }).press('Enter')
  await page.getByRole('textbox', { name: 'Pieces' }).fill('10')
  await choose(page, 'To', 'A-02-3')
  await accessible()
  await page.getByRole('textbox', { name: 'Pieces' }).press('Enter')
  const there = page.getByRole('button', { name: 'Move or count lot 2609-001 in A-02-3' })
  await there.press('Enter')
  await choose(page, 'What to do', 'count what lies there')
  await page.getByRole('textbox', { name: 'Counted' }).fill('9')
  await page.getByRole('textbox', { name: 'Why' }).fill('one fell down')
  await page.getByRole('textbox', { name: 'Why' }).press('Enter')
  await expect(page.getByRole('row', { name: /2609-001 .*A-02-3 9/ })).toBeVisible()
  await there.press('Enter')
  await choose(page, 'What to do', 'throw away')
  await page.getByRole('textbox', { name: 'Pieces' }).fill('2')
  await page.getByRole('textbox', { name: 'Why' }).fill('crushed')
  await page.getByRole('textbox', { name: 'Why' }).press('Enter')
  await expect(page.getByRole('row', { name: /2609-001 .*A-02-3 7/ })).toBeVisible()
})

test.describe('a refusal', () => {
  test.use({ provokes: [/status of 422/] })
  test('STK-1 a bin is added, a bin that still holds pieces is not closed, and a driver has one van', async ({
    page,
    accessible,
  }) => {
    await goTo(page, 'stock?view=places')
    await page.getByRole('button', { name: 'Add a bin' }).press('Enter')
    await page.getByRole('textbox', { name: 'Name' }).fill('C-01-1')
    await page.getByRole('textbox', { name: 'Place in the walk' }).fill('40')
    await page.getByRole('textbox', { name: 'Place in the walk' }).press('Enter')
    await expect(page.getByText('C-01-1 is saved.')).toBeVisible()
    await page.getByText('A-02-1', { exact: true }).click()
    await page.getByText('in use', { exact: true }).last().click()
    await page.getByRole('button', { name: 'Save A-02-1' }).press('Enter')
    await expect(page.getByText('What you typed is still here.')).toBeVisible()
    await accessible()
    await page.getByRole('button', { name: 'Add a van' }).press('Enter')
    await page.getByRole('textbox', { name: 'Name' }).fill('van 2')
    await choose(page, 'Driven by', 'Ilse R.')
    await page.getByRole('textbox', { name: 'Name' }).press('Enter')
    await expect(page.getByText('Ilse R. drives van 1 already.')).toBeVisible()
    await choose(page, 'Driven by', 'nobody')
    await page.getByRole('textbox', { name: 'Name' }).press('Enter')
    await expect(page.getByText('van 2 is saved.')).toBeVisible()
  })
})

test('STK-1 what stands in for a part and its usual bins are kept in the order given', async ({ page, accessible }) => {
  await goTo(page, 'stock')
  await page.getByText('Carbon block, 10 in').first().click()
  await page.getByRole('button', { name: 'Change this part' }).press('Enter')
  await choose(page, 'Add a part that stands in', 'Carbon block, coconut P-1011')
  await choose(page, 'Add a part that stands in', 'Membrane, 75 gal/day P-2075')
  await page.getByRole('button', { name: 'Earlier: Membrane, 75 gal/day P-2075' }).press('Enter')
  await choose(page, 'Add a bin', 'A-02-1')
  await choose(page, 'Add a bin', 'A-02-3')
  await page.getByRole('button', { name: 'Earlier: A-02-3' }).press('Enter')
  await accessible()
  await page.getByRole('button', { name: 'Save Carbon block, 10 in' }).press('Enter')
  await expect(page.getByText('Membrane, 75 gal/day P-2075, Carbon block, coconut P-1011')).toBeVisible()
  await expect(page.getByText('A-02-3, A-02-1')).toBeVisible()
})

test('ORD-8 ORD-9 a supplier and its terms are added; what runs short is drafted, sent and received in part', async ({
  page,
  look,
  accessible,
}) => {
  await goTo(page, 'orders')
  await page.getByRole('button', { name: 'Add a supplier' }).press('Enter')
  await page.getByRole('textbox', { name: 'Name' }).fill('Saltgrass Filters')
  await page.getByRole('textbox', { name: 'Name' }).press('Enter')
  await expect(page.getByText('Saltgrass Filters is saved.')).toBeVisible()
  await goTo(page, 'stock')
  await page.getByText('Membrane, 75 gal/day').first().click()
  await page.getByRole('button', { name: 'Add or change terms' }).press('Enter')
  await choose(page, 'Supplier', 'Saltgrass Filters')
  await page.getByRole('textbox', { name: 'Price a piece' }).fill('39')
  await page.getByText('asked first').last().click()
  await page.getByRole('button', { name: 'Save these terms' }).press('Enter')
  await expect(page.getByText('Saltgrass Filters, $39.00 a piece')).toBeVisible()
  await page.getByRole('button', { name: 'Add or change terms' }).press('Enter')
  await choose(page, 'Supplier', 'Saltgrass Filters')
  await page.getByRole('button', { name: 'Add a lower price' }).press('Enter')
  await page.getByRole('textbox', { name: 'From pieces, 1' }).fill('24')
  await page.getByRole('textbox', { name: 'Price a piece, 1' }).fill('36.50')
  await accessible()
  await look('terms-breaks')
  await page.getByRole('button', { name: 'Save these terms' }).press('Enter')
  await expect(page.getByText('from 24 $36.50')).toBeVisible()
  await goTo(page, 'orders')
  await page.getByRole('button', { name: /^Draft 1 line to / }).press('Enter')
  await page.getByRole('button', { name: /^Send the order of / }).press('Enter')
  await page.getByRole('button', { name: /^Receive \d+ pieces? of Membrane/ }).press('Enter')
  await page.getByRole('textbox', { name: 'Lot, as on the box' }).fill('2611-005')
  await page.getByRole('textbox', { name: 'Good until' }).fill('2029-01-31')
  await page.getByRole('textbox', { name: 'Pieces' }).fill('1')
  await choose(page, 'Into', 'A-02-3')
  await accessible()
  await look('orders-receive')
  await page.getByRole('textbox', { name: 'Pieces' }).press('Enter')
  await expect(page.getByText(/\d+ ordered, 1 received/)).toBeVisible()
})
