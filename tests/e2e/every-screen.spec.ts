import { mkdirSync } from 'node:fs'
import { join } from 'node:path'
import { AxeBuilder } from '@axe-core/playwright'
import type { Page, Request } from '@playwright/test'
import type { PullDay } from '../../core/stock/pull-contract.ts'
import { aSmallDemo } from '../builders/a-small-demo.ts'
import { keyboardFaults, layoutFaults } from '../judges/page-faults.ts'
import { expect, type OpenedOffice, test } from './office-fixture.ts'

/*
 * Every address of the program, held against what look.md promises: WCAG 2.2 at level AA (W3C Recommendation, 12 December 2024, as far
 * as axe can tell), reflow without sideways scrolling (its criterion 1.4.10), text that is cut off only where it can be read in full,
 * and a ring around whatever has the keyboard (2.4.7). PENSTOCK_SHOTS=folder keeps a picture of each.
 */
interface Manner {
  readonly width: number
  readonly height: number
  readonly colorScheme: 'light' | 'dark'
  /** Whether only the colours can be other than in the manner before. */
  readonly onlyColours: boolean
}
const MANNERS: readonly Manner[] = [
  { width: 1440, height: 900, colorScheme: 'light', onlyColours: false },
  { width: 1440, height: 900, colorScheme: 'dark', onlyColours: true },
  { width: 1024, height: 768, colorScheme: 'dark', onlyColours: false },
  { width: 1024, height: 768, colorScheme: 'light', onlyColours: true },
  // A window of 1440 by 900 at 200 % has half as many CSS pixels.
  { width: 720, height: 450, colorScheme: 'light', onlyColours: false },
]

/** The desk, every tray and the households with nothing opened beside it, and an address that leads nowhere. */
const TRAYS = [
  '',
  'due',
  'letters',
  'letters?view=runs',
  'letters?view=wording',
  'bookings',
  'pull',
  'visits',
  'invoices',
  'invoices?pile=unpaid',
  'orders',
  'households',
  'households?open=new',
  'import',
  'nowhere',
]
/** The ledgers of the warehouse. */
const STOCK = [
  'stock',
  'stock?view=places',
  'stock?view=on-hand',
  'stock?view=on-hand&on=2026-10-31',
  'stock?view=on-the-way',
  'stock?view=counts',
  'stock?view=walk',
  'stock?view=labels',
  'stock?view=labels&receipt=1',
  'stock?view=worth',
  'stock?view=worth&list=expiring',
  'stock?view=worth&list=places&on=2026-01-31',
  'stock?open=new',
  'recall',
  'recall?lot=1',
  'recall?lot=1&open=recall',
]
const SETTINGS = ['office', 'due', 'letters', 'visits', 'money', 'stock', 'people', 'books', 'appearance'].map(
  (page) => `settings?page=${page}`,
)

/** One address after another: only the place behind the hash changes, as when somebody presses a link. */
async function goTo(page: Page, address: string): Promise<void> {
  await page.evaluate((hash) => {
    location.hash = hash
  }, `#/${address}`)
  await settled(page)
}

/** What a page has asked and not heard yet. */
const asked = new WeakMap<Page, Set<Request>>()

function listen(page: Page): Set<Request> {
  const waiting = new Set<Request>()
  page.on('request', (request) => waiting.add(request))
  page.on('requestfinished', (request) => waiting.delete(request))
  page.on('requestfailed', (request) => waiting.delete(request))
  asked.set(page, waiting)
  return waiting
}

/** Until the sheet stands and nothing is asked of the office any more. */
async function settled(page: Page): Promise<void> {
  const waiting = asked.get(page) ?? listen(page)
  await expect(page.locator('main h1').first()).toBeVisible()
  const isQuiet = (): boolean => waiting.size === 0
  await expect.poll(isQuiet, { intervals: [20] }).toBe(true)
  // An answer may lead to the next question.
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))))
  await expect.poll(isQuiet, { intervals: [20] }).toBe(true)
  await expect(page.locator('.frame-wait, .data-table-wait')).toHaveCount(0)
}

/** Looks at the page in every manner and gives what is wrong, each line with where. */
async function faultsOf(page: Page, name: string): Promise<string[]> {
  const faults: string[] = []
  for (const manner of MANNERS) {
    const { width, height, colorScheme } = manner
    await page.setViewportSize({ width, height })
    await page.emulateMedia({ colorScheme, reducedMotion: 'reduce' })
    const where = `${name}, ${width} ${colorScheme}: `
    const found = await findingsOf(page, manner)
    if (!manner.onlyColours) found.push(...(await page.evaluate(layoutFaults)))
    faults.push(...found.map((fault) => where + fault))
    await keepPicture(page, name, manner)
  }
  await page.setViewportSize({ width: 1440, height: 900 })
  return faults
}

