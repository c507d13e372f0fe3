import { copyFileSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { AxeBuilder } from '@axe-core/playwright'
import { test as base, expect, type Page } from '@playwright/test'
import type { Clock } from '../../core/clock.ts'
import type { OpenDatabase } from '../../core/database/handles.ts'
import { openDatabase } from '../../core/database/open-books.ts'
import { FIRST_OFFICE } from '../../core/desk-of-office.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { insertOffice } from '../../core/settings/office-store.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { WORKS } from '../../core/works.ts'
import { openPageFiles } from '../../electron/page/page-files.ts'
import { serveOffice } from '../../electron/served/serve-office.ts'

/**
 * What stands in the books when the page opens: nothing yet (the first start's question), Larkmoor Water founded and empty, the demo
 * office, or what a function writes into the founded office. It has the books and the office, and asks through its desk or its door.
 */
export type Books = 'unfounded' | 'empty' | 'demo' | ((books: OpenDatabase, office: Office) => Promise<void>)

export interface OfficeOptions {
  readonly books: Books
  /** The clock of the office and of the page stands at noon of this day. */
  readonly today: string
  /** What this test provokes on the console on purpose; everything else still fails it. */
  readonly provokes: readonly RegExp[]
}

export interface OpenedOffice {
  readonly origin: string
  readonly books: OpenDatabase
  readonly office: Office
  /** An address that signs a page in, once. */
  newAddress(): string
  /** What went wrong inside the office; a test that leaves a line here fails. */
  readonly log: readonly string[]
}

interface Fixtures {
  readonly opened: OpenedOffice
  /** Saves how the page looks, at both widths, light and dark, when PENSTOCK_SHOTS names a folder. */
  readonly look: (name: string) => Promise<void>
  /** Fails on any finding of axe at WCAG 2.2 level AA. */
  readonly accessible: () => Promise<void>
}

const built = fileURLToPath(new URL('../../dist/renderer', import.meta.url))
const THE_SAME_EVERYWHERE = { line2: '', region: 'XX', country: 'US', isDemo: false }

async function foundLarkmoor(books: OpenDatabase): Promise<void> {
  await insertOffice(books.write, {
    ...THE_SAME_EVERYWHERE,
    id: FIRST_OFFICE,
    name: 'Larkmoor Water',
    line1: '4 Sluice Yard',
    town: 'Tollard Mill',
    postalCode: '00142',
    phone: '555-0100',
    email: 'office@larkmoor.example.com',
    latitude: 44.98,
    longitude: -93.2,
    foundedAt: '2021-03-01T09:00:00.000Z',
  })
}

const demos = new Map<string, Promise<string>>()

/** The demo office of a day, written once a test process and copied for every test. */
function demoBooks(today: string): Promise<string> {
  const known = demos.get(today) ?? writeDemo(today)
  demos.set(today, known)
  return known
}

async function writeDemo(today: string): Promise<string> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-demo-'))
  process.once('exit', () => rmSync(folder, { recursive: true, force: true }))
  const file = join(folder, 'books.sqlite')
  const result = await openOffice({ database: file, clock: clockAt(today), log: () => {}, threads: 'same' })
  if (!result.ok) throw new Error(result.problem.sentence)
  const written = await WORKS.demo?.run({ ...result.value.desk(), progress: async () => true }, {})
  if (!written?.ok)
    throw new Error(`The demo office could not be written: ${written?.problem.sentence ?? 'there is no such work'}`)
  await result.value.close()
  return file
}

function clockAt(today: string): Clock {
  const date = calendarDate(today)
  return { today: () => date, now: () => `${date}T12:00:00.000Z` }
}

/** Opens an office of its own for one test and closes it afterwards. */
async function openForTest(
  { books, today }: Pick<OfficeOptions, 'books' | 'today'>,
  use: (opened: OpenedOffice) => Promise<void>,
): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), 'penstock-e2e-'))
  const file = join(folder, 'books.sqlite')
  if (books === 'demo') copyFileSync(await demoBooks(today), file)
  const database = openDatabase(file)
  const log: string[] = []
  const result = await openOffice({ database, clock: clockAt(today), log: (line) => log.push(line), threads: 'same' })
  if (!result.ok) throw new Error(result.problem.sentence)
  const office = result.value
  if (books === 'empty' || typeof books === 'function') await foundLarkmoor(database)
  if (typeof books === 'function') await books(database, office)
  const served = await serveOffice({ office, files: openPageFiles(built), port: 0, log: (line) => log.push(line) })
  await use({ origin: served.origin, books: database, office, newAddress: () => served.newAddress(), log })
  await served.close()
  await office.close()
  rmSync(folder, { recursive: true, force: true })
}

/** Everything that a person would call broken: console errors, exceptions, requests that failed. */
function listen(page: Page): string[] {
  const heard: string[] = []
  page.on('console', (message) => {
    if (message.type() === 'error' || message.type() === 'warning')
      heard.push(`console ${message.type()}: ${message.text()}`)
  })
  page.on('pageerror', (error) => heard.push(`exception: ${error.stack ?? error.message}`))
  page.on('requestfailed', (request) => {
    // A question that the page itself took back, because it went elsewhere, did not fail.
    if (request.failure()?.errorText !== 'net::ERR_ABORTED')
      heard.push(`request failed: ${request.url()} ${request.failure()?.errorText ?? ''}`)
  })
  page.on('response', (response) => {
    if (response.status() >= 500) heard.push(`answer ${response.status()}: ${response.url()}`)
  })
  return heard
}

const SIZES = [
  { width: 1440, height: 900 },
  { width: 1024, height: 768 },
] as const

async function photograph(page: Page, name: string, folder: string): Promise<void> {
  mkdirSync(folder, { recursive: true })
  const before = page.viewportSize()
  for (const size of SIZES) {
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.setViewportSize(size)
      await page.emulateMedia({ colorScheme })
      await page.screenshot({ path: join(folder, `${name}-${size.width}-${colorScheme}.png`) })
    }
  }
  await page.emulateMedia({ colorScheme: 'light' })
  if (before) await page.setViewportSize(before)
}

/**
 * The test of every screen: an office of its own, the page already signed in and its clock standing, and whatever goes wrong on the
 * page or in the office fails the test. `test.use({ books: ..., today: ... })` chooses.
 */
export const test = base.extend<OfficeOptions & Fixtures>({
  books: ['empty', { option: true }],
  today: ['2026-12-01', { option: true }],
  provokes: [[], { option: true }],
  opened: async ({ books, today }, use) => openForTest({ books, today }, use),
  page: async ({ page, opened, today, provokes }, use) => {
    const heard = listen(page)
    await page.clock.setFixedTime(`${today}T12:00:00.000Z`)
    await page.goto(opened.newAddress())
    await use(page)
    const unforeseen = heard.filter((line) => !provokes.some((one) => one.test(line)))
    expect(unforeseen, 'the page was quiet').toEqual([])
    expect(opened.log, 'the office was quiet').toEqual([])
  },
  look: async ({ page }, use) => {
    const folder = process.env.PENSTOCK_SHOTS
    await use(async (name) => {
      if (folder) await photograph(page, name, folder)
    })
  },
  accessible: async ({ page }, use) => {
    await use(async () => {
      const { violations } = await new AxeBuilder({ page })
        .withTags(['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'])
        .analyze()
      const findings = violations.map(
        ({ id, help, nodes }) => `${id}: ${help}: ${nodes.map((node) => node.target.join(' ')).join(', ')}`,
      )
      expect(findings).toEqual([])
    })
  },
})

export { expect }
