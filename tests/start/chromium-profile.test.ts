import { existsSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { ownProfile } from '../../electron/start/chromium-profile.ts'

/** Above the largest number that Linux gives a process (kernel documentation, sysctl/kernel.rst: pid_max is 2^22 at most). */
const NOBODY = 2 ** 22 + 1

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'penstock profiles '))
})
afterEach(() => rmSync(folder, { recursive: true, force: true }))

test('every run has a fresh profile, and takes it away again', () => {
  const profile = ownProfile(folder, 41)
  expect(existsSync(profile.folder)).toBe(true)
  mkdirSync(join(profile.folder, 'Default'))
  expect(existsSync(join(ownProfile(folder, 41).folder, 'Default'))).toBe(false)
  profile.remove()
  expect(existsSync(profile.folder)).toBe(false)
  profile.remove()
})

test('the profile of a run that was killed goes at the next start, that of one which runs stays, and nothing else is touched', () => {
  const killed = join(folder, `window-chromium-${NOBODY}`)
  const running = join(folder, `window-chromium-${process.pid}`)
  const other = join(folder, 'backups')
  for (const one of [killed, running, other]) mkdirSync(one)
  ownProfile(folder, 42)
  expect([existsSync(killed), existsSync(running), existsSync(other)]).toEqual([false, true, true])
})