/** Whatever takes the keyboard shows that it has it. */
async function ringsMissing(page: Page, name: string): Promise<string[]> {
  await page.keyboard.press('Tab')
  return (await page.evaluate(keyboardFaults)).map((fault) => `${name}: ${fault}`)
}

async function findingsOf(page: Page, { onlyColours }: Manner): Promise<string[]> {
  const axe = new AxeBuilder({ page }).setLegacyMode(true)
  if (onlyColours) axe.withRules(['color-contrast', 'link-in-text-block'])
  else axe.withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
  const { violations } = await axe.analyze()
  return violations.map(({ id, nodes }) => `${id}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`)
}

async function keepPicture(page: Page, name: string, { width, colorScheme }: Manner): Promise<void> {
  const folder = process.env.PENSTOCK_SHOTS
  if (!folder) return
  mkdirSync(folder, { recursive: true })
  const file = name.replaceAll(/[^a-z0-9]+/gi, '-').replaceAll(/^-|-$/g, '')
  await page.screenshot({ path: join(folder, `every-${file || 'desk'}-${width}-${colorScheme}.png`) })
}

/** Without a prefix also by keyboard: an empty office has nothing else to press. */
async function lookOver(page: Page, addresses: readonly string[], prefix = ''): Promise<string[]> {
  const faults: string[] = []
  for (const address of addresses) {
    await goTo(page, address)
    faults.push(...(await faultsOf(page, `${prefix}${address}`)))
    if (prefix === '') faults.push(...(await ringsMissing(page, address)))
  }
  return faults
}

async function owedALetter(office: OpenedOffice['office']): Promise<number> {
  const headers = { 'content-type': 'application/json' }
  const asked = new Request('http://office/rpc/letters/owed', { method: 'POST', headers, body: '{}' })
  const { json } = (await (await office.handle(asked)).json()) as { json: { rows: { siteId: number }[] } }
  return json.rows[0]?.siteId ?? 0
}

/** Begins the pull of a van that has something to pull that day; the address of its first line. */
async function anOpenLine(office: OpenedOffice['office'], on: string): Promise<string> {
  const headers = { 'content-type': 'application/json' }
  const asks = async (path: string, json: unknown) => {
    const request = new Request(`http://office/rpc/pull/${path}`, {
      method: 'POST',
      headers,
      body: JSON.stringify({ json }),
    })
    return ((await (await office.handle(request)).json()) as { json: PullDay }).json
  }
  const van = (await asks('day', { on })).vans.find((each) => each.lines.length > 0)
  if (!van) return `pull?day=${on}&open=line-0`
  await asks('begin', { on, vanIds: [van.vanId] })
  const line = (await asks('day', { on })).vans.find((each) => each.vanId === van.vanId)?.lines[0]
  return `pull?day=${on}&van=${van.vanId}&open=line-${line?.lineId}`
}

/** Begins a round of counting of one van; the address of it. */
async function aRound(office: OpenedOffice['office'], placeId: number): Promise<string> {
  const headers = { 'content-type': 'application/json' }
  const body = JSON.stringify({ json: { name: 'A look over', scope: { of: 'place', placeId } } })
  const asked = new Request('http://office/rpc/counts/begin', { method: 'POST', headers, body })
  const { json } = (await (await office.handle(asked)).json()) as { json: { countId?: number } }
  return `stock?view=counts&round=${json.countId ?? 1}`
}

