import type { OpenDatabase } from '../../core/database/handles.ts'
import { aMailedHousehold } from '../builders/a-mailed-household.ts'
import { expect, test } from './office-fixture.ts'

/** Six households that are owed a first letter, in two towns. */
async function sixAreOwed(books: OpenDatabase): Promise<void> {
  const names = [
    'Abernathy-Vance, Corinne',
    'Ashgrove, Łucja',
    'Castellane, Wilhelmina',
    'Galbraith, Ottoline',
    'Ivanek, Rosalind',
  ]
  for (const [index, name] of ['Bexhill-Moreno, Idris', ...names].entries())
    await aMailedHousehold(books, {
      reference: `BM-04${17 + index}`,
      name,
      dueOn: `2026-12-${String(3 + index * 3).padStart(2, '0')}`,
      street: `${7 + index} Millrace Ct`,
      ...(index % 2 === 0 ? {} : { town: 'Pell Harbor', postalCode: '00101' }),
    })
}

// A function would be taken for a fixture of its own: it is handed on by one.
test.use({ books: async ({ baseURL: _ }, use) => use(sixAreOwed), today: '2026-11-25' })

test('letters are looked at, written, printed and taken back', async ({ page, look, accessible }) => {
  await page.goto(`${page.url().split('#')[0]}#/letters`)
  await expect(page.getByRole('heading', { name: /letters are owed/ })).toBeVisible()
  await accessible()
  await look('letters-owed')
  const table = page.getByRole('grid', { name: 'Households that are owed a letter' })
  await table.focus()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('figure', { name: 'The first page of the letter' })).toBeVisible()
  await expect(page.getByText('Our reference', { exact: false })).toBeVisible()
  await accessible()
  await look('letters-preview')
  await page.keyboard.press('Escape')
  await table.focus()
  await page.keyboard.press('Space')
  await page.getByRole('button', { name: 'Write 1 letter' }).click()
  await expect(page.getByText('1 letter written.')).toBeVisible()
  await expect(page.getByRole('button', { name: 'Print 1 letter' })).toBeVisible()
  await accessible()
  await look('letters-run')
  await page.getByRole('button', { name: 'Take back this run' }).click()
  await page.getByRole('textbox', { name: 'Why' }).fill('the printer ran dry')
  await look('letters-take-back')
  await page.getByRole('button', { name: 'Take back 1 letter' }).click()
  await expect(page.getByText('taken back: the printer ran dry').first()).toBeVisible()
})

test('the wording is changed with the page beside it, and what was typed is still there after another tray', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(`${page.url().split('#')[0]}#/letters?view=wording`)
  const subject = page.getByRole('textbox', { name: 'Subject' })
  await expect(page.getByRole('figure', { name: 'The first page of the letter' })).toBeVisible()
  await subject.fill('It is time again: {due}')
  await expect(page.getByText('It is time again: Three filters', { exact: false })).toBeVisible()
  await accessible()
  await look('letters-wording')
  await page.getByRole('textbox', { name: 'Letter', exact: true }).fill('Dear {nmae}')
  await expect(page.getByText('There is no field called "nmae".')).toBeVisible()
  await page.getByRole('link', { name: /^Due/ }).first().click()
  await page.goBack()
  await expect(page.getByRole('textbox', { name: 'Letter', exact: true })).toHaveValue('Dear {nmae}')
})

test('where there is room for one sheet the wording comes first, and its page when it is asked for', async ({
  page,
  look,
}) => {
  await page.setViewportSize({ width: 1024, height: 768 })
  await page.goto(`${page.url().split('#')[0]}#/letters?view=wording`)
  const subject = page.getByRole('textbox', { name: 'Subject' })
  const picture = page.getByRole('figure', { name: 'The first page of the letter' })
  await subject.fill('Time again: {due}')
  await expect(picture).toBeHidden()
  await look('letters-wording-alone')
  await page.getByRole('button', { name: 'Look at the page' }).click()
  await expect(page.getByText('Time again: Three filters', { exact: false })).toBeVisible()
  await page.getByRole('button', { name: 'Back to the wording' }).click()
  await expect(subject).toHaveValue('Time again: {due}')
  await expect(subject).toBeVisible()
})

test('at twice the size nothing of the letters is cut off at the side', async ({ page, accessible }) => {
  // A window of 1440 x 900 at 200 % has room for 720 x 450.
  await page.setViewportSize({ width: 720, height: 450 })
  for (const view of ['owed', 'runs', 'wording']) {
    await page.goto(`${page.url().split('#')[0]}#/letters?view=${view}`)
    await expect(page.getByRole('heading', { level: 1 })).toBeVisible()
    await accessible()
    expect(
      await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth),
      view,
    ).toBeLessThanOrEqual(0)
    const folder = process.env.PENSTOCK_SHOTS
    if (folder) await page.screenshot({ path: `${folder}/letters-200-${view}.png` })
  }
})

test('households chosen on the Due sheet come chosen, and who is not owed a letter is said', async ({
  page,
  opened,
}) => {
  const sites = await opened.books.read.selectFrom('sites').select('id').orderBy('id').limit(2).execute()
  await page.goto(`${page.url().split('#')[0]}#/letters?households=${sites.map((site) => site.id).join(',')},9999`)
  await expect(page.getByText('2 chosen')).toBeVisible()
  await expect(page.getByText('1 of the 3 chosen is not owed a letter now', { exact: false })).toBeVisible()
  await expect(page.getByRole('button', { name: 'Write 2 letters' })).toBeVisible()
})
