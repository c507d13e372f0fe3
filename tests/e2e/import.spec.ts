import { mkdtempSync, readFileSync, rmSync, truncateSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { parse } from 'csv-parse/sync'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { openDatabase } from '../../core/database/open-books.ts'
import { openOffice } from '../../core/office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { clientOf } from '../../electron/day/day-summary.ts'
import { openPageFiles } from '../../electron/page/page-files.ts'
import { type ServedOffice, serveOffice } from '../../electron/served/serve-office.ts'
import { expect, test } from './office-fixture.ts'

const NOON = { today: () => calendarDate('2026-12-01'), now: () => '2026-12-01T12:00:00.000Z' }

/*
 * Written by Python's csv module (dialect excel, semicolons): two lines above the header, German column names, dates with dots, a
 * line break and quotation marks in the notes, a date that is none, a row without a name, a total. Sent as Windows-1252.
 */
const LIST =
  'Larkmoor Water, customer list;;;;;;;;\r\nprinted 2 Nov 2026;;;;;;;;\r\n' +
  'Kundennr;Name;Telefon;Straße;PLZ;Ort;Sediment last changed;Membrane last changed;Bemerkung\r\n' +
  'K-101;Jessop-Lindqvist, Caius;555-0151;3 Søndergate;00145;Saltgrass;14.03.2026;02.11.2023;"key under the pot;\nring twice"\r\n' +
  'K-102;Lodz Bakery;555-0152;11 Quay Street;00143;Pell Harbor;15.04.2026;;"needs ""long"" tube"\r\n' +
  'K-103;Müller, Thea;555-0153;9 Mill Row;00144;Nether Quay;31.02.2026;01.05.2024;\r\n' +
  'K-104;;555-0154;1 Weir Walk;00144;Nether Quay;01.02.2026;01.05.2024;\r\nTotal;4;;;;;;;\r\n'

test("a stranger's spreadsheet goes in through the screen", async ({ page, opened, look, accessible }) => {
  await page.goto(`${opened.origin}/#/import`)
  await expect(page.getByRole('heading', { name: 'Bring a list of households' })).toBeVisible()
  await look('import-choose')
  await accessible()
  await page
    .getByLabel('A list, as CSV')
    .setInputFiles({ name: 'customers.csv', mimeType: 'text/csv', buffer: Buffer.from(LIST, 'latin1') })

  await expect(page.getByRole('heading', { name: 'What customers.csv holds' })).toBeVisible()
  await expect(
    page.getByText('Read as Western Windows (1252).').or(page.getByText('Cells are parted by semicolons.')).first(),
  ).toBeVisible()
  await expect(page.getByText('The columns are named in line 3.')).toBeVisible()
  await look('import-columns')
  await accessible()
  await page.getByRole('button', { name: 'Look through 4 rows' }).click()

  await expect(page.getByRole('heading', { name: '2 households of customers.csv would be new' })).toBeVisible()
  await expect(page.getByText('"31.02.2026" is not a date.')).toBeVisible()
  await look('import-rows')
  await accessible()
  const saving = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save 2 refused rows' }).click()
  const saved = readFileSync(await (await saving).path(), 'utf8')
  expect(saved).toContain('Müller, Thea')
  expect(saved).toContain('Nobody is named in this row.')

  const savingView = page.waitForEvent('download')
  await page.getByRole('button', { name: 'Save this list' }).click()
  const view: string[][] = parse(readFileSync(await (await savingView).path(), 'utf8'), { bom: true })
  expect(view[0]).toEqual(['Line', 'Household', 'Becomes', 'What was noticed'])
  expect(view).toHaveLength(5)

  await page.getByRole('button', { name: 'Take in 2 households' }).click()
  await expect(page.getByRole('heading', { name: 'The list is in the books' })).toBeVisible()
  await look('import-taken')
  await accessible()
  const sites = await opened.books.read.selectFrom('sites').select(['line1', 'town']).orderBy('id').execute()
  expect(sites).toEqual([
    { line1: '3 Søndergate', town: 'Saltgrass' },
    { line1: '11 Quay Street', town: 'Pell Harbor' },
  ])
})

test('the refused rows, corrected, are brought again and double nobody', async ({ page, opened }) => {
  const bring = async (text: string, rows: number): Promise<void> => {
    await page.goto(`${opened.origin}/#/import`)
    await page
      .getByLabel('A list, as CSV')
      .setInputFiles({ name: 'customers.csv', mimeType: 'text/csv', buffer: Buffer.from(text, 'latin1') })
    await page.getByRole('button', { name: `Look through ${rows} rows` }).click()
  }
  await bring(LIST, 4)
  await page.getByRole('button', { name: 'Take in 2 households' }).click()
  await page.getByRole('button', { name: 'Bring another list' }).click()
  await bring(LIST.replace('31.02.2026', '28.02.2026'), 4)
  await page.getByRole('button', { name: 'Take in 1 household' }).click()
  await expect(page.getByRole('heading', { name: 'The list is in the books' })).toBeVisible()
  const sites = await opened.books.read.selectFrom('sites').select('line1').execute()
  expect(sites).toHaveLength(3)
})

/** A list so long that taking it in can be watched and stopped. */
const LONG_LIST = `Acct no,Name,Street,Town,Zip,Sediment changed,Carbon changed,Membrane changed\r\n${Array.from(
  { length: 8_000 },
  (_, n) => `L-${n},"Holt${n}, Ida",${n} Mill Row,Saltgrass,00145,2026-05-09,2026-05-09,2024-05-09`,
).join('\r\n')}\r\n`

async function booksNow(books: OpenDatabase): Promise<number[]> {
  const counts: number[] = []
  const tables = ['customers', 'sites', 'installations', 'stages', 'site_search', 'events', 'import_mappings'] as const
  for (const table of tables) {
    const all = books.read.selectFrom(table).select(({ fn }) => fn.countAll<number>().as('count'))
    counts.push((await all.executeTakeFirstOrThrow()).count)
  }
  return counts
}

/** An office as it runs in earnest, its long work in threads of their own. */
async function inEarnest(use: (served: ServedOffice, books: OpenDatabase) => Promise<void>): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-list-'))
  const file = join(folder, 'books.sqlite')
  const opened = await openOffice({ database: file, clock: NOON, log: () => {}, threads: 'worker' })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const home = { line1: '', line2: '', town: '', region: '', postalCode: '', country: 'US', phone: '', email: '' }
  await clientOf(opened.value).office.found({ name: 'Larkmoor Water', ...home })
  const files = openPageFiles(fileURLToPath(new URL('../../dist/renderer', import.meta.url)))
  const served = await serveOffice({ office: opened.value, files, port: 0, log: () => {} })
  const books = openDatabase(file)
  await use(served, books)
  await books.close()
  await served.close()
  await opened.value.close()
  rmSync(folder, { recursive: true })
}

