import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { basename, dirname, join } from 'node:path'
import Database from 'better-sqlite3'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type BuiltShell, buildShell, type RunningShell, runMain, runPreload } from './built-shell.ts'

let shell: BuiltShell
beforeAll(async () => {
  shell = await buildShell()
})
afterAll(() => shell.remove())

describe('the program', () => {
  test('keeps its books in the user own folder and closes them before it ends', async () => {
    const running = await runMain(shell)
    expect(existsSync(join(running.data, 'penstock', 'books.sqlite'))).toBe(true)
    expect(running.electron.app.paths.get('userData')).toBe(join(running.data, 'penstock', 'window'))
    expect(await running.quit()).toBe(0)
    expect(existsSync(join(running.data, 'penstock', 'books.sqlite-wal'))).toBe(false)
  })

  test('opens the books it is told to', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'my books '))
    const running = await runMain(shell, { words: ['--data', join(folder, 'north.sqlite')] })
    expect(existsSync(join(folder, 'north.sqlite'))).toBe(true)
    await running.quit()
    rmSync(folder, { recursive: true })
  })

  test('runs once: a second start brings the first window forward and opens nothing', async () => {
    const second = await runMain(shell, {
      prepare: ({ app }) => {
        app.first = false
      },
    })
    expect(second.electron.windows).toEqual([])
    expect(existsSync(join(second.data, 'penstock', 'books.sqlite'))).toBe(false)

    const first = await runMain(shell)
    const [window] = first.electron.windows
    if (!window) throw new Error('There is no window')
    window.minimised = true
    first.electron.app.emit('second-instance')
    expect([window.minimised, window.focused]).toEqual([false, 1])
    await first.quit()
  })

  test('says in words that books are from a newer program, and opens no window', async () => {
    const before = await runMain(shell)
    await before.quit()
    const books = new Database(join(before.data, 'penstock', 'books.sqlite'))
    books.prepare("insert into kysely_migration (name, timestamp) values ('9999-from-the-future', '2031-01-01')").run()
    books.close()
    const again = await runMain(shell, { data: before.data })
    expect(again.electron.windows).toEqual([])
    expect(again.electron.errors).toEqual([expect.stringContaining('newer')])
  })

  test('books that cannot be read are said in words, and nothing is written over them', async () => {
    const data = mkdtempSync(join(tmpdir(), 'penstock-data-'))
    mkdirSync(join(data, 'penstock'), { recursive: true })
    const books = join(data, 'penstock', 'books.sqlite')
    writeFileSync(books, 'These are the minutes of a meeting, and no books at all. '.repeat(100))
    const running = await runMain(shell, { data })
    expect(running.electron.windows).toEqual([])
    expect(running.electron.errors).toEqual([expect.stringContaining('cannot be opened')])
    expect(readFileSync(books, 'utf8')).toContain('minutes of a meeting')
  })

  test('opens its window where it was, remembers where it went, and shows it when it is ready', async () => {
    const data = mkdtempSync(join(tmpdir(), 'penstock-data-'))
    mkdirSync(join(data, 'penstock'), { recursive: true })
    const file = join(data, 'penstock', 'window-place.json')
    writeFileSync(file, JSON.stringify({ x: 200, y: 100, width: 1200, height: 800, maximised: true }))
    const running = await runMain(shell, { data })
    const [window] = running.electron.windows
    expect(window?.options).toMatchObject({ x: 200, y: 100, width: 1200, height: 800, show: false })
    expect(window?.shown).toBe(false)
    window?.emit('ready-to-show')
    expect([window?.shown, window?.maximised]).toEqual([true, true])
    window?.emit('close')
    expect(JSON.parse(readFileSync(file, 'utf8'))).toEqual({ x: 100, y: 60, width: 1300, height: 850, maximised: true })
    await running.quit()
  })

  test('a place that makes no sense is forgotten', async () => {
    const data = mkdtempSync(join(tmpdir(), 'penstock-data-'))
    mkdirSync(join(data, 'penstock'), { recursive: true })
    writeFileSync(join(data, 'penstock', 'window-place.json'), '{"x":"left"}')
    const running = await runMain(shell, { data })
    expect(running.electron.windows[0]?.options).toMatchObject({ x: 240, y: 70, width: 1440, height: 900 })
    await running.quit()
  })
})

describe('the menu', () => {
  test('names the seven trays with their keys, and presses them for the page', async () => {
    const running = await runMain(shell)
    const trays = running.electron.menu.find(({ label }) => label === '&Trays')?.submenu
    if (!Array.isArray(trays)) throw new Error('There are no trays in the menu')
    expect(trays.map(({ label, accelerator }) => `${accelerator} ${label}`)).toEqual([
      'Alt+1 Due',
      'Alt+2 Letters',
      'Alt+3 Bookings',
      'Alt+4 Pull',
      'Alt+5 Visits',
      'Alt+6 Invoices',
      'Alt+7 Orders',
    ])
    expect(trays.every(({ registerAccelerator }) => registerAccelerator === false)).toBe(true)
    const click: unknown = trays[3]?.click
    if (typeof click === 'function') click()
    expect(running.electron.windows[0]?.webContents.pressed).toEqual([
      { type: 'keyDown', keyCode: '4', modifiers: ['alt'] },
      { type: 'keyUp', keyCode: '4', modifiers: ['alt'] },
    ])
    await running.quit()
  })

  test('offers no developer tools and no way to another page', async () => {
    const running = await runMain(shell)
    const roles = JSON.stringify(running.electron.menu)
    expect(roles).not.toMatch(/toggleDevTools|forceReload|http/)
    await running.quit()
  })
})

