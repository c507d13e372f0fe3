import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import { judgedListSchema, takenSchema } from '../../core/imports/imports-contract.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { calendarDate } from '../../core/units/calendar-date.ts'
import { WORKS } from '../../core/works.ts'
import { bringList, judgedEntries } from '../builders/a-brought-list.ts'
import { writeEmptyBooks } from './many-households.ts'
import type { Measure, MeasureLine } from './measure.ts'

const today = calendarDate('2026-12-01')
const MOST_ROWS = 20_000
/** What a list of that many rows may take, judged and taken. */
const MOST_SECONDS = 10

const TOWNS = ['Tollard Mill', 'Pell Harbor', 'Orrin Falls', 'Saltgrass', 'Nether Quay']
const STREETS = ['Weirside Lane', 'Sluice Yard', 'Quay Street', 'Mill Row', 'Harbor Steps', 'Millrace Court']
const BEGINNINGS = ['Aber', 'Bex', 'Cast', 'Drum', 'Fen', 'Gal', 'Hal', 'Ivan', 'March', 'Ott']
const ENDINGS = ['nathy', 'hill', 'ellane', 'mond', 'wick', 'braith', 'lowell', 'ek', 'etti', 'oline']
const at = (words: readonly string[], n: number): string => words[n % words.length] ?? ''
/** The `n`th of a hundred made-up names. */
const named = (n: number): string => `${at(BEGINNINGS, n)}${at(ENDINGS, Math.floor(n / 10))}`

/** A dealer's list: a household a row, each with its own number, name, telephone and address, and three dates of the last change. */
function dealersList(rows: number): string {
  const head =
    'Acct #,Customer,Phone,Email,Street,City,State,Zip,People,Sediment changed,Carbon changed,Membrane changed'
  const lines = Array.from({ length: rows }, (_, n) => {
    const phone = `${200 + Math.floor(n / 100)}-555-01${String(n % 100).padStart(2, '0')}`
    const name = `"${named(n)}-${named(Math.floor(n / 100) + 37)}, ${named(n * 7 + 11)}"`
    const street = `${1 + Math.floor(n / STREETS.length)} ${at(STREETS, n)}`
    const zip = String(100 + (n % 800)).padStart(5, '0')
    const day = (year: number): string => `${1 + (n % 12)}/${13 + (n % 15)}/${year}`
    return [
      ...[`A-${n + 1}`, name, phone, `h${n}@example.com`, street, at(TOWNS, n), 'XX', zip, 1 + (n % 6)],
      ...[day(2025), day(2025), day(2023)],
    ].join(',')
  })
  return [head, ...lines].join('\r\n')
}

async function timed(office: Office, work: string, input: unknown): Promise<{ seconds: number; value: unknown }> {
  const begun = performance.now()
  const done = await WORKS[work]?.run({ ...office.desk(), progress: async () => true }, input)
  const seconds = (performance.now() - begun) / 1000
  if (!done?.ok) throw new Error(done?.problem.sentence ?? `No work is called ${work}`)
  return { seconds, value: done.value }
}

/** Judges and takes a list of `rows` households into the empty books of a file; seconds of either. */
async function importInto(file: string, rows: number): Promise<{ judging: number; taking: number }> {
  await writeEmptyBooks(file)
  const clock = { today: () => today, now: () => `${today}T12:00:00.000Z` }
  const opened = await openOffice({ database: file, clock, log: () => {}, threads: 'same' })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  const office = opened.value
  try {
    const { fileId, mapping } = await bringList(office, dealersList(rows))
    const judged = await timed(office, 'import-judge', { fileId, mapping })
    const entries = await judgedEntries(office, fileId, judgedListSchema.parse(judged.value).pages)
    const households = entries.filter(({ kind }) => kind === 'household')
    const choices = Object.fromEntries(households.map(({ key }) => [key, 'new']))
    const taken = await timed(office, 'import-take', { fileId, mapping, choices, expected: households.length })
    const { fresh, stages } = takenSchema.parse(taken.value)
    if (fresh !== rows || stages !== rows * 3) throw new Error(`${fresh} of ${rows} households, ${stages} stages taken`)
    return { judging: judged.seconds, taking: taken.seconds }
  } finally {
    await office.close()
  }
}

const WRITTEN = ['customers', 'sites', 'site_search', 'installations', 'stages'] as const

/** The rows that an import left in `file`, put into other empty books by bare inserts in one transaction; seconds. */
async function insertBare(file: string, into: string): Promise<number> {
  await writeEmptyBooks(into)
  const from = new Database(file, { readonly: true })
  const tables = WRITTEN.map((table) => ({ table, rows: from.prepare(`select * from ${table}`).raw().all() }))
  from.close()
  const db = new Database(into)
  db.pragma('journal_mode = WAL')
  db.pragma('foreign_keys = ON')
  const begun = performance.now()
  db.transaction(() => {
    for (const { table, rows } of tables) {
      const columns = db.prepare(`select * from ${table}`).columns()
      const insert = db.prepare(`insert into ${table} values (${columns.map(() => '?').join(', ')})`)
      for (const row of rows) insert.run(row)
    }
  })()
  const seconds = (performance.now() - begun) / 1000
  db.close()
  return seconds
}

/** A list judged and taken, whole, against bare inserts of the same rows on the same machine. */
async function measureImport(households: number): Promise<MeasureLine[]> {
  const rows = Math.min(MOST_ROWS, households)
  const folder = mkdtempSync(join(tmpdir(), 'penstock-bench-'))
  try {
    const { judging, taking } = await importInto(join(folder, 'books.sqlite'), rows)
    const bare = await insertBare(join(folder, 'books.sqlite'), join(folder, 'bare.sqlite'))
    const name = `import.${rows}-rows`
    const value = judging + taking
    return [
      { name, value, unit: 's', ratio: value / bare, floor: MOST_SECONDS },
      { name: `${name}.judge`, value: judging, unit: 's' },
      { name: `${name}.take`, value: taking, unit: 's', ratio: taking / bare },
      { name: `${name}.bare-inserts`, value: bare, unit: 's' },
    ]
  } finally {
    rmSync(folder, { recursive: true, force: true })
  }
}

export const measures: readonly Measure[] = [{ name: 'import', run: measureImport }]
