import type { OpenDatabase } from '../../core/database/handles.ts'
import type { Office } from '../../core/office.ts'
import { aToldHome, reckonDueDates } from '../builders/a-told-home.ts'
import { FOUR_HOMES } from '../builders/four-told-homes.ts'
import { expect, test } from './office-fixture.ts'

/** Hard water and a failing membrane, soft water and a healthy old one, a couple, a family of six: households 1 to 4. */
async function fourHomes(books: OpenDatabase, office: Office): Promise<void> {
  for (const home of FOUR_HOMES) await aToldHome(books, home)
  await reckonDueDates(office)
}

// A function would be taken for a fixture of its own: it is handed on by one.
test.use({ books: async ({ baseURL: _ }, use) => use(fourHomes), today: '2026-12-01' })

const household = (address: string, site: number): string => `${address.split('#')[0]}#/households?open=${site}`

test('PIC-2 PIC-6 hard water and a failing membrane: the reading decides, and the sheet says by when and how sure', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(household(page.url(), 1))
  const membrane = page.getByRole('button', { name: /^Membrane/ })
  await expect(membrane).toContainText('holds back 77 of 100')
  await expect(page.getByText('It holds back 77 of 100 parts and loses about 6 a year')).toBeVisible()
  await expect(page.getByText(/The day lies between January 2027 and July 2027/)).toBeVisible()
  await expect(
    page.getByRole('img', { name: /Rejection of this membrane.*77 of 100 parts and loses about 6 a year/ }),
  ).toBeVisible()
  await membrane.focus()
  await page.keyboard.press('Enter')
  const rules = page.getByRole('region', { name: 'Why this date: Membrane' })
  await expect(rules.getByRole('row', { name: /Measurement.*decides/ })).toBeVisible()
  await expect(rules.getByRole('row', { name: /Feed water.*24 months.*the readings take its place/ })).toBeVisible()
  await accessible()
  await look('home-hard-water')
})

test('DUE-6 PIC-6 soft water: seven years old and still healthy, the calendar waits for the next reading', async ({
  page,
  accessible,
}) => {
  await page.goto(household(page.url(), 2))
  await expect(page.getByRole('button', { name: /^Membrane/ })).toContainText('still holds back 94 of 100')
  await expect(page.getByText(/It holds back 94 of 100 parts/)).toBeVisible()
  await expect(page.getByText(/is not worth changing|Leave it where it is/)).toBeVisible()
  await accessible()
})

test('PIC-3 PIC-6 a couple: two readings are too few for a trend, and less water comes by pressure and cold alone', async ({
  page,
  accessible,
}) => {
  await page.goto(household(page.url(), 3))
  await expect(page.getByRole('button', { name: /^Sediment/ })).toContainText('12 months, household of two')
  await expect(page.getByText(/a trend needs three|needs three/).first()).toBeVisible()
  await expect(page.getByText('Low pressure.')).toBeVisible()
  await expect(page.getByText('Cold water.')).toBeVisible()
  await accessible()
})

test('PIC-4 PIC-6 a family of six: six months, a meter, clogged filters, and the visits to come as line and list', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(household(page.url(), 4))
  await expect(page.getByRole('button', { name: /^Sediment/ })).toContainText('2,637 of 1,500 gal')
  await expect(page.getByText('Clogged filters ahead of the membrane.')).toBeVisible()
  await expect(page.getByText('Drunk: 3.2 gal a day by the meter.')).toBeVisible()
  await expect(page.getByRole('img', { name: /^The visits to come\. / })).toBeVisible()
  await page.getByText(/^\d+ visits until/).click()
  await expect(page.getByRole('row', { name: /Dec 1, 2026.*change sediment, carbon, post carbon/ })).toBeVisible()
  await accessible()
  await look('home-family-of-six')
})

