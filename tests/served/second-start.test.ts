import { existsSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPageFiles } from '../../electron/page/page-files.ts'
import { askRunningOffice, leaveNote, noteBeside } from '../../electron/served/second-start.ts'
import { type ServedOffice, serveOffice } from '../../electron/served/serve-office.ts'

let folder = ''
let served: ServedOffice
beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'penstock second start '))
  served = await serveOffice({
    office: { handle: async () => new Response('answered') },
    files: openPageFiles(folder),
    port: 0,
    log: () => {},
  })
})
afterEach(async () => {
  await served.close()
  rmSync(folder, { recursive: true, force: true })
})

const books = (): string => join(folder, 'books.sqlite')
const enter = (address: string) => fetch(address, { redirect: 'manual' })
const knock = (headers: Record<string, string>, method = 'POST') =>
  fetch(`${served.origin}/knock`, { method, headers: { origin: served.origin, ...headers } })

test('a second start is given an address of its own that opens once, as often as it asks', async () => {
  leaveNote(books(), served)
  const addresses = [await askRunningOffice(books()), await askRunningOffice(books())]
  expect(new Set(addresses).size).toBe(2)
  for (const address of addresses) {
    expect((await enter(address ?? '')).status).toBe(303)
    expect((await enter(address ?? '')).status).toBe(401)
  }
})

test('the note is for the user alone, and goes when the office closes', () => {
  const takeAway = leaveNote(books(), served)
  expect(JSON.parse(readFileSync(noteBeside(books()), 'utf8'))).toEqual({ origin: served.origin, word: served.word })
  if (process.platform !== 'win32') expect(statSync(noteBeside(books())).mode & 0o777).toBe(0o600)
  takeAway()
  expect(existsSync(noteBeside(books()))).toBe(false)
})

test('books that nobody serves, and a note that a killed program left behind, lead nowhere; the note is taken away', async () => {
  expect(await askRunningOffice(books())).toBeNull()
  leaveNote(books(), served)
  await served.close()
  expect(await askRunningOffice(books())).toBeNull()
  expect(existsSync(noteBeside(books()))).toBe(false)
})

test('another program that now stands at the port is not believed', async () => {
  const other = await serveOffice({
    office: { handle: async () => new Response('http://example.com/enter?key=x') },
    files: openPageFiles(folder),
    port: 0,
    log: () => {},
  })
  leaveNote(books(), { origin: other.origin, word: served.word })
  expect(await askRunningOffice(books())).toBeNull()
  await other.close()
})

test.each([
  ['{"origin":"http://example.com","word":"aaaaaaaaaaaaaaaaaaaaaaaa"}'],
  ['{"origin":"http://127.0.0.1:80@example.com","word":"aaaaaaaaaaaaaaaaaaaaaaaa"}'],
  ['{"origin":"http://127.0.0.1:1"}'],
  ['no note'],
  [''],
])('a note that says %s is no note', async (text) => {
  writeFileSync(noteBeside(books()), text)
  expect(await askRunningOffice(books())).toBeNull()
})

test('without the word, with a wrong one, from another page or by reading, a knock opens nothing', async () => {
  expect((await knock({})).status).toBe(401)
  expect((await knock({ 'x-penstock-word': served.word.slice(0, -1) })).status).toBe(401)
  expect((await knock({ 'x-penstock-word': served.word, origin: 'https://example.com' })).status).toBe(403)
  expect((await knock({ 'x-penstock-word': served.word }, 'GET')).status).toBe(405)
  expect((await knock({ 'x-penstock-word': served.word })).status).toBe(200)
})
