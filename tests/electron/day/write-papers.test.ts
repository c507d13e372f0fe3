import { mkdtemp, readdir, readFile, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openSqlite } from '../../../core/database/open-sqlite.ts'
import { demoWork } from '../../../core/demo/demo-work.ts'
import { calendarDate } from '../../../core/units/calendar-date.ts'
import { clientOf } from '../../../electron/day/day-summary.ts'
import { writeDayPapers } from '../../../electron/day/write-papers.ts'
import { type AnOffice, anOffice } from '../../builders/an-office.ts'

const on = calendarDate('2026-11-26')
let folder = ''
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'penstock day '))
})
afterEach(async () => rm(folder, { recursive: true, force: true }))

async function demoOn(): Promise<AnOffice> {
  const office = await anOffice(openSqlite(':memory:'), on, false)
  const made = await demoWork.run(
    { ...office.desk(), today: calendarDate('2026-11-25'), progress: async () => true },
    { households: 320 },
  )
  expect(made.ok).toBe(true)
  return office
}

test('DAY-1 the papers of a day land in the folder, and day.json says what the screens say', async () => {
  const office = await demoOn()
  const out = join(folder, 'papers')
  const written = await writeDayPapers(office, on, out)
  expect(written).toEqual({
    files: ['letters.pdf', 'pick-list.pdf', 'visits.pdf', 'invoices.pdf', 'day.json'],
    leftOut: [],
  })
  for (const file of written.files.filter((name) => name.endsWith('.pdf')))
    expect((await readFile(join(out, file))).subarray(0, 5).toString()).toBe('%PDF-')
  const day = JSON.parse(await readFile(join(out, 'day.json'), 'utf8'))
  const pull = await clientOf(office).pull.day({ on })
  expect(day.on).toBe(on)
  expect(day.visits).toBe(pull.vans.reduce((sum, van) => sum + van.stops, 0))
  expect(day.shortages.length).toBe(pull.vans.flatMap((van) => van.shortages).length)
  expect(day.letters.owed).toBeGreaterThan(0)
  expect(await readdir(folder)).toEqual(['papers'])
}, 60_000)

test('DAY-2 when a paper breaks, what lay in the folder is as it was and nothing half written stays', async () => {
  await writeFile(join(folder, 'letters.pdf'), 'yesterday')
  const broken = { handle: async () => new Response('ink is out', { status: 500 }) }
  await expect(writeDayPapers(broken, on, folder)).rejects.toThrow(/letters.pdf could not be made: ink is out/)
  expect(await readFile(join(folder, 'letters.pdf'), 'utf8')).toBe('yesterday')
  expect(await readdir(folder)).toEqual(['letters.pdf'])
})
