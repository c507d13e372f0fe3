import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, utimesSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { openPaperFolder } from '../../electron/main/paper-folder.ts'

const OURS = 41
const RUNNING = 42
const KILLED = 43
const DAY_MS = 86_400_000
let passing = ''
beforeEach(() => {
  passing = mkdtempSync(join(tmpdir(), 'penstock passing '))
})
afterEach(() => rmSync(passing, { recursive: true, force: true }))
const open = (now = Date.now) => openPaperFolder(passing, OURS, (pid) => pid === RUNNING, now)

test('every page has a folder of its own for this user alone, and all go when the program ends', async () => {
  const papers = open()
  const [first, second] = [await papers.next(), await papers.next()]
  expect(first).not.toBe(second)
  expect(basename(first)).toMatch(/^penstock-papers-41-\w{6}$/)
  papers.remove()
  expect(readdirSync(passing)).toEqual([])
})

test('what a killed run left goes at the next start; what another run shows, and what is not ours, stays', () => {
  const folders = [`penstock-papers-${KILLED}-aB3dE6`, `penstock-papers-${RUNNING}-aB3dE6`, 'penstock-x', 'papers-43-a']
  for (const name of folders) mkdirSync(join(passing, name))
  open()
  expect(readdirSync(passing).toSorted()).toEqual(folders.slice(1).toSorted())
})

test('a page of yesterday goes when the next one is printed, one of this morning stays', async () => {
  let now = Date.now()
  const papers = open(() => now)
  const yesterday = await papers.next()
  utimesSync(yesterday, new Date(now - 1000), new Date(now - 1000))
  now += DAY_MS
  const morning = await papers.next()
  expect([existsSync(yesterday), existsSync(morning)]).toEqual([false, true])
})
