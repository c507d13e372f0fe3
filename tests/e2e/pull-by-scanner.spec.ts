import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { AxeBuilder } from '@axe-core/playwright'
import { expect, type Page, test } from '@playwright/test'
import { migrateBooks } from '../../core/database/migrate.ts'
import { openDatabase } from '../../core/database/open-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { insertOffice } from '../../core/settings/office-store.ts'
import { aBookedVisit, aHousehold, aLot, aPart, aPlace, aVan, held } from '../builders/a-warehouse.ts'

/** The example of the GS1 General Specifications. */
const GTIN = '6291041500213'
const PULL = '#/pull?day=2026-12-02'

/** A van of three stops; sediment in one bin, carbon and membranes in two lots each, one more lot that is past its date. */
async function writeBooks(file: string): Promise<void> {
  const books = openDatabase(file)
  await migrateBooks(books, null)
  const tx = books.write
  await insertOffice(tx, {
    ...{ id: FIRST_OFFICE, name: 'Larkmoor Water', line1: '4 Sluice Yard', line2: '', town: 'Tollard Mill' },
    ...{ region: 'XX', postalCode: '00142', country: 'US', phone: '555-0100', email: 'office@larkmoor.example.com' },
    ...{ isDemo: false, latitude: 44.98, longitude: -93.2, foundedAt: '2021-03-01T09:00:00.000Z' },
  })
  const sediment = await aPart(tx, 'P-1005', { name: 'Sediment filter, 10 in, 5 µm' })
  await tx.updateTable('parts').set({ gtin: GTIN }).where('id', '=', sediment).execute()
  const carbon = await aPart(tx, 'P-1010', { name: 'Carbon block, 10 in' })
  const membrane = await aPart(tx, 'P-2075', { name: 'Membrane, 75 gal/day' })
  const tank = await aPart(tx, 'P-3032', { name: 'Tank, 3.2 gal' })
  const [a, b, c, d] = [
    await aPlace(tx, 'A-02-1', 10),
    await aPlace(tx, 'A-02-3', 20),
    await aPlace(tx, 'B-01-2', 30),
    await aPlace(tx, 'C-04-1', 40),
  ]
  await aLot(tx, { partId: sediment, code: '2608-114', expiresOn: '2028-08-31', placeId: a, pieces: 9 })
  await aLot(tx, { partId: carbon, code: '2607-031', expiresOn: '2028-07-31', placeId: b, pieces: 4 })
  await aLot(tx, { partId: carbon, code: '2609-002', expiresOn: '2028-09-30', placeId: c, pieces: 10 })
  await aLot(tx, { partId: carbon, code: '2411-900', expiresOn: '2026-11-30', placeId: c, pieces: 3 })
  await aLot(tx, { partId: membrane, code: '2603-017', expiresOn: '2029-03-31', placeId: c, pieces: 2 })
  await aLot(tx, { partId: tank, code: 'T-1', placeId: d, pieces: 1 })
  const van = await aVan(tx, 'van 1', 'Ilse R.')
  for (const [index, name] of [
    'Abernathy-Vance, Corinne',
    'Bexhill-Moreno, Idris',
    'Castellane, Wilhelmina',
  ].entries()) {
    const needs = [
      [sediment, 1],
      [carbon, index === 1 ? 2 : 1],
      ...(index < 2 ? [[membrane, 1] as const] : []),
    ] as const
    const siteId = await aHousehold(tx, name)
    await aBookedVisit(tx, { siteId, technicianId: van.technicianId, on: '2026-12-02', from: 480 + index * 60, needs })
  }
  await books.close()
}

interface Apart {
  readonly process: ChildProcess
  readonly origin: string
  readonly addresses: readonly string[]
}

/** The served office in a process of its own, on the port that it had before. */
async function startApart(file: string, port = '0'): Promise<Apart> {
  const script = fileURLToPath(new URL('office-apart.ts', import.meta.url))
  const child = spawn(process.execPath, [script, file, port], { stdio: ['ignore', 'pipe', 'inherit'] })
  const gone = once(child, 'exit').then(() => Promise.reject(new Error('The office did not start')))
  const [line] = (await Promise.race([once(createInterface(child.stdout), 'line'), gone])) as [string]
  gone.catch(() => {})
  return { process: child, ...(JSON.parse(line) as Pick<Apart, 'origin' | 'addresses'>) }
}

async function kill(apart: Apart): Promise<void> {
  const gone = once(apart.process, 'exit')
  apart.process.kill('SIGKILL')
  await gone
}

/** What a scanner does: signs without a pause, then Enter, wherever the focus is. None waits for the one before to be answered. */
async function scan(page: Page, code: string): Promise<void> {
  await Promise.all([...code, 'Enter'].map((sign) => page.keyboard.press(sign === ' ' ? 'Space' : sign)))
}

/** Opens a choice by its label and takes one of it, by keyboard. */
async function choose(page: Page, label: string, words: string): Promise<void> {
  // The name of a choice is what is chosen, then its label.
  await page.getByRole('button', { name: new RegExp(`${label}$`) }).press('Enter')
  await page.getByRole('option', { name: words, exact: true }).press('Enter')
}