test('IMP-18 a list that is being taken in is stopped, leaves the books as they were, and is still there', async ({
  page,
  look,
}) => {
  test.setTimeout(240_000)
  await inEarnest(async (served, books) => {
    await page.goto(served.newAddress())
    await page.goto(`${served.origin}/#/import`)
    await page
      .getByLabel('A list, as CSV')
      .setInputFiles({ name: 'long.csv', mimeType: 'text/csv', buffer: Buffer.from(LONG_LIST) })
    await page.getByRole('button', { name: 'Look through 8,000 rows' }).click({ timeout: 60_000 })
    const whole = page.getByRole('heading', { name: '8,000 households of long.csv would be new' })
    await expect(whole).toBeVisible({ timeout: 90_000 })
    const before = await booksNow(books)

    await page.getByRole('button', { name: 'Take in 8,000 households' }).click()
    const sheet = page.getByRole('main')
    await expect(sheet.getByText(/of 8,?000 written|due dates of/).first()).toBeVisible({ timeout: 90_000 })
    await expect(sheet.getByText('Stopped, the books stay as they were.')).toBeVisible()
    await sheet.getByRole('button', { name: 'Stop' }).click()
    await expect(whole).toBeVisible({ timeout: 60_000 })
    await expect(page.getByText('Nothing was written; your choices are still here.', { exact: false })).toBeVisible()
    expect(await booksNow(books)).toEqual(before)
    await look('import-stopped')

    await page.getByRole('button', { name: 'Take in 8,000 households' }).click()
    await expect(page.getByRole('heading', { name: 'The list is in the books' })).toBeVisible({ timeout: 120_000 })
    expect((await booksNow(books)).slice(0, 2)).toEqual([8_000, 8_000])
    // The page asks this office nothing more before it closes.
    await page.goto('about:blank')
  })
})

test('how somebody chose to read the letters stays chosen when the window is opened again', async ({
  page,
  opened,
  look,
}) => {
  await page.goto(`${opened.origin}/#/import`)
  await page
    .getByLabel('A list, as CSV')
    .setInputFiles({ name: 'letters.csv', mimeType: 'text/csv', buffer: Buffer.from(LIST, 'latin1') })
  const letters = page.getByRole('button', { name: 'How the letters of the list are read' })
  await expect(letters).toContainText('Western Windows (1252)')
  await expect(page.getByText('Straße').first()).toBeVisible()
  await letters.click()
  await page.getByRole('option', { name: 'Unicode (UTF-8)' }).click()
  await expect(page.getByText('Read as Unicode (UTF-8), as you chose.')).toBeVisible()
  await page.reload()
  await expect(page.getByText('Read as Unicode (UTF-8), as you chose.')).toBeVisible()
  await expect(letters).toContainText('Unicode (UTF-8)')
  await expect(page.getByText('Straße')).toHaveCount(0)
  await look('import-letters-chosen')
  await letters.click()
  await page.getByRole('option', { name: 'Western Windows (1252)' }).click()
  await expect(page.getByText('Straße').first()).toBeVisible()
})

