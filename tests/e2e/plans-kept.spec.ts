import type { OpenDatabase } from '../../core/database/handles.ts'
import { aPartInStock, aServicedHousehold, aTechnicianWithVan } from '../builders/a-serviced-household.ts'
import { expect, test } from './office-fixture.ts'

/** A household that nobody has planned, its stages late since November. */
async function oneNotPlanned({ write }: OpenDatabase): Promise<void> {
  const { vanPlaceId } = await aTechnicianWithVan(write)
  const { partId } = await aPartInStock(write, 'P-1005', 'Sediment filter, 10 in', vanPlaceId)
  await aServicedHousehold(write, {
    parts: [
      { kind: 'sediment', partId },
      { kind: 'membrane', partId: null },
      { kind: 'tank', partId: null },
    ],
  })
}

// A function would be taken for a fixture of its own: it is handed on by one.
test.use({ books: async ({ baseURL: _ }, use) => use(oneNotPlanned) })

test('PLAN-12 PLAN-9 plans are made by themselves when the office opens, and a booking says what leaving a stage would cost', async ({
  page,
  opened,
  look,
  accessible,
}) => {
  const plans = () => opened.books.read.selectFrom('site_plans').select(['stale', 'visits']).execute()
  await expect.poll(plans).toHaveLength(1)
  expect(await plans()).toMatchObject([{ stale: 0 }])
  await page.goto(`${page.url().split('#')[0]}#/bookings?who=all-due&open=1`)
  await expect(page.getByRole('checkbox', { name: 'Change sediment' })).toBeChecked()
  await expect(
    page.getByText(/due Nov 9, 2026, 3 weeks late; leaving it would cost \$[\d.]+ more by 2031/).first(),
  ).toBeVisible()
  await accessible()
  await look('bookings-by-plan')
})
