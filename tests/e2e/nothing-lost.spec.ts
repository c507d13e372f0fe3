import type { Locator, Page } from '@playwright/test'
import { aSmallDemo } from '../builders/a-small-demo.ts'
import { expect, test } from './office-fixture.ts'

/** A form somewhere: its address, the buttons that open it, one of its fields, and what is typed there. */
interface Form {
  readonly address: string
  readonly opens?: string
  readonly field: string
  readonly typed: string
}

const settings = (page: string, field: string, typed: string, opens?: string): Form =>
  opens === undefined
    ? { address: `settings?page=${page}`, field, typed }
    : { address: `settings?page=${page}`, opens, field, typed }

const SETTINGS: readonly Form[] = [
  settings('office', 'Street', '6 Sluice Yard'),
  settings('office', 'Who writes', 'Oda'),
  settings('due', 'Grace', '45'),
  settings('letters', 'First letter', '25'),
  settings('visits', 'At the door', '24'),
  settings('money', 'The call', '71.00'),
  settings('stock', 'Delivery takes', '12'),
  settings('people', 'Name', 'Odalys Brandt', 'Add a technician'),
  settings('people', 'Why', 'harvest', 'Add days off for Ilse Ravndal'),
]

const fieldOf = (page: Page, { field }: Form): Locator =>
  page.getByRole('textbox', { name: field, exact: true }).first()

async function open(page: Page, form: Form): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash
  }, `#/${form.address}`)
  await expect(page.locator('main h1').first()).toBeVisible()
  if (form.opens === undefined) return
  // A form that was left open is open when one comes back.
  const field = fieldOf(page, form)
  const opener = page.getByRole('button', { name: form.opens, exact: true })
  await expect(field.or(opener).first()).toBeVisible()
  if (!(await field.isVisible())) await opener.click()
}

async function stays(page: Page, form: Form): Promise<void> {
  await open(page, form)
  await fieldOf(page, form).fill(form.typed)
  await fieldOf(page, form).press('Tab')
  await page.keyboard.press('Alt+1')
  await expect(page).toHaveURL(/#\/due/)
  await open(page, form)
  await expect(fieldOf(page, form)).toHaveValue(form.typed)
  await page.reload()
  await open(page, form)
  await expect(fieldOf(page, form)).toHaveValue(form.typed)
}

test.describe.configure({ timeout: 120_000 })
test.use({ books: 'unfounded' })

test('what is typed in any form outlives another tray and a reload', async ({ page, opened }) => {
  await aSmallDemo(opened.office)
  await page.reload()
  const { read } = opened.books
  const draft = await read.selectFrom('invoices').select('id').where('state', '=', 'draft').executeTakeFirstOrThrow()
  const visit = await read.selectFrom('visits').select('id').where('state', '=', 'booked').executeTakeFirstOrThrow()
  const due = await read.selectFrom('sites').select('id').orderBy('due_on').executeTakeFirstOrThrow()
  const part = await read.selectFrom('parts').select('id').orderBy('id').executeTakeFirstOrThrow()
  for (const form of [
    ...SETTINGS,
    { address: 'households?open=new', field: 'Street', typed: '18 Weirside Lane' },
    { address: `bookings?open=${due.id}`, field: 'Note for the job card', typed: 'Ring before you set out' },
    { address: `visits?open=${visit.id}&do=report`, field: 'Remarks', typed: 'the valve is stiff' },
    { address: `invoices?open=${draft.id}`, field: 'Their reference', typed: 'order 77' },
    { address: `stock?open=${part.id}`, opens: 'Receive a lot', field: 'Lot, as on the box', typed: '2612-004' },
  ])
    await stays(page, form)
})
