import { expect, test } from './office-fixture.ts'

test.use({ books: 'demo', today: '2026-11-25' })

test('letters are looked at, written, printed and taken back', async ({ page, opened, look, accessible }) => {
  await page.goto(`${opened.newAddress()}#/letters`)
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
  const runs = page.getByRole('grid', { name: 'Runs of letters' })
  await runs.focus()
  await page.keyboard.press('Enter')
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
  opened,
  look,
  accessible,
}) => {
  await page.goto(`${opened.newAddress()}#/letters?view=wording`)
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
