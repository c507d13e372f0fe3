import { mkdtempSync, rmSync } from 'node:fs'
import { homedir, tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { type Browser, chromium } from '@playwright/test'
import { type Office, openOffice } from '../../core/office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { WORKS } from '../../core/works.ts'
import { openPageFiles, type PageFiles } from '../../electron/page/page-files.ts'
import { serveOffice } from '../../electron/served/serve-office.ts'
import { buildWhenStale } from '../../electron/start/build-when-stale.ts'
import { findChromium } from '../../electron/start/chromium-places.ts'
import { type Measure, type MeasureLine, middle } from './measure.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))
const today = calendarDate('2026-12-01')
const GOES = 5

/** What the bare way shows: nothing but one word to wait for. */
const EMPTY_PAGE: PageFiles = {
  page: async () => '<!doctype html><title>Empty</title><p class="tray-count">0</p>',
  file: () => null,
}

async function open(file: string, threads: 'worker' | 'same'): Promise<Office> {
  const clock = { today: () => today, now: () => `${today}T12:00:00.000Z` }
  const log = (line: string): void => void process.stderr.write(`${line}\n`)
  const opened = await openOffice({ database: file, clock, log, threads })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  return opened.value
}

async function writeDemoBooks(file: string): Promise<void> {
  const office = await open(file, 'same')
  const written = await WORKS.demo?.run({ ...office.desk(), progress: async () => true }, {})
  await office.close()
  if (!written?.ok) throw new Error(written?.problem.sentence ?? 'No work is called demo')
}

/** From opening the books to the first count of the tray line on the screen, in a browser that has seen nothing yet; milliseconds. */
async function startOnce(browser: Browser, file: string, files: () => PageFiles): Promise<number> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 900 } })
  const page = await context.newPage()
  const begun = performance.now()
  const office = await open(file, 'worker')
  const served = await serveOffice({ office, files: files(), port: 0, log: () => {} })
  await page.goto(served.newAddress(), { waitUntil: 'commit' })
  await page.locator('.tray-count').filter({ hasText: /\d/ }).first().waitFor()
  const time = performance.now() - begun
  await context.close()
  await served.close()
  await office.close()
  return time
}

/** The first go does not count: the machine's own caches are cold. */
async function start(browser: Browser, file: string, files: () => PageFiles): Promise<number> {
  const times: number[] = []
  for (let go = 0; go <= GOES; go += 1) times.push(await startOnce(browser, file, files))
  return middle(times.slice(1))
}

/** The served demo office up to its first usable screen, against the same books, server and browser with an empty page. */
async function measureStart(): Promise<MeasureLine[]> {
  const executablePath = findChromium({ platform: process.platform, home: homedir(), environment: process.env })
  if (executablePath === null) {
    process.stderr.write('There is no Chromium on this machine: the start was not measured.\n')
    return []
  }
  await buildWhenStale(root, 'window')
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  const browser = await chromium.launch({ executablePath })
  try {
    const file = join(folder, 'books.sqlite')
    await writeDemoBooks(file)
    const bare = await start(browser, file, () => EMPTY_PAGE)
    const value = await start(browser, file, () => openPageFiles(join(root, 'dist', 'renderer')))
    return [
      { name: 'start.first-screen', value, unit: 'ms', ratio: value / bare },
      { name: 'start.first-screen.empty-page', value: bare, unit: 'ms' },
    ]
  } finally {
    await browser.close()
    rmSync(folder, { recursive: true, force: true })
  }
}

export const measures: readonly Measure[] = [{ name: 'start', run: measureStart }]
