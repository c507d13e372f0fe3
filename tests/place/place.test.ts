import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { describe, expect, test } from 'vitest'
import { booksAddress, dataFolder, type Machine } from '../../electron/place/data-place.ts'
import { openLog } from '../../electron/place/log-file.ts'
import { machineClock } from '../../electron/place/machine-clock.ts'
import { parseStartOptions } from '../../electron/place/start-options.ts'

const linux: Machine = { platform: 'linux', home: '/home/ilse', environment: {} }

describe('where the books lie', () => {
  test.each<[string, Machine, string]>([
    ['Linux', linux, '/home/ilse/.local/share/penstock'],
    ['Linux with a data folder named', { ...linux, environment: { XDG_DATA_HOME: '/data' } }, '/data/penstock'],
    // XDG Base Directory Specification 0.8: relative paths are invalid and to be ignored (from memory)
    [
      'Linux with a relative one',
      { ...linux, environment: { XDG_DATA_HOME: 'data' } },
      '/home/ilse/.local/share/penstock',
    ],
    [
      'macOS',
      { ...linux, platform: 'darwin', home: '/Users/ilse' },
      '/Users/ilse/Library/Application Support/Penstock',
    ],
    [
      'Windows',
      { platform: 'win32', home: 'C:\\Users\\ilse', environment: { LOCALAPPDATA: 'D:\\Local' } },
      'D:\\Local\\Penstock',
    ],
    [
      'Windows without its variable',
      { platform: 'win32', home: 'C:\\Users\\ilse', environment: {} },
      'C:\\Users\\ilse\\AppData\\Local\\Penstock',
    ],
  ])('on %s', (_name, machine, folder) => {
    expect(dataFolder(machine)).toBe(folder)
  })

  test('a file asked for comes before the server, the server before the usual place', () => {
    const withServer = { ...linux, environment: { DATABASE_URL: 'postgres://books' } }
    expect(booksAddress(withServer, '/tmp/x.sqlite')).toBe('/tmp/x.sqlite')
    expect(booksAddress(withServer, null)).toBe('postgres://books')
    expect(booksAddress(linux, null)).toBe('/home/ilse/.local/share/penstock/books.sqlite')
  })
})

describe('the words behind npm start', () => {
  const read = (...words: string[]) => parseStartOptions(words, '/work')

  test('none means the usual', () => {
    expect(read()).toEqual({ ok: true, options: { data: null, port: 0, window: true, help: false } })
  })

  test('all of them, also with an equals sign and a space in the path', () => {
    const options = { data: '/work/my books/a.sqlite', port: 4700, window: false, help: true }
    expect(read('--data', 'my books/a.sqlite', '--port', '4700', '--no-window', '--help')).toEqual({
      ok: true,
      options,
    })
    expect(read('--data=my books/a.sqlite', '--port=4700', '--no-window', '-h')).toEqual({ ok: true, options })
  })

  test.each([
    ['--port', '80'],
    ['--port', '70000'],
    ['--port', 'x'],
    ['--port'],
    ['--data'],
    ['--data', '--port'],
    ['--else'],
    ['books.sqlite'],
  ])('%s %s is refused in words', (...words) => {
    expect(read(...words)).toMatchObject({ ok: false, sentence: expect.stringMatching(/\.$/) })
  })
})

test('the log keeps one older file and says when', () => {
  const folder = mkdtempSync(join(tmpdir(), 'log-'))
  const log = openLog(join(folder, 'new'), () => '2026-12-01T12:00:00.000Z')
  log('first')
  writeFileSync(join(folder, 'new', 'penstock.log'), 'x'.repeat(1_000_001))
  log('second')
  expect(readFileSync(join(folder, 'new', 'penstock.log'), 'utf8')).toBe('2026-12-01T12:00:00.000Z second\n')
  expect(readFileSync(join(folder, 'new', 'penstock.log.1'), 'utf8')).toHaveLength(1_000_001)
  rmSync(folder, { recursive: true })
})

test("the machine's clock gives a calendar date and an instant of the same moment", () => {
  const before = Date.now()
  const [today, now] = [machineClock.today(), machineClock.now()]
  expect(today).toMatch(/^\d{4}-\d{2}-\d{2}$/)
  expect(Date.parse(now)).toBeGreaterThanOrEqual(before)
  expect(Math.abs(Date.parse(`${today}T12:00:00`) - before)).toBeLessThanOrEqual(13 * 3_600_000)
})
