import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import Database from 'better-sqlite3'
import type { Kysely } from 'kysely'
import type { Migration } from 'kysely/migration'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { faultOf, listBackups } from '../../core/database/backup-files.ts'
import { type Office, openOffice } from '../../core/office.ts'
import type * as List from '../../migrations/list.ts'
import { MIGRATIONS } from '../../migrations/list.ts'
import { clockAt } from '../builders/an-office.ts'

/** The list as released, to which a test adds the step of a newer program. */
vi.mock('../../migrations/list.ts', async (original) => {
  const { MIGRATIONS: released } = await original<typeof List>()
  return { MIGRATIONS: { ...released } }
})
const steps: Record<string, Migration> = MIGRATIONS
const NEWER = '9000-a-newer-step'

let folder = ''
let offices: Office[] = []
const log: string[] = []
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'penstock older books '))
  log.length = 0
})
afterEach(async () => {
  delete steps[NEWER]
  await closeAll()
  rmSync(folder, { recursive: true, force: true })
})

const books = (): string => join(folder, 'books.sqlite')
const open = (today = '2026-12-01') =>
  openOffice({ database: books(), clock: clockAt(today), log: (line) => log.push(line), threads: 'same' })

async function opened(today?: string): Promise<Office> {
  const result = await open(today)
  if (!result.ok) throw new Error(result.problem.sentence)
  offices.push(result.value)
  return result.value
}

async function closeAll(): Promise<void> {
  for (const office of offices) await office.close()
  offices = []
}

async function ask(office: Office, path: string, input?: unknown): Promise<unknown> {
  const response = await office.handle(
    new Request(`http://office/rpc/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ json: input }),
    }),
  )
  const answer: unknown = await response.json()
  return typeof answer === 'object' && answer !== null && 'json' in answer ? answer.json : answer
}

const LARKMOOR = {
  name: 'Larkmoor Water',
  line1: '',
  line2: '',
  town: '',
  region: '',
  postalCode: '',
  country: 'US',
  phone: '',
  email: '',
}

/** What the file holds, table by table and row by row. */
function contents(file: string): string {
  const reader = new Database(file, { readonly: true })
  try {
    return JSON.stringify(tables(reader))
  } finally {
    reader.close()
  }
}

function tables(reader: Database.Database): unknown[] {
  const made = reader.prepare<[], { name: string; sql: string | null; type: string }>(
    "select name, sql, type from sqlite_schema where name not like 'sqlite_%' order by name",
  )
  return made.all().map(({ name, sql, type }) => ({
    name,
    sql,
    rows: type === 'table' ? reader.prepare(`select * from "${name}"`).all() : [],
  }))
}

async function larkmoor(): Promise<void> {
  await ask(await opened(), 'office/found', LARKMOOR)
  await closeAll()
}

test('BACK-5 an older file is backed up before it is brought up to date; the backup is listed through the door and can be put back', async () => {
  await larkmoor()
  const before = contents(books())
  steps[NEWER] = {
    up: async (db: Kysely<unknown>) => {
      await db.schema.createTable('a_newer_table').addColumn('id', 'integer').execute()
    },
  }
  const newer = await opened('2026-12-02')
  expect(contents(books())).toContain('a_newer_table')
  const listed = await ask(newer, 'backups/list')
  const name = 'books.sqlite.2026-12-02T12-00-00.before-change'
  expect(listed).toMatchObject({ backups: [{ name, why: 'before-change', takenOn: '2026-12-02' }], waiting: null })
  expect(log.join()).toContain(name)
  expect(faultOf(join(folder, 'backups', name))).toBeNull()
  expect(contents(join(folder, 'backups', name))).toBe(before)

  expect(await ask(newer, 'backups/putBack', { name })).toEqual({ waiting: name })
  await closeAll()
  delete steps[NEWER]
  const older = await opened('2026-12-03')
  expect(await ask(older, 'office/state')).toMatchObject({ address: { name: 'Larkmoor Water' } })
  expect(contents(books())).not.toContain('a_newer_table')
})

test('BACK-5 books that need no change, and new ones, make no backup', async () => {
  await larkmoor()
  await opened('2026-12-02')
  expect(listBackups(books())).toEqual([])
})

test('BACK-6 a change that fails half way leaves the books as they were, and says so; the older program opens them as before', async () => {
  await larkmoor()
  const before = contents(books())
  steps[NEWER] = {
    up: async (db: Kysely<unknown>) => {
      await db.schema.createTable('a_newer_table').addColumn('id', 'integer').execute()
      await db.schema.alterTable('a_table_that_never_was').addColumn('id', 'integer').execute()
    },
  }
  const refusedFirst = await open('2026-12-02')
  expect(refusedFirst).toMatchObject({ ok: false, problem: { code: 'DATABASE_AS_BEFORE' } })
  if (!refusedFirst.ok) expect(refusedFirst.problem.sentence).toContain('They are as they were')
  expect(log.join()).toContain('a_table_that_never_was')
  expect(contents(books())).toBe(before)
  expect(listBackups(books()).map(({ why }) => why)).toEqual(['before-change'])
  delete steps[NEWER]
  expect(await ask(await opened('2026-12-03'), 'office/state')).toMatchObject({ address: { name: 'Larkmoor Water' } })
})

test('BACK-6 when the backup cannot be made nothing is changed', async () => {
  await larkmoor()
  const before = contents(books())
  // A file stands where the folder of the backups would be.
  writeFileSync(join(folder, 'backups'), 'no folder')
  steps[NEWER] = {
    up: async (db: Kysely<unknown>) => {
      await db.schema.createTable('a_newer_table').addColumn('id', 'integer').execute()
    },
  }
  expect(await open('2026-12-02')).toMatchObject({ ok: false, problem: { code: 'DATABASE_AS_BEFORE' } })
  expect(contents(books())).toBe(before)
  expect(readFileSync(join(folder, 'backups'), 'utf8')).toBe('no folder')
})