const saidOn = (page: Page) => page.locator('.pull-said')

async function accessible(page: Page): Promise<void> {
  const { violations } = await new AxeBuilder({ page })
    .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
    .analyze()
  expect(violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)).toEqual(
    [],
  )
}

async function photograph(page: Page, name: string): Promise<void> {
  const folder = process.env.PENSTOCK_SHOTS
  if (!folder) return
  for (const [width, height] of [
    [1440, 900],
    [1024, 768],
    [390, 844],
  ] as const) {
    await page.setViewportSize({ width, height })
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(width)
    await page.screenshot({ path: join(folder, `${name}-${width}.png`), fullPage: width === 390 })
  }
  await page.setViewportSize({ width: 1024, height: 768 })
}

test('PICK-20 PICK-21 PICK-22 PICK-23 PICK-24 PICK-28 PICK-29 a pull by scanner from start to end: one part short, one damaged, the program killed in the middle, and two who confirm', async ({
  browser,
}) => {
  // Three programs are started one after the other.
  test.setTimeout(480_000)
  const folder = mkdtempSync(join(tmpdir(), 'penstock-scanner-'))
  const file = join(folder, 'books.sqlite')
  await writeBooks(file)
  let apart = await startApart(file)
  const context = await browser.newContext({ viewport: { width: 1024, height: 768 } })
  const page = await context.newPage()
  await page.addInitScript(hearSounds)
  await page.clock.setFixedTime('2026-12-01T15:00:00.000Z')
  await page.goto(apart.addresses[0] ?? '')
  await page.goto(`${apart.origin}/${PULL}`)
  const said = saidOn(page)

  await expect(page.getByRole('button', { name: 'Begin pulling 9 pieces' })).toBeVisible()
  await scan(page, GTIN)
  await expect(said).toContainText('No: Nothing is being pulled for van 1 yet.')
  await page.getByRole('button', { name: 'Begin pulling 9 pieces' }).press('Enter')
  await page.getByRole('textbox', { name: 'Who pulls' }).fill('Ines')
  await page.getByRole('button', { name: 'Not right: Carbon block, 10 in, bin A-02-3' }).focus()

  await scan(page, '+A-02-1')
  await expect(said).toHaveText('At A-02-1: 3 of Sediment filter, 10 in, 5 µm, lot 2608-114. ')
  await expect(page.getByRole('checkbox', { name: '3 of Sediment filter, 10 in, 5 µm, bin A-02-1' })).toBeFocused()
  await scan(page, GTIN)
  await expect(said).toContainText('1 of 3: Sediment filter, 10 in, 5 µm, lot 2608-114. Tote 1.')
  await scan(page, 'P-1005+2608-114')
  await expect(said).toContainText('2 of 3: Sediment filter, 10 in, 5 µm, lot 2608-114. Tote 2.')
  await scan(page, 'p-1005')
  await expect(said).toContainText('3 of 3: Sediment filter, 10 in, 5 µm, lot 2608-114. Tote 3. Next is A-02-3')
  expect(await soundsOf(page)).toEqual({ yes: 4, no: 1 })

  await scan(page, '2608-114')
  await expect(said).toContainText('No: All 3 of Sediment filter, 10 in, 5 µm are in the totes already.')
  await scan(page, '6291041500214')
  await expect(said).toContainText('No: Nothing in the books is called 6291041500214')
  await scan(page, 'P-3032')
  await expect(said).toContainText('No: Tank, 3.2 gal P-3032 is not on this list. Put it back on the shelf.')
  await scan(page, 'P-1010+2411-900')
  await expect(said).toContainText('No: Lot 2411-900 of Carbon block, 10 in is past its date')
  await scan(page, 'P-1010+2609-002')
  await expect(said).toContainText('No: This is lot 2609-002 of Carbon block, 10 in; the list asks for lot 2607-031')
  await expect(page.getByRole('button', { name: 'This lot lies in its place' })).toBeVisible()
  expect(await soundsOf(page)).toEqual({ yes: 4, no: 6 })
  await accessible(page)
  await photograph(page, 'scan-no')

  // A field keeps what is typed into it, Enter and all.
  await page.getByRole('textbox', { name: 'Who pulls' }).focus()
  await page.keyboard.press('End')
  await scan(page, ' 2607-031')
  await expect(page.getByRole('textbox', { name: 'Who pulls' })).toHaveValue('Ines 2607-031')
  await page.getByRole('textbox', { name: 'Who pulls' }).fill('Ines')
  await expect(page.getByText('3 of 9 pieces pulled')).toBeVisible()

  await choose(page, 'Whether scans sound', 'off')

  // The program is killed in the middle: what was ticked is there, and the window says what to do.
  await page.getByRole('button', { name: 'Not right: Carbon block, 10 in, bin A-02-3' }).focus()
  await scan(page, '2607-031')
  await expect(said).toContainText('1 of 4: Carbon block, 10 in, lot 2607-031. Tote 1.')
  // Turned off it is silent, and the words are there all the same.
  expect(await soundsOf(page)).toEqual({ yes: 4, no: 6 })
  await kill(apart)
  await scan(page, '2607-031')
  await expect(said).toContainText('No: 2607-031 may not have counted. The office does not answer.')
  apart = await startApart(file, new URL(apart.origin).port)
  await page.goto(apart.addresses[0] ?? '')
  await page.goto(`${apart.origin}/${PULL}`)
  await expect(page.getByText('4 of 9 pieces pulled')).toBeVisible()
  await expect(page.getByText(/^1 of 4 so far, Ines/)).toBeVisible()
  await expect(page.getByRole('button', { name: /off.*Whether scans sound$/ })).toBeVisible()

  // One short: three are there. The fourth is promised from the other lot.
  await page.getByRole('checkbox', { name: '4 of Carbon block, 10 in, bin A-02-3' }).press('3')
  await expect(page.getByRole('textbox', { name: 'Found of 4' })).toHaveValue('3')
  await accessible(page)
  await photograph(page, 'line-short')
  await page.getByRole('textbox', { name: 'Found of 4' }).press('Enter')
  await expect(page.getByText('3 of 4 found: Carbon block, 10 in, lot 2607-031, A-02-3.')).toBeVisible()
  await expect(page.getByText('Pull 1 of Carbon block, 10 in from B-01-2, lot 2609-002.')).toBeVisible()
  await accessible(page)
  await photograph(page, 'found-outcome')
  await page.getByRole('button', { name: 'Go on pulling' }).click()
  await expect(page.getByText('6 of 9 pieces pulled')).toBeVisible()

  // One membrane is damaged, and there is no other: a stop goes without, with the reason.
  await page.getByRole('button', { name: 'Not right: Membrane, 75 gal/day, bin B-01-2' }).click()
  await page.getByRole('button', { name: 'Some are damaged' }).click()
  await page.getByRole('button', { name: 'One more' }).click()
  await page.getByRole('textbox', { name: 'What is wrong with them' }).fill('dry and split')
  await page.getByRole('button', { name: 'Set 1 aside' }).click()
  await expect(page.getByText(/goes without 1 of Membrane, 75 gal\/day\./)).toBeVisible()
  await page.getByRole('button', { name: 'Go on pulling' }).click()

  // Two look at the same list: both see the ticks of both.
  const second = await context.newPage()
  await second.goto(`${apart.origin}/${PULL}`)
  await expect(second.getByText('6 of 8 pieces pulled')).toBeVisible()
  await choose(page, 'What a scan ticks', 'the whole line')
  await scan(page, '2609-002')
  await expect(second.getByText('7 of 8 pieces pulled')).toBeVisible()
  await second.getByRole('button', { name: 'Put 7 of 8 pieces on van 1' }).click()
  await scan(page, '2603-017')
  await expect(page.getByText('8 of 8 pieces pulled')).toBeVisible()
  await photograph(page, 'pull-full')
  await page.getByRole('button', { name: 'Put 8 pieces on van 1' }).click()
  await expect(page.getByText(/^8 pieces put on van 1 by Ines/)).toBeVisible()

  // The other still has the question open, and is told who was first.
  await second
    .getByRole('alertdialog')
    .getByRole('button', { name: /^Put \d pieces on van 1$/ })
    .click()
  await expect(
    second.getByText(/^This pull was put on van 1 already, (just now|\d minutes? ago), by Ines\.$/),
  ).toBeVisible()

  await context.close()
  await kill(apart)
  const books = openDatabase(file)
  const after = await held(books.write)
  expect(after).toEqual({ 'van 1': 8, 'A-02-1': 6, 'B-01-2': 9 + 3, 'C-04-1': 1, quarantine: 1 })
  const found = await books.write
    .selectFrom('pull_findings')
    .select(['kind', 'quantity', 'by_whom'])
    .orderBy('id')
    .execute()
  expect(found).toEqual([
    { kind: 'short', quantity: 1, by_whom: 'Ines' },
    { kind: 'damaged', quantity: 1, by_whom: 'Ines' },
  ])
  expect(await books.write.selectFrom('pull_shortages').select('quantity').execute()).toEqual([{ quantity: 1 }])
  await books.close()
  rmSync(folder, { recursive: true, force: true })
})

/** Counts the notes that begin, by whether they are a yes or a no, without making them. */
function hearSounds(): void {
  const heard = { yes: 0, no: 0 }
  const start = OscillatorNode.prototype.start
  OscillatorNode.prototype.start = function (this: OscillatorNode, when?: number) {
    if (this.frequency.value > 500) heard.yes += 1
    else if (this.frequency.value < 200) heard.no += 1
    start.call(this, when)
  }
  Object.assign(window, { heardSounds: heard })
}

const soundsOf = (page: Page) => page.evaluate(() => (window as unknown as { heardSounds: unknown }).heardSounds)
