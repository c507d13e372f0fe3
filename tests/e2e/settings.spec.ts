import { expect, test } from './office-fixture.ts'

test.describe('an office that sets itself up', () => {
  test.use({ books: 'empty', provokes: [/status of 422/] })

  test('every page of the settings is readable and has no finding', async ({ page, opened, look, accessible }) => {
    for (const name of ['office', 'due', 'letters', 'visits', 'money', 'stock', 'people', 'books', 'appearance']) {
      await page.goto(`${opened.origin}/#/settings?page=${name}`)
      await expect(page.locator('.settings-page[aria-current]')).toBeVisible()
      await expect(page.locator('.settings-body h2.as-head')).toBeVisible()
      await accessible()
      await look(`settings-${name}`)
    }
  })

  test('a figure is changed, refused when it cannot be, undone, and put back to the usual value', async ({
    page,
    opened,
    look,
  }) => {
    await page.goto(`${opened.origin}/#/settings?page=money`)
    const call = page.getByRole('textbox', { name: 'The call' })
    await call.fill('70')
    await page.getByRole('button', { name: 'Save' }).click()
    await expect(page.getByText('The call: now $70.00.')).toBeVisible()
    await page.getByRole('button', { name: 'Undo' }).click()
    await expect(page.getByText('The call is as it was.')).toBeVisible()
    await expect(call).toHaveValue('64.00')
    await page.getByRole('textbox', { name: 'Tax', exact: true }).fill('300')
    await page.getByRole('button', { name: 'Save' }).click()
    await expect(page.getByText('Tax: this must be 100 % or less.')).toBeVisible()
    await look('settings-refused')
    await page.getByRole('textbox', { name: 'Tax', exact: true }).fill('6')
    await page.getByRole('button', { name: 'Save' }).click()
    await page.getByRole('button', { name: 'Put Tax back to the usual value' }).click()
    await expect(page.getByRole('textbox', { name: 'Tax', exact: true })).toHaveValue('5.6')
  })

  test('a technician is added with days off', async ({ page, opened, look }) => {
    await page.goto(`${opened.origin}/#/settings?page=people`)
    await page.getByRole('button', { name: 'Add a technician' }).click()
    await page.getByLabel('Name', { exact: true }).fill('Ilse Rademaker')
    await page.getByRole('button', { name: 'Add the technician' }).click()
    await expect(page.getByText('Mon Tue Wed Thu Fri, 8:00 am to 5:00 pm')).toBeVisible()
    await page.getByRole('button', { name: 'Add days off for Ilse Rademaker' }).click()
    await page.getByLabel('Off from').fill('+23')
    await page.getByRole('button', { name: 'Write them down' }).click()
    await expect(page.getByText('off Dec 24, 2026')).toBeVisible()
    await look('settings-technician')
  })
})
