import { readFile } from 'node:fs/promises'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { aPlannedHousehold } from '../builders/a-planned-household.ts'
import { aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { expect, test } from './office-fixture.ts'

/** Ilse has eight hours a day: 30 households come together in the week of Jan 11, the weeks around it hold a few. */
async function aCrowdedJanuary(books: OpenDatabase): Promise<void> {
  await aTechnicianWithVan(books.write, 'Ilse Ravndal')
  const days = [
    ...Array.from({ length: 30 }, (_, index) => addDays(calendarDate('2027-01-11'), index % 5)),
    ...Array.from({ length: 6 }, (_, index) => addDays(calendarDate('2027-01-04'), index % 5)),
    ...Array.from({ length: 12 }, (_, index) => addDays(calendarDate('2027-02-01'), index * 7)),
  ]
  for (const [index, on] of days.entries())
    await aPlannedHousehold(books, {
      reference: `H-${index + 1}`,
      name: `Household ${index + 1}`,
      visits: [{ on, latestOn: addDays(on, 14), minutes: 84 }],
    })
  await aPlannedHousehold(books, {
    reference: 'H-late',
    name: 'Household late',
    dueOn: '2026-10-12',
    visits: [{ on: '2026-12-01', latestOn: '2026-12-01', minutes: 84 }],
  })
}

test.describe('the weeks ahead', () => {
  test.use({ books: async ({ baseURL: _ }, use) => use(aCrowdedJanuary) })

  test('a week is chosen by keyboard and says what falls due, what could move where and what to do', async ({
    page,
    look,
    accessible,
  }) => {
    await expect(page.getByRole('heading', { name: 'The next 52 weeks' })).toBeVisible()
    await expect(page.getByText('As planned the fullest is the week of Jan 11: 52 h of 40 h, 130 %.')).toBeVisible()
    await expect(page.getByText(/No shifting can bring the fullest week below/)).toBeVisible()
    await expect(page.getByText(/1 visit is past the grace already, 1 h 44 of work/)).toBeVisible()
    await expect(page.getByRole('img', { name: /The next 52 weeks against the hours there are/ })).toBeVisible()
    const weeks = page.getByRole('slider', { name: 'Week to look at' })
    await expect(weeks).toHaveAttribute('aria-valuetext', /^the week of Jan 11: 30 visits planned, none booked/)
    await look('look-ahead')
    await weeks.focus()
    await page.keyboard.press('ArrowLeft')
    await expect(page).toHaveURL(/week=2027-01-04/)
    await expect(page.getByRole('heading', { name: 'The week of Jan 4' })).toBeVisible()
    // 72 days before Mar 7 are over on Dec 25: a letter of today would not count any more.
    await page.goto(`${page.url().split('?')[0]}?week=2027-03-01`)
    await expect(page.getByText('Letters to them can be written from Dec 25 on')).toBeVisible()
    await weeks.focus()
    await page.keyboard.press('End')
    await expect(page.getByRole('heading', { name: 'The week of Nov 22' })).toBeVisible()
    await page.reload()
    await expect(page.getByRole('heading', { name: 'The week of Nov 22' })).toBeVisible()
    await accessible()
  })

  test('a press on the picture chooses the week below it', async ({ page }) => {
    const weeks = page.getByRole('slider', { name: 'Week to look at' })
    await expect(weeks).toBeVisible()
    const box = await weeks.boundingBox()
    if (!box) throw new Error('The weeks are drawn')
    for (const at of [0, 6, 25, 51]) {
      await page.mouse.click(box.x + ((at + 0.5) * box.width) / 52, box.y + box.height / 2)
      await expect(weeks).toHaveValue(String(at))
    }
  })

  test('letters for a week that is too full go from the desk through the Due list to the letters', async ({
    page,
    look,
  }) => {
    await page.getByRole('button', { name: 'Write letters for the 30 households of the week of Jan 11 now' }).click()
    await expect(
      page.getByRole('heading', { name: '30 households have their next visit in the week of Jan 11' }),
    ).toBeVisible()
    await look('look-ahead-due')
    await page.getByRole('button', { name: 'Write to all 30 households' }).click()
    await expect(page.getByText('These households are written to ahead of their time.')).toBeVisible()
    await page.getByRole('button', { name: 'Write 30 letters' }).click()
    await expect(page.getByText('30 letters written.')).toBeVisible()
    await page.goBack()
    await page.getByRole('button', { name: 'Look at all that are owed a letter' }).click()
    await expect(page.getByRole('heading', { name: /^(1 letter is owed|No letters are owed)/ })).toBeVisible()
  })

  test('who is past the grace is found from the desk', async ({ page }) => {
    await page.getByRole('button', { name: 'Look through the 1 household past the grace' }).click()
    await expect(page.getByRole('heading', { name: '1 household is past the grace' })).toBeVisible()
    await page.getByRole('button', { name: 'Look at all that is due' }).click()
    await expect(page.getByRole('heading', { name: /due within 4 weeks/ })).toBeVisible()
  })

  test('the same stands in a table that can be saved', async ({ page, look, accessible }) => {
    await page.getByRole('button', { name: 'Show the 52 weeks as a table' }).click()
    const table = page.getByRole('grid', { name: 'The next 52 weeks' })
    await expect(table).toBeVisible()
    await accessible()
    await table.scrollIntoViewIfNeeded()
    await look('look-ahead-table')
    const waiting = page.waitForEvent('download')
    await page.getByRole('button', { name: 'Save this list' }).click()
    const file = await (await waiting).path()
    const lines = (await readFile(file, 'utf8')).split(/\r?\n/)
    expect(lines[0]).toContain('Week of')
    expect(lines.find((line) => line.includes('2027-01-11'))).toMatch(/40.*52/)
    expect(lines.filter((line) => line !== '')).toHaveLength(53)
  })
})

test.describe('an office without households', () => {
  test.use({ books: 'empty' })

  test('the weeks ahead say why they are empty and what to do', async ({ page, accessible }) => {
    await expect(page.getByText('Nothing is known to fall due in this time.')).toBeVisible()
    await accessible()
  })
})