describe('the preload', () => {
  test('shows the page five extras and nothing else', async () => {
    const electron = await runPreload(shell)
    expect([...electron.exposed.keys()]).toEqual(['desktop'])
    expect(Object.keys(electron.exposed.get('desktop') ?? {}).toSorted()).toEqual([
      'chooseFile',
      'openDataFolder',
      'printPaper',
      'savePaper',
      'saveText',
    ])
  })

  test('lets through what fits and keeps back what does not', async () => {
    const electron = await runPreload(shell)
    const desktop = new Map<string, unknown>(Object.entries(electron.exposed.get('desktop') ?? {}))
    const call = async (name: string, ...input: unknown[]): Promise<unknown> => {
      const extra = desktop.get(name)
      if (typeof extra !== 'function') throw new Error(`There is no ${name}`)
      return extra(...input)
    }
    await call('printPaper', '/papers/letters/1.pdf?page=1')
    await call('saveText', 'list.csv', 'a')
    await call('openDataFolder', 'C:\\')
    expect(electron.invoked).toEqual([
      ['desktop:print-paper', '/papers/letters/1.pdf?page=1'],
      ['desktop:save-text', 'list.csv', 'a'],
      ['desktop:open-data-folder'],
    ])
    await expect(call('printPaper', 'file:///etc/passwd')).rejects.toThrow()
    await expect(call('printPaper', '/papers/../x')).rejects.toThrow()
    await expect(call('savePaper', '/papers/a.pdf', '..\\x')).rejects.toThrow()
    expect(electron.invoked).toHaveLength(3)
  })
})

describe('printing', () => {
  async function office(running: RunningShell): Promise<void> {
    const scheme = running.electron.session.defaultSession.schemes.get('penstock')
    const address = {
      name: 'Larkmoor Water',
      line1: '',
      line2: '',
      town: '',
      region: '',
      postalCode: '',
      country: 'US',
    }
    const answer = await scheme?.(
      new Request('penstock://office/rpc/office/found', {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin: 'penstock://office' },
        body: JSON.stringify({ json: { ...address, phone: '', email: '' } }),
      }),
    )
    expect(answer?.status).toBe(200)
  }
  const print = async ({ electron }: RunningShell, address: string): Promise<unknown> => {
    const page = electron.windows[0]?.webContents
    return electron.handlers.get('desktop:print-paper')?.({ sender: page, senderFrame: page?.mainFrame }, address)
  }
  const PAGE = '/papers/pull/2026-12-01.pdf'

  test('a page opens whole in the reader, lies where only the user sees it, and goes when the program ends', async () => {
    const running = await runMain(shell)
    await office(running)
    expect(await print(running, PAGE)).toBe('opened')
    const [file = ''] = running.electron.opened
    expect(basename(file)).toBe('2026-12-01.pdf')
    expect(readFileSync(file, 'latin1')).toMatch(/^%PDF-[\s\S]*%%EOF\s*$/)
    if (process.platform !== 'win32') {
      expect(statSync(dirname(file)).mode & 0o777).toBe(0o700)
      expect(statSync(file).mode & 0o777).toBe(0o600)
    }
    await running.quit()
    expect(existsSync(dirname(file))).toBe(false)
  })

  test('when no reader is there the page says so, leaves no file behind, and the log says why', async () => {
    const running = await runMain(shell)
    await office(running)
    running.electron.noReader = 'No application found to open URL'
    expect(await print(running, PAGE)).toBe('no-reader')
    const [file = ''] = running.electron.opened
    expect(existsSync(dirname(file))).toBe(false)
    expect(readFileSync(join(running.data, 'penstock', 'penstock.log'), 'utf8')).toContain('No application found')
    running.electron.noReader = ''
    expect(await print(running, PAGE)).toBe('opened')
    await running.quit()
  })

  test('a page that the office does not have is not opened', async () => {
    const running = await runMain(shell)
    expect(await print(running, '/papers/nothing/1.pdf')).toBe('no-paper')
    expect(running.electron.opened).toEqual([])
    await running.quit()
  })
})

test('books that another Penstock holds open are not opened a second time, and the user is told', async () => {
  const data = mkdtempSync(join(tmpdir(), 'penstock-data-'))
  const first = await runMain(shell, { data })
  const second = await runMain(shell, { data })
  expect(second.electron.windows).toEqual([])
  expect(second.electron.errors).toEqual([expect.stringContaining('has these books open')])
  await first.quit()
  const third = await runMain(shell, { data })
  expect(third.electron.errors).toEqual([])
  await third.quit()
})
