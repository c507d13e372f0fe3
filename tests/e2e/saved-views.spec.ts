import { readdirSync, readFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import type { Locator, Page } from '@playwright/test'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { addDays, calendarDate } from '../../core/units/calendar-date.ts'
import { WORKS } from '../../core/works.ts'
import { readSavedView } from '../judges/read-saved-view.ts'
import { expect, type OpenedOffice, test } from './office-fixture.ts'

const renderer = fileURLToPath(new URL('../../renderer', import.meta.url))

/** The name of every table that can be saved, as its screen's source gives it: `name="due"`, name={`invoices-${pile}`}. */
function tablesOfTheProgram(): RegExp[] {
  const sources = readdirSync(renderer, { recursive: true, encoding: 'utf8' }).filter((file) => file.endsWith('.tsx'))
  return sources.flatMap((file) => {
    const text = readFileSync(`${renderer}/${file}`, 'utf8')
    return [...text.matchAll(/<DataTable(?:<\w+>)?\n([\s\S]*?)\n\s*\/>/g)].flatMap(([, props = '']) => {
      const name = /\bname=(?:"([^"]+)"|\{`([^`]+)`\})/.exec(props)
      if (name === null || /^\s*bare$/m.test(props)) return []
      return [new RegExp(`^${(name[1] ?? name[2] ?? '').replace(/\$\{\w+\}/g, '.+')}$`)]
    })
  })
}

/** Names that a spreadsheet would run, in the books of the demo office. */
async function writeLiveNames({ write }: OpenDatabase): Promise<void> {
  const names = [
    '=HYPERLINK("http://example.com","Holt")',
    '+1 555-0142',
    '-2+3',
    '@SUM(A1)',
    '\t=1',
    '＝1+1',
    'Łódź, "Ida"',
  ]
  const customers = await write.selectFrom('customers').select('id').orderBy('id').execute()
  for (const [at, { id }] of customers.entries())
    await write
      .updateTable('customers')
      .set({ sort_name: `${names[at % names.length]} ${id}`, letter_name: `${names[at % names.length]} ${id}` })
      .where('id', '=', id)
      .execute()
  const parts = await write.selectFrom('parts').select('id').orderBy('id').execute()
  for (const [at, { id }] of parts.entries())
    await write
      .updateTable('parts')
      .set({ name: `${names[at % names.length]} ${id}` })
      .where('id', '=', id)
      .execute()
}

/** A part with more movements than a page of them holds: one delivery, told again and again. */
async function aPartThatMovesALot({ read, write }: OpenDatabase): Promise<number> {
  const { id: _, ...received } = await read
    .selectFrom('movements')
    .selectAll()
    .where('reason', '=', 'receive')
    .where('corrects_id', 'is', null)
    .orderBy('id')
    .executeTakeFirstOrThrow()
  for (let again = 0; again < 130; again += 1) await write.insertInto('movements').values(received).execute()
  return received.part_id
}

/** A lot that expires within the 90 days that are looked at. */
async function aLotThatExpires({ read, write }: OpenDatabase, today: string): Promise<void> {
  const { lot_id } = await read
    .selectFrom('balances as b')
    .innerJoin('places as p', 'p.id', 'b.place_id')
    .select('b.lot_id')
    .where('b.quantity', '>', 0)
    .where('p.kind', '=', 'bin')
    .executeTakeFirstOrThrow()
  await write
    .updateTable('lots')
    .set({ expires_on: addDays(calendarDate(today), 20) })
    .where('id', '=', lot_id)
    .execute()
}

/** A part of which more is always to be kept than there is: whatever the day, it runs short. */
async function aPartThatRunsShort({ read, write }: OpenDatabase): Promise<void> {
  const { part_id } = await read
    .selectFrom('supplier_terms')
    .select('part_id')
    .orderBy('part_id')
    .executeTakeFirstOrThrow()
  await write.updateTable('parts').set({ reorder_point: 5_000 }).where('id', '=', part_id).execute()
}

/** A lot that is recalled while homes hold some of it. */
async function aRecalledLot({ read, write }: OpenDatabase, today: string): Promise<number> {
  const { fitted_lot_id: lotId } = await read
    .selectFrom('stages')
    .select('fitted_lot_id')
    .where('fitted_lot_id', 'is not', null)
    .orderBy('id')
    .executeTakeFirstOrThrow()
  await write
    .updateTable('lots')
    .set({ recalled_on: calendarDate(today), recalled_at: `${today}T09:00:00.000Z`, recall_note: '=1+1' })
    .where('id', '=', lotId)
    .execute()
  return lotId ?? 0
}

/** A piece on the way to another place, and a round of counting whose every line is counted: both as a window asks for them. */
async function aCountedRound({ books: { read }, office }: OpenedOffice): Promise<number> {
  const ask = async (path: string, input: object): Promise<{ countId?: number; rows?: { lineId: number }[] }> => {
    const headers = { 'content-type': 'application/json' }
    const body = JSON.stringify({ json: input })
    const response = await office.handle(new Request(`http://office/rpc/${path}`, { method: 'POST', headers, body }))
    return ((await response.json()) as { json: { countId?: number; rows?: { lineId: number }[] } }).json
  }
  const heaps = await read
    .selectFrom('balances as b')
    .innerJoin('places as p', 'p.id', 'b.place_id')
    .select(['b.lot_id as lotId', 'b.place_id as fromPlaceId'])
    .where('b.quantity', '>', 5)
    .where('p.kind', '=', 'bin')
    .orderBy('b.place_id')
    .execute()
  const [first, last] = [heaps[0], heaps.at(-1)]
  const boundForPlaceId = first?.fromPlaceId
  await ask('stock/send', { ...last, boundForPlaceId, quantity: 1, note: '' })
  const scope = { of: 'place', placeId: first?.fromPlaceId }
  const { countId = 0 } = await ask('counts/begin', { name: '=1+1', scope })
  for (const { lineId } of (await ask('counts/round', { countId })).rows ?? [])
    await ask('counts/writeDown', { countId, lineId, seen: null, counted: 3, note: '@SUM(A1)' })
  return countId
}

