import { readFileSync } from 'node:fs'
import { parse } from 'csv-parse/sync'
import { expect, test } from './office-fixture.ts'

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
    await page.getByRole('button', { name: 'Open the demo office' }).click()
    await expect(page.getByRole('link', { name: /Due/ }).first()).toBeVisible({ timeout: 50_000 })
  })
})
