import { spawnSync } from 'node:child_process'
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { findChromium } from '../../electron/start/chromium-places.ts'
import { electronRuntime } from '../../electron/start/electron-runtime.ts'
import { installedMatchesLock, isSetUp } from '../../electron/start/set-up.mjs'
import { countPlaywright, countVitest, sumCounts } from '../../electron/start/test-counts.ts'
import { isModern } from '../../electron/start/with-modern-node.mjs'

let folder = ''
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'a folder with spaces '))
})
afterEach(() => rmSync(folder, { recursive: true }))

test.each([
  ['v20.20.2', false],
  ['v22.12.0', false],
  ['v22.17.9', false],
  ['v22.18.0', true],
  ['v24.21.0', true],
  ['v100.0.0', true],
])('%s is modern: %s', (version, modern) => {
  expect(isModern(version)).toBe(modern)
})

describe('what is installed', () => {
  const lock = {
    packages: {
      '': {},
      'node_modules/a': { version: '1.0.0' },
      'node_modules/b': { version: '2.0.0', optional: true },
    },
  }
  const installed = (packages: object): void => {
    mkdirSync(join(folder, 'node_modules'), { recursive: true })
    writeFileSync(join(folder, 'node_modules', '.package-lock.json'), JSON.stringify({ packages }))
  }
  beforeEach(() => writeFileSync(join(folder, 'package-lock.json'), JSON.stringify(lock)))

  test('a package that is missing or of another version must be installed; one for other machines need not', () => {
    expect(installedMatchesLock(lock, { packages: { 'node_modules/a': { version: '1.0.0' } } })).toBe(true)
    expect(installedMatchesLock(lock, { packages: { 'node_modules/a': { version: '1.0.1' } } })).toBe(false)
    expect(installedMatchesLock(lock, { packages: {} })).toBe(false)
    expect(installedMatchesLock(lock, undefined)).toBe(false)
  })

  test('an empty clone is not set up', () => {
    expect(isSetUp(folder)).toBe(false)
  })

  test('an installation made by hand counts, is remembered, and is forgotten when the lock changes', () => {
    installed({ 'node_modules/a': { version: '1.0.0' } })
    expect(isSetUp(folder)).toBe(true)
    rmSync(join(folder, 'node_modules', '.package-lock.json'))
    expect(isSetUp(folder)).toBe(true)
    writeFileSync(
      join(folder, 'package-lock.json'),
      JSON.stringify({ packages: { ...lock.packages, 'node_modules/c': { version: '3.0.0' } } }),
    )
    expect(isSetUp(folder)).toBe(false)
  })
})

test("Electron's runtime is found without a download, or not", () => {
  const electron = join(folder, 'node_modules', 'electron')
  mkdirSync(join(electron, 'dist'), { recursive: true })
  writeFileSync(join(folder, 'package.json'), '{}')
  writeFileSync(join(electron, 'package.json'), '{"name":"electron"}')
  expect(electronRuntime(folder, {})).toBeNull()
  writeFileSync(join(electron, 'path.txt'), 'electron')
  expect(electronRuntime(folder, {})).toBeNull()
  writeFileSync(join(electron, 'dist', 'electron'), '')
  expect(electronRuntime(folder, {})).toBe(join(electron, 'dist', 'electron'))
  expect(electronRuntime(folder, { ELECTRON_OVERRIDE_DIST_PATH: join(folder, 'elsewhere') })).toBeNull()
})

test('Chromium is taken where it is named, then from the path, then from what was fetched for tests', () => {
  const machine = (environment: Record<string, string>) => ({ platform: 'linux', home: folder, environment }) as const
  expect(findChromium(machine({ PATH: folder }))).toBeNull()
  const fetched = join(folder, '.cache', 'ms-playwright', 'chromium-1200', 'chrome-linux64')
  mkdirSync(fetched, { recursive: true })
  writeFileSync(join(fetched, 'chrome'), '')
  expect(findChromium(machine({ PATH: folder }))).toBe(join(fetched, 'chrome'))
  writeFileSync(join(folder, 'chromium'), '')
  expect(findChromium(machine({ PATH: folder }))).toBe(join(folder, 'chromium'))
  writeFileSync(join(folder, 'mine'), '')
  expect(findChromium(machine({ PATH: folder, PENSTOCK_CHROMIUM: join(folder, 'mine') }))).toBe(join(folder, 'mine'))
})

describe('true totals', () => {
  test('vitest: a file that broke before its first test counts as a failure', () => {
    const report = {
      numPassedTests: 7,
      numFailedTests: 1,
      testResults: [
        { status: 'failed', assertionResults: [{ status: 'failed' }] },
        { status: 'failed', assertionResults: [] },
        { status: 'passed', assertionResults: [{ status: 'passed' }] },
      ],
    }
    expect(countVitest(JSON.stringify(report))).toEqual({ passed: 7, failed: 2 })
  })

  test('Playwright: a test that passed only the second time failed, and so did a file that could not be read', () => {
    const report = { stats: { expected: 5, unexpected: 1, flaky: 1, skipped: 0 }, errors: [{ message: 'x' }] }
    expect(countPlaywright(JSON.stringify(report))).toEqual({ passed: 5, failed: 3 })
  })

  test('a report that is not there is a failure', () => {
    for (const text of [null, '', '{}', 'x']) {
      expect(countVitest(text)).toEqual({ passed: 0, failed: 1 })
      expect(countPlaywright(text)).toEqual({ passed: 0, failed: 1 })
    }
    expect(
      sumCounts([
        { passed: 1, failed: 0 },
        { passed: 2, failed: 3 },
      ]),
    ).toEqual({ passed: 3, failed: 3 })
  })
})

describe('the way in', () => {
  const wayIn = fileURLToPath(new URL('../../electron/start/with-modern-node.mjs', import.meta.url))

  test('a word that is no command is refused with the commands there are', () => {
    const ran = spawnSync(process.execPath, [wayIn, 'dance'], { encoding: 'utf8' })
    expect(ran.status).toBe(2)
    expect(ran.stderr).toBe('Say what to do: start, test, day, bench.\n')
  })

  test('npm start -- --help says what it takes, and opens nothing', () => {
    const ran = spawnSync(process.execPath, [wayIn, 'start', '--help'], { encoding: 'utf8' })
    expect(ran.status).toBe(0)
    expect(ran.stdout).toContain('--no-window')
  })

  test('an option that means nothing is refused', () => {
    const ran = spawnSync(process.execPath, [wayIn, 'start', '--elsewhere'], { encoding: 'utf8' })
    expect(ran.status).toBe(2)
    expect(ran.stderr).toContain('"--elsewhere" means nothing here')
  })
})