/** The addresses of records: what is opened beside a list, and the forms. */
async function records({ books: { read }, office }: OpenedOffice): Promise<string[]> {
  const one = async <Id>(found: Promise<{ id: Id } | undefined>): Promise<Id> => {
    const row = await found
    if (!row) throw new Error('The demo office lacks one.')
    return row.id
  }
  const first = (table: 'sites' | 'parts' | 'suppliers' | 'purchase_orders' | 'letter_runs') =>
    one(read.selectFrom(table).select('id').orderBy('id').executeTakeFirst())
  const visit = (state: 'booked' | 'done') =>
    one(read.selectFrom('visits').select('id').where('state', '=', state).orderBy('id', 'desc').executeTakeFirst())
  const invoice = (state: 'draft' | 'issued') =>
    one(read.selectFrom('invoices').select('id').where('state', '=', state).orderBy('id', 'desc').executeTakeFirst())
  const due = await one(
    read.selectFrom('sites').select('id').where('due_on', 'is not', null).orderBy('due_on').executeTakeFirst(),
  )
  const [booked, done, van] = [
    await visit('booked'),
    await visit('done'),
    await one(read.selectFrom('places').select('id').where('kind', '=', 'van').executeTakeFirst()),
  ]
  const on = await read.selectFrom('visits').select('visit_on').where('id', '=', booked).executeTakeFirst()
  return [
    `due?open=${due}`,
    `households?open=${await first('sites')}`,
    `letters?open=${await owedALetter(office)}`,
    // Beside the list there is nothing of somebody who is owed none: the list stays.
    'letters?open=9999',
    `letters?open=run-${await first('letter_runs')}`,
    `bookings?open=${due}`,
    `visits?open=day-${on?.visit_on}`,
    `visits?open=${booked}`,
    `visits?open=${booked}&do=report`,
    `visits?open=${done}`,
    `pull?day=${on?.visit_on}`,
    await anOpenLine(office, on?.visit_on ?? ''),
    `invoices?open=${await invoice('draft')}`,
    `invoices?pile=unpaid&open=${await invoice('issued')}`,
    'invoices?open=account-1',
    `orders?open=order-${await first('purchase_orders')}`,
    `orders?open=supplier-${await first('suppliers')}`,
    `stock?open=${await first('parts')}`,
    `stock?view=places&open=${van}`,
    await aRound(office, van),
  ]
}

test.describe.configure({ timeout: 480_000 })

test.describe('the demo office', () => {
  test.use({ books: 'unfounded' })

  test('first start, and every page of the settings', async ({ page, opened }) => {
    await settled(page)
    const faults = await faultsOf(page, 'first-start')
    await aSmallDemo(opened.office)
    await page.reload()
    faults.push(...(await lookOver(page, SETTINGS)))
    expect(faults).toEqual([])
  })

  for (const [name, places] of [
    ['the trays and the households', TRAYS],
    ['the stock', STOCK],
  ] as const)
    test(name, async ({ page, opened }) => {
      await aSmallDemo(opened.office)
      await page.reload()
      expect(await lookOver(page, places)).toEqual([])
    })

  // Two halves: what one test looks at has to be done within its time on a slow machine, too.
  for (const half of [0, 1])
    test(`what is opened beside them, ${half === 0 ? 'one half' : 'the other half'}`, async ({ page, opened }) => {
      await aSmallDemo(opened.office)
      await page.reload()
      const all = await records(opened)
      expect(
        await lookOver(
          page,
          all.filter((_, index) => index % 2 === half),
        ),
      ).toEqual([])
    })
})

test.describe('an office without anything', () => {
  test.use({ books: 'empty' })

  for (const [name, places] of [
    ['every tray and the households', [...TRAYS, 'settings?page=people']],
    ['the stock', STOCK],
  ] as const)
    test(name, async ({ page }) => {
      // What names a record is not there.
      const empty = places.filter((place) => !/new|lot=|receipt=/.test(place))
      expect(await lookOver(page, empty, 'empty ')).toEqual([])
    })

  test('every step of bringing a list', async ({ page }) => {
    const list =
      'Number;Name;Street;Town;Postal code;Sediment changed\r\n' +
      'K-101;Jessop-Lindqvist, Caius;3 Weir Walk;Saltgrass;00145;2026-03-14\r\n' +
      'K-102;;9 Mill Row;Nether Quay;00144;2026-02-31\r\n'
    await goTo(page, 'import')
    await page
      .getByLabel('A list, as CSV')
      .setInputFiles({ name: 'customers.csv', mimeType: 'text/csv', buffer: Buffer.from(list) })
    await expect(page.getByRole('heading', { name: 'What customers.csv holds' })).toBeVisible()
    const faults = await faultsOf(page, 'import-columns')
    await page.getByRole('button', { name: 'Look through 2 rows' }).click()
    await expect(page.getByRole('heading', { name: /would be new/ })).toBeVisible()
    faults.push(...(await faultsOf(page, 'import-rows')))
    await page.getByRole('button', { name: 'Take in 1 household' }).click()
    await expect(page.getByRole('heading', { name: 'The list is in the books' })).toBeVisible()
    faults.push(...(await faultsOf(page, 'import-taken')))
    expect(faults).toEqual([])
  })
})
