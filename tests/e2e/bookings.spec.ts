import type { OpenDatabase } from '../../core/database/handles.ts'
import { aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { expect, test } from './office-fixture.ts'

/** Two households that are due, one technician. */
async function twoWhoWait({ write }: OpenDatabase): Promise<void> {
  const { vanPlaceId } = await aTechnicianWithVan(write)
  const { partId } = await aPartInStock(write, 'P-1005', 'Sediment filter, 10 in', vanPlaceId)
  const parts = [
    { kind: 'sediment', partId },
    { kind: 'membrane', partId: null },
    { kind: 'tank', partId: null },
  ] as const
  await aServicedHousehold(write, { parts })
  await aServicedHousehold(write, { reference: 'BM-0417', name: 'Bexhill-Moreno, Idris', town: 'Pell Harbor', parts })
}

// A function would be taken for a fixture of its own: it is handed on by one.
test.use({ books: async ({ baseURL: _ }, use) => use(twoWhoWait) })

test('VIS-10 VIS-13 VIS-23 who waits is booked into a free day, by keyboard alone, and it can be undone', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(`${page.url().split('#')[0]}#/bookings?who=all-due`)
  await expect(page.getByRole('heading', { name: '2 households are due without a booking' })).toBeVisible()
  await page.getByText('Abernathy-Vance, Corinne').first().click()
  await page.keyboard.press('Enter')
  await expect(page.getByRole('heading', { name: 'Book Abernathy-Vance, Corinne' })).toBeVisible()
  await expect(page.getByRole('checkbox', { name: 'Change sediment' })).toBeChecked()
  await accessible()
  await page
    .getByRole('button', { name: /Wednesday, Dec 2/ })
    .first()
    .press('Enter')
  await expect(page.getByText('1 h 01 there')).toBeVisible()
  await look('bookings-form')
  await page.getByRole('button', { name: /^Book Wednesday/ }).press('Enter')
  await expect(page.getByRole('heading', { name: '1 household is due without a booking' })).toBeVisible()
  await page.getByRole('button', { name: /Undo|Take back/ }).click()
  await expect(page.getByRole('heading', { name: '2 households are due without a booking' })).toBeVisible()
})

test('VIS-4 what speaks against a day is said before it is saved, and what was typed survives another tray', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(`${page.url().split('#')[0]}#/bookings?who=all-due&open=1`)
  await page
    .getByRole('button', { name: /Wednesday, Dec 2/ })
    .first()
    .click()
  const day = page.getByRole('textbox', { name: 'Day' })
  await day.fill('Dec 5, 2026')
  await day.press('Tab')
  await expect(page.getByText('does not usually work on a Saturday')).toBeVisible()
  const book = page.getByRole('button', { name: /^Book Saturday/ })
  await expect(book).toBeDisabled()
  await page.getByRole('textbox', { name: 'Note for the job card' }).fill('Ring before you set out')
  await page.keyboard.press('Alt+5')
  await page.keyboard.press('Alt+3')
  await page.goto(`${page.url().split('#')[0]}#/bookings?who=all-due&open=1`)
  await expect(page.getByRole('textbox', { name: 'Note for the job card' })).toHaveValue('Ring before you set out')
  await page.getByRole('checkbox', { name: 'I know; book it all the same' }).press('Space')
  await accessible()
  await look('bookings-against')
  await book.click()
  await expect(page.getByRole('heading', { name: '1 household is due without a booking' })).toBeVisible()
})

test('VIS-24 VIS-25 by keyboard: own minutes, the readings, a task of its own, and nobody yet; then it is given to someone', async ({
  page,
  look,
  accessible,
}) => {
  const origin = page.url().split('#')[0]
  await page.goto(`${origin}#/bookings?who=all-due&open=1`)
  const day = page.getByRole('textbox', { name: 'Day' })
  await day.fill('Dec 2, 2026')
  await day.press('Tab')
  const who = page.getByRole('button', { name: /Technician/ })
  await who.press('Enter')
  await page.getByRole('option', { name: 'Nobody yet' }).press('Enter')
  await expect(page.getByText('Nothing is pulled for it until someone has it.')).toBeVisible()
  await page.getByRole('checkbox', { name: 'Take the readings' }).press('Space')
  await page.getByRole('textbox', { name: 'Minutes for the readings' }).fill('15')
  await page.getByRole('button', { name: 'Write down another task' }).press('Enter')
  await expect(page.getByRole('textbox', { name: 'Other task 1' })).toBeFocused()
  await expect(page.getByRole('button', { name: /^Book Wednesday/ })).toBeDisabled()
  await page.keyboard.type('Look at the tap')
  await page.getByRole('textbox', { name: 'Our own minutes there' }).fill('95')
  await expect(page.getByText('Built up from the call and the tasks it would be')).toBeVisible()
  await accessible()
  await page.keyboard.press('Alt+5')
  await page.goto(`${origin}#/bookings?who=all-due&open=1`)
  await expect(page.getByRole('textbox', { name: 'Our own minutes there' })).toHaveValue('95')
  await expect(page.getByRole('textbox', { name: 'Other task 1' })).toHaveValue('Look at the tap')
  await expect(page.getByText('1 h 35 there')).toBeVisible()
  await look('bookings-nobody-yet')
  await page.getByRole('button', { name: /^Book Wednesday/ }).press('Enter')
  await expect(page.getByRole('heading', { name: '1 visit that nobody has yet' })).toBeVisible()
  await page.goto(`${origin}#/visits`)
  await expect(page.getByRole('rowheader', { name: /Nobody yet/ })).toContainText(
    'nothing is pulled until someone has it',
  )
  await page.goto(`${origin}#/bookings?who=all-due`)
  await page.getByRole('button', { name: /^Give it to someone.*Abernathy-Vance/ }).press('Enter')
  await expect(page.getByRole('heading', { name: 'Give Abernathy-Vance, Corinne to someone' })).toBeVisible()
  await expect(page.getByRole('textbox', { name: 'Our own minutes there' })).toHaveValue('95')
  await page.getByRole('button', { name: /Technician/ }).press('Enter')
  await page.getByRole('option', { name: 'Ilse Rademaker' }).press('Enter')
  await look('bookings-give')
  await page.getByRole('button', { name: /^Give it to Ilse Rademaker/ }).press('Enter')
  await expect(page.getByText(/Ilse Rademaker has Abernathy-Vance, Corinne now/)).toBeVisible()
  await expect(page.getByText('that nobody has yet')).toHaveCount(0)
})
