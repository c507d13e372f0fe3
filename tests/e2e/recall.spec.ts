import type { Page } from '@playwright/test'
import { expect, type OpenedOffice, test } from './office-fixture.ts'

test.use({ books: 'demo' })

async function goTo(page: Page, where: string): Promise<void> {
  await page.goto(`${page.url().split('#')[0]}#/${where}`)
}

/** Of the demo's lots one that lies in a bin still and that a dozen homes have. */
async function aLotAtHomes({ books: { read } }: OpenedOffice) {
  const lots = await read
    .selectFrom('stages as s')
    .innerJoin('lots as l', 'l.id', 's.fitted_lot_id')
    .innerJoin('balances as b', 'b.lot_id', 'l.id')
    .innerJoin('places as p', 'p.id', 'b.place_id')
    .select(({ fn }) => ['l.id', 'l.code', 'l.part_id', 'p.code as bin', fn.count('s.id').distinct().as('homes')])
    .where('s.removed_on', 'is', null)
    .where('b.quantity', '>', 0)
    .where('p.kind', '=', 'bin')
    .groupBy(['l.id', 'l.code', 'l.part_id', 'p.code'])
    .orderBy('homes', 'desc')
    .orderBy('l.id')
    .execute()
  const lot = lots.find((each) => Number(each.homes) <= 16)
  if (!lot) throw new Error('The demo has a lot in a bin and at homes')
  return lot
}

test('STK-70 STK-74 STK-76 LET-20 a lot is recalled by keyboard: quarantined, visits booked and letters written with a press each', async ({
  page,
  opened,
  look,
  accessible,
}) => {
  const lot = await aLotAtHomes(opened)
  await goTo(page, `stock?open=${lot.part_id}`)
  await page.getByRole('button', { name: `Move or count lot ${lot.code} in ${lot.bin}` }).press('Enter')
  await page.getByRole('link', { name: `Recall lot ${lot.code} …` }).press('Enter')
  await expect(page.getByRole('heading', { level: 1, name: /fit for use$/ })).toBeVisible()
  await accessible()
  await page.getByRole('button', { name: `Recall lot ${lot.code} …` }).press('Enter')
  await page.getByRole('textbox', { name: 'What is wrong' }).fill('the end caps come loose')
  await page.getByRole('textbox', { name: 'Whose notice' }).fill('FS-2026-11')
  await accessible()
  await look('recall-form')
  await page.getByRole('textbox', { name: 'Whose notice' }).press('Enter')
  await expect(page.getByRole('heading', { level: 1, name: `Recall of lot ${lot.code}` })).toBeVisible()
  await expect(page.getByText(/is recalled\. \d+ pieces? went to quarantine/)).toBeVisible()
  await expect(page.getByText('FS-2026-11: the end caps come loose')).toBeVisible()
  await accessible()
  await look('recall-sheet')

  await page.getByRole('button', { name: /^Book \d+ visits? …$/ }).press('Enter')
  await expect(page.getByText(/promised, call and change free of charge/)).toBeVisible()
  await accessible()
  await look('recall-visits')
  const book = page.getByRole('button', { name: /^Book \d+ visits?$/ })
  await book.press('Enter')
  await expect(page.getByText(/\d+ visits? booked\./).first()).toBeVisible()
  await page.keyboard.press('Escape')

  await page.getByRole('button', { name: /^Write \d+ letters? …$/ }).press('Enter')
  await page.getByRole('button', { name: /^Write \d+ letters?$/ }).press('Enter')
  await expect(page.getByText(/\d+ letters? written\. Print them below\./)).toBeVisible()
  await expect(page.getByRole('button', { name: /^Print \d+ letters?$/ })).toBeVisible()
  await accessible()
  await look('recall-letters')
  await page.keyboard.press('Escape')
  await expect(page.getByRole('button', { name: 'Fit for use again …' })).toBeVisible()
  const sheet = await opened.office.desk().read.selectFrom('recall_letters').select('id').execute()
  expect(sheet.length).toBeGreaterThan(0)

  await page.getByRole('button', { name: 'Fit for use again …' }).press('Enter')
  await expect(page.getByText(/had a letter: tell them/)).toBeVisible()
  await accessible()
  await page.getByRole('button', { name: `Free lot ${lot.code} for use` }).press('Enter')
  await expect(page.getByText(/is fit for use again\. \d+ pieces? went back from quarantine\./)).toBeVisible()
  await page.getByRole('link', { name: 'All recalled lots' }).press('Enter')
  await expect(page.getByText('No lot is recalled.')).toBeVisible()
})
