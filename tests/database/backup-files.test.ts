import { existsSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { faultOf, isOpenElsewhere, listBackups } from '../../core/database/backup-files.ts'
import { type Office, openOffice } from '../../core/office.ts'
import { WORKS } from '../../core/works.ts'
import { clockAt } from '../builders/an-office.ts'

let folder = ''
let open: Office[] = []
const log: string[] = []
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'penstock backups '))
  log.length = 0
})
afterEach(async () => {
  for (const office of open.splice(0)) await office.close()
  rmSync(folder, { recursive: true, force: true })
})

const books = (): string => join(folder, 'books.sqlite')

async function office(today = '2026-12-01'): Promise<Office> {
  const opened = await openOffice({
    database: books(),
    clock: clockAt(today),
    log: (line) => log.push(line),
    threads: 'same',
  })
  if (!opened.ok) throw new Error(opened.problem.sentence)
  open.push(opened.value)
  return opened.value
}

async function closeAll(): Promise<void> {
  for (const one of open) await one.close()
  open = []
}

async function ask(one: Office, path: string, input?: unknown): Promise<{ status: number; json: unknown }> {
  const response = await one.handle(
    new Request(`http://office/rpc/${path}`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ json: input }),
    }),
  )
  return { status: response.status, json: ((await response.json()) as { json: unknown }).json }
}

const found = (one: Office, name: string) =>
  ask(one, 'office/found', {
    name,
    line1: '',
    line2: '',
    town: '',
    region: '',
    postalCode: '',
    country: 'US',
    phone: '',
    email: '',
  })
const nameOf = async (one: Office): Promise<unknown> =>
  ((await ask(one, 'office/state')).json as { address: { name: string } }).address.name
const backUp = (one: Office) => WORKS['back-up']?.run({ ...one.desk(), progress: async () => true }, {})

test('BACK-1 a backup is whole, named by its moment, and leaves nothing unfinished', async () => {
  const here = await office()
  await found(here, 'Larkmoor Water')
  expect(await backUp(here)).toMatchObject({
    ok: true,
    value: { dropped: 0, backup: { why: 'asked', takenOn: '2026-12-01' } },
  })
  const [backup] = listBackups(books())
  expect(backup?.name).toBe('books.sqlite.2026-12-01T12-00-00.asked')
  expect(faultOf(join(folder, 'backups', backup?.name ?? ''))).toBeNull()
  expect(readdirSync(join(folder, 'backups'))).toHaveLength(1)
})

test('BACK-3 a backup is put back at the next opening, and the state before it is kept', async () => {
  const first = await office()
  await backUp(first)
  await found(first, 'Larkmoor Water')
  const [empty] = listBackups(books())
  expect(await ask(first, 'backups/putBack', { name: empty?.name })).toMatchObject({
    status: 200,
    json: { waiting: empty?.name },
  })
  expect(await nameOf(first)).toBe('Larkmoor Water')
  await closeAll()
  const second = await office('2026-12-02')
  expect(await nameOf(second)).toBe('')
  expect(log.join()).toContain('was put back')
  const saved = listBackups(books()).find((backup) => backup.why === 'before-putting-back')
  await ask(second, 'backups/putBack', { name: saved?.name })
  await closeAll()
  expect(await nameOf(await office('2026-12-03'))).toBe('Larkmoor Water')
})

test('BACK-3 the wish can be taken back', async () => {
  const first = await office()
  await backUp(first)
  await found(first, 'Larkmoor Water')
  const [backup] = listBackups(books())
  await ask(first, 'backups/putBack', { name: backup?.name })
  expect(await ask(first, 'backups/putBack', { name: null })).toMatchObject({ json: { waiting: null } })
  await closeAll()
  expect(await nameOf(await office())).toBe('Larkmoor Water')
})

test('BACK-4 a damaged backup and one that is gone are refused, and the books stay', async () => {
  const here = await office()
  await backUp(here)
  const [backup] = listBackups(books())
  const path = join(folder, 'backups', backup?.name ?? '')
  writeFileSync(path, 'this is no database')
  expect(await ask(here, 'backups/putBack', { name: backup?.name })).toMatchObject({ status: 422 })
  expect(await ask(here, 'backups/putBack', { name: '../books.sqlite' })).toMatchObject({ status: 422 })
  writeFileSync(`${books()}.put-back`, backup?.name ?? '')
  await found(here, 'Larkmoor Water')
  await closeAll()
  expect(await nameOf(await office())).toBe('Larkmoor Water')
  expect(log.join()).toContain('is damaged')
  expect(existsSync(`${books()}.put-back`)).toBe(false)
})

test('BACK-7 the wish waits while another Penstock has the books open, and nothing is put under its hands', async () => {
  const first = await office()
  await backUp(first)
  await found(first, 'Larkmoor Water')
  const [empty] = listBackups(books())
  await ask(first, 'backups/putBack', { name: empty?.name })
  const beside = await office('2026-12-02')
  expect(log.join()).toContain('put back at the next opening')
  expect([await nameOf(first), await nameOf(beside)]).toEqual(['Larkmoor Water', 'Larkmoor Water'])
  await closeAll()
  expect(await nameOf(await office('2026-12-03'))).toBe('')
})

test('BACK-7 books are open elsewhere while any connection holds them, and no longer', async () => {
  expect(isOpenElsewhere(books())).toBe(false)
  const here = await office()
  await found(here, 'Larkmoor Water')
  expect(isOpenElsewhere(books())).toBe(true)
  expect(await nameOf(here)).toBe('Larkmoor Water')
  await closeAll()
  expect(isOpenElsewhere(books())).toBe(false)
  writeFileSync(join(folder, 'minutes.txt'), 'These are the minutes of a meeting. '.repeat(200))
  expect(isOpenElsewhere(join(folder, 'minutes.txt'))).toBe(false)
  expect(await nameOf(await office())).toBe('Larkmoor Water')
})