test('a file of 200 MB is turned away at once, with what to do', async ({ page, opened, look }) => {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-list-'))
  const file = join(folder, 'everything.csv')
  // A file with a hole in it: 200 MB to whoever asks, next to nothing on the disk.
  writeFileSync(file, 'Name,Street,Town\n')
  truncateSync(file, 200 * 1024 * 1024)
  await page.goto(`${opened.origin}/#/import`)
  const asked: string[] = []
  page.on('request', (request) => asked.push(new URL(request.url()).pathname))
  await page.getByLabel('A list, as CSV').setInputFiles(file)
  await expect(page.getByText('everything.csv is larger than 30 MB.')).toBeVisible()
  await expect(
    page.getByText('Split the list in the spreadsheet and bring the parts one after the other.'),
  ).toBeVisible()
  await look('import-too-large')
  expect(asked.filter((path) => path.startsWith('/rpc/imports'))).toEqual([])
  rmSync(folder, { recursive: true })
})

test('one sheet with a column a stage goes in through the screen', async ({ page, opened, look, accessible }) => {
  const sheet =
    'RO CUSTOMERS - MASTER LIST,,,,,,\r\nlast updated 11/20/26,,,,,,\r\n' +
    'Customer Name,Ph #,Service Addr,City / St / Zip,Sed date,Carbon date,Membrane date,Notes to tech\r\n' +
    '"Abernathy-Vance, Corinne","555-0142 / 555-0143 cell",18 Weirside Ln,"Tollard Mill, XX 00142",5/9/26,5/9/26,11/23/23,"Key under pot.\nRing twice"\r\n' +
    'Lodz Bakery,555.0152,11 Quay Street,"Pell Harbor, XX 00143",10/3/25,n/a,10/13/25,\r\n'
  await page.goto(`${opened.origin}/#/import`)
  await page
    .getByLabel('A list, as CSV')
    .setInputFiles({ name: 'master.csv', mimeType: 'text/csv', buffer: Buffer.from(sheet) })
  await expect(page.getByRole('button', { name: 'What "Membrane date" is' })).toContainText('Membrane: last changed')
  await look('import-wide')
  await accessible()
  await page.getByRole('button', { name: 'Look through 2 rows' }).click()
  await page.getByRole('button', { name: 'Take in 2 households' }).click()
  await expect(page.getByRole('heading', { name: 'The list is in the books' })).toBeVisible()
  const stages = await opened.books.read.selectFrom('stages').select(['kind', 'fitted_on']).orderBy('id').execute()
  expect(stages.map(({ kind, fitted_on }) => `${kind} ${fitted_on}`)).toEqual([
    ...['sediment 2026-05-09', 'carbon 2026-05-09', 'membrane 2023-11-23'],
    ...['sediment 2025-10-03', 'membrane 2025-10-13'],
  ])
})

test.describe('refusals', () => {
  // A refusal travels as an answer 422, which the browser notes on its console.
  test.use({ provokes: [/status of 422/] })

  test('what is no list is turned away in words', async ({ page, opened }) => {
    await page.goto(`${opened.origin}/#/import`)
    const offer = (name: string, text: string): Promise<void> =>
      page.getByLabel('A list, as CSV').setInputFiles({ name, mimeType: 'text/csv', buffer: Buffer.from(text) })
    await offer('bill.csv', '%PDF-1.7\n%')
    await expect(page.getByText('bill.csv is a PDF, not a list.')).toBeVisible()
    await offer('one.csv', 'Name\nAnn\nBo\n')
    await expect(page.getByText('one.csv has one column only', { exact: false })).toBeVisible()
    await offer('head.csv', 'Name,Street,Phone\n')
    await expect(page.getByText('head.csv has a header and no row under it.')).toBeVisible()
  })
})

test.describe('before an office is in the books', () => {
  test.use({ books: 'unfounded' })

  test('the first start asks, and a new office begins with a list', async ({ page, look, accessible }) => {
    await expect(page.getByRole('heading', { name: 'How do we begin?' })).toBeVisible()
    await look('first-start')
    await accessible()
    await page.getByLabel('Name of the office').fill('Saltgrass Springs')
    await page.getByRole('button', { name: 'Begin, and bring a list' }).click()
    await expect(page.getByRole('heading', { name: 'Bring a list of households' })).toBeVisible()
  })

  test('the first start opens the demo office', async ({ page }) => {
    // The tests' office works on the thread that also presses the button, so the press may be answered late.
    await page.getByRole('button', { name: 'Open the demo office' }).click({ timeout: 50_000 })
    await expect(page.getByRole('link', { name: /Due/ }).first()).toBeVisible({ timeout: 50_000 })
  })
})