test('VIS-17 VIS-18 VIS-19 a reading outside a visit: conductivity, a timed flow, refused, asked, marked, struck out, taken back', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(household(page.url(), 3))
  await page.getByRole('button', { name: 'Write down a reading' }).click()
  const keep = page.getByRole('button', { name: 'Keep this reading' })
  await expect(keep).toBeDisabled()
  await page.getByLabel('TDS in').fill('680 µS/cm')
  await expect(page.getByText('is 340 mg/L')).toBeVisible()
  await page.getByLabel('TDS out').fill('400')
  await expect(page.getByText(/400 mg\/L/).last()).toBeVisible()
  await expect(keep).toBeDisabled()
  await page.getByLabel('TDS out').fill('20')
  await page.getByText('Time the flow with a vessel and a watch').click()
  await page.getByLabel('The vessel holds').fill('16')
  await page.getByLabel('Seconds to fill it').fill('95')
  await page.getByRole('button', { name: 'Take 113.7 gal/day' }).click()
  await expect(page.getByRole('textbox', { name: 'Flow', exact: true })).toHaveValue('16 oz in 95 s')
  await page.getByLabel('Feed pressure').fill('4.1 bar')
  await expect(page.getByText('is 59 psi')).toBeVisible()
  await accessible()
  await look('household-reading')
  await page.reload()
  await page.getByRole('button', { name: 'Write down a reading' }).click()
  await expect(page.getByLabel('TDS in')).toHaveValue('680 µS/cm')
  await page.getByLabel('TDS out').fill('250')
  await expect(page.getByText('A membrane that holds back only 26 % is unusual.')).toBeVisible()
  await expect(keep).toBeDisabled()
  await page.getByRole('checkbox', { name: 'The figures are right; keep them with a mark' }).press('Space')
  await keep.click()
  await expect(page.getByText('unlikely, kept with its mark; no date rests on it')).toBeVisible()
  await page.getByRole('button', { name: 'Strike out Dec 1, 2026' }).click()
  await page.getByLabel('Why it does not count').fill('the meter was at the feed')
  await page.getByRole('button', { name: 'Strike out this reading' }).click()
  await expect(page.getByRole('cell', { name: 'struck out: the meter was at the feed' })).toBeVisible()
  await accessible()
  await page.getByRole('button', { name: 'Take back the striking of Dec 1, 2026' }).click()
  await expect(page.getByRole('cell', { name: 'struck out: the meter was at the feed' })).toBeHidden()
})

test('DUE-11 a date of one’s own with its note and its end, and the rules speak again', async ({
  page,
  accessible,
}) => {
  await page.goto(household(page.url(), 2))
  await page.getByRole('button', { name: /^Tank/ }).click()
  const rules = page.getByRole('region', { name: 'Why this date: Tank' })
  await rules.getByRole('button', { name: 'Set a date by hand' }).click()
  await rules.getByLabel('Due on').fill('2027-02-01')
  await rules.getByLabel('Why that date').fill('they are rebuilding the kitchen')
  await rules.getByLabel('It stands until').fill('2027-06-30')
  await accessible()
  await rules.getByRole('button', { name: 'Set this date' }).click()
  await expect(rules.getByText(/Set by hand: Feb 1, 2027, they are rebuilding the kitchen/)).toBeVisible()
  await expect(rules.getByRole('row', { name: /Date set by hand.*decides/ })).toBeVisible()
  await rules.getByRole('button', { name: 'Change that date' }).click()
  await rules.getByRole('button', { name: 'Let the rules speak again' }).click()
  await expect(rules.getByText('No date is set by hand.')).toBeVisible()
})

test('PLAN-2 what a household wishes of its visits is kept, and they are planned again by it', async ({
  page,
  look,
  accessible,
}) => {
  await page.goto(household(page.url(), 1))
  await page.getByText(/^Wishes/).click()
  await page.getByRole('checkbox', { name: 'January', exact: true }).press('Space')
  await accessible()
  await look('household-wishes')
  await page.getByRole('button', { name: 'Plan by these wishes' }).click()
  await expect(page.getByText(/^Wishes: .*January/)).toBeVisible()
})

test('PIC-5 the household’s page is printed from its sheet', async ({ page, opened }) => {
  await page.goto(household(page.url(), 1))
  await expect(page.getByRole('button', { name: 'Print its page' })).toBeVisible()
  const response = await opened.office.handle(new Request('http://office/papers/household/1.pdf'))
  expect(response.status).toBe(200)
  expect(response.headers.get('content-type')).toBe('application/pdf')
})