/** Of these two tables the screen fetches page after page and knows no total; the books do. */
async function issuedInvoices({ read }: OpenDatabase): Promise<Record<string, number>> {
  const issued = await read.selectFrom('invoices').select('id').where('state', '=', 'issued').execute()
  const balances = await read.selectFrom('invoice_balances').select('open_cents').execute()
  const open = balances.filter((balance) => balance.open_cents > 0)
  return { 'invoices-all': issued.length, 'invoices-paid': issued.length - open.length }
}

async function goTo(page: Page, address: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash
  }, `#/${address}`)
  await expect(page.locator('main h1').first()).toBeVisible()
  await expect(page.getByRole('grid').first()).toBeVisible()
  await expect(page.locator('[role=grid][aria-busy=true]')).toHaveCount(0)
}

/** What the head of a table says, without the box that chooses all and the arrow of the order. */
async function headersOf(table: Locator): Promise<string[]> {
  const words = await table.getByRole('columnheader').allInnerTexts()
  return words.map((word) => word.replace(/[^\p{L}\p{N})%°]+$/u, '').trim()).filter((word) => word !== '')
}

/** Saves one table and holds the file against what stands on the screen; the name it was saved under. */
async function saveAndCheck(page: Page, table: Locator, expected: Readonly<Record<string, number>>): Promise<string> {
  const grid = table.getByRole('grid')
  const saving = page.waitForEvent('download')
  await table.getByRole('button', { name: 'Save this list' }).click()
  const saved = await saving
  const name = saved.suggestedFilename().replace(/\.csv$/, '')
  const view = readSavedView(readFileSync(await saved.path()))
  expect(view.faults, name).toEqual([])
  const inTable = Number(await grid.getAttribute('aria-rowcount')) - 1
  expect(view.rows.length, `${name}: rows of the file and of the table`).toBe(expected[name] ?? inTable)
  const shown = await headersOf(table)
  expect(
    view.headers.map((header) => header.replace(/[^\p{L}\p{N})%°]+$/u, '')),
    `${name}: words of the head`,
  ).toEqual(shown)
  await expect(table.getByText(`in ${name}.csv`)).toBeVisible()
  return name
}

async function saveAll(page: Page, address: string, expected: Readonly<Record<string, number>>): Promise<string[]> {
  await goTo(page, address)
  const names: string[] = []
  for (const table of await page.locator('.data-table').all()) {
    const save = table.getByRole('button', { name: 'Save this list' })
    if ((await save.count()) > 0 && (await save.isEnabled())) names.push(await saveAndCheck(page, table, expected))
  }
  return names
}

const LIST = `Name,Street,Town,Sediment changed\n${Array.from({ length: 60 }, (_, n) => `"=Holt ${n}, Ida",${n} Mill Row,Saltgrass,${n % 9 === 0 ? 'soon' : '2026-05-09'}`).join('\n')}\n`

test.describe('every table of the program', () => {
  test.use({ books: 'unfounded' })
  test.setTimeout(180_000)

  test('IMP-1 IMP-2 saves its view whole, under its own words, and nothing in it is live', async ({ page, opened }) => {
    const desk = { ...opened.office.desk(), progress: async () => true }
    expect(await WORKS.demo?.run(desk, { households: 60 })).toMatchObject({ ok: true })
    await writeLiveNames(opened.books)
    await page.reload()
    const partId = await aPartThatMovesALot(opened.books)
    await aLotThatExpires(opened.books, opened.office.desk().today)
    await aPartThatRunsShort(opened.books)
    const lotId = await aRecalledLot(opened.books, opened.office.desk().today)
    const countId = await aCountedRound(opened)
    const expected = await issuedInvoices(opened.books)
    const saved: string[] = []
    for (const address of [
      ...['due', 'letters', 'letters?view=runs', 'bookings', 'bookings?who=all-due', 'households', 'orders'],
      ...['drafts', 'unpaid', 'paid', 'all'].map((pile) => `invoices?pile=${pile}`),
      ...['stock', 'stock?view=places', `stock?open=${partId}`, 'recall', `recall?lot=${lotId}`],
      ...['parts', 'places', 'expiring'].map((list) => `stock?view=worth&list=${list}`),
      ...['on-hand', 'on-the-way', 'counts', `counts&round=${countId}&part=differences`].map(
        (view) => `stock?view=${view}`,
      ),
    ])
      saved.push(...(await saveAll(page, address, expected)))

    await page.evaluate(() => {
      location.hash = '#/'
    })
    await page.getByRole('button', { name: /^Show the 52 weeks as a table$/ }).click()
    saved.push(await saveAndCheck(page, page.locator('.data-table'), expected))

    await page.evaluate(() => {
      location.hash = '#/import'
    })
    await page
      .getByLabel('A list, as CSV')
      .setInputFiles({ name: 'live.csv', mimeType: 'text/csv', buffer: Buffer.from(LIST) })
    await page.getByRole('button', { name: 'Look through 60 rows' }).click()
    await expect(page.getByRole('grid')).toBeVisible()
    saved.push(await saveAndCheck(page, page.locator('.data-table'), expected))

    const tables = tablesOfTheProgram()
    expect(tables.length).toBeGreaterThan(10)
    expect(tables.filter((table) => !saved.some((name) => table.test(name))).map(String)).toEqual([])
  })
})
