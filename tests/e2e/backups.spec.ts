import { expect, test } from './office-fixture.ts'

test('the owner makes a backup, asks to put it back, and thinks better of it', async ({
  page,
  opened,
  look,
  accessible,
}) => {
  await page.goto(`${opened.origin}/#/settings?page=books`)
  await expect(page.getByText('There is no backup yet.')).toBeVisible()
  await page.getByRole('button', { name: 'Back up the books now' }).click()
  await expect(page.getByText('made here')).toBeVisible()
  await look('backups')
  await accessible()
  await page.getByRole('button', { name: /^Put back the backup/ }).click()
  await expect(page.getByRole('alertdialog')).toContainText('What was written since then is not in them')
  await accessible()
  await page.getByRole('button', { name: 'Put it back at the next opening' }).click()
  await expect(page.getByRole('alertdialog')).toBeHidden()
  await expect(page.getByText('put back when Penstock is opened next')).toBeVisible()
  await page.getByRole('button', { name: 'Keep the books as they are' }).click()
  await expect(page.getByText('put back when Penstock is opened next')).toBeHidden()
})
