import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { type BuiltShell, buildShell, type RunningShell, runMain } from './built-shell.ts'
import { PageDouble } from './electron-double.ts'

/** The built main process; every line that holds the window is tried. The checklist is Electron's own (docs/tutorial/security.md). */
let shell: BuiltShell
let running: RunningShell

beforeAll(async () => {
  shell = await buildShell()
  running = await runMain(shell)
})
afterAll(async () => {
  await running.quit()
  shell.remove()
  rmSync(running.data, { recursive: true, force: true })
})

const STRANGE = [
  'https://example.com/',
  'https://example.com/?x=penstock://office/',
  'https://penstock.example.com/office/',
  'http://127.0.0.1:80/',
  'file:///etc/passwd',
  'penstock://office.example.com/',
  'penstock://office@example.com/',
  'penstock://example.com/office/',
  'penstock://user@office/',
  'javascript:alert(1)',
  'data:text/html,<h1>x</h1>',
  'penstockk://office/',
  'about:blank#penstock://office/',
  'not an address',
]

function page(): PageDouble {
  const [window] = running.electron.windows
  if (!window) throw new Error('There is no window')
  return window.webContents
}

/** True when the event was stopped. */
function stopped(name: string, details: object, contents: PageDouble = page()): boolean {
  let prevented = false
  contents.emit(name, {
    ...details,
    preventDefault: () => {
      prevented = true
    },
  })
  return prevented
}

describe('the window', () => {
  test('is made sandboxed, isolated and without Node', () => {
    const preferences = running.electron.windows[0]?.options.webPreferences
    expect(preferences).toMatchObject({
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      nodeIntegrationInWorker: false,
      nodeIntegrationInSubFrames: false,
      webSecurity: true,
      allowRunningInsecureContent: false,
      experimentalFeatures: false,
      webviewTag: false,
      navigateOnDragDrop: false,
    })
    expect(preferences?.enableBlinkFeatures).toBeUndefined()
    expect(existsSync(preferences?.preload ?? '')).toBe(true)
    expect(running.electron.app.sandboxed).toBe(true)
  })

  test('opens at home, under a scheme that is secure, standard and bypasses no policy', () => {
    expect(running.electron.windows[0]?.loaded).toBe('penstock://office/')
    const [scheme] = running.electron.privileged
    expect(scheme).toMatchObject({ scheme: 'penstock', privileges: { standard: true, secure: true } })
    expect(scheme?.privileges?.bypassCSP).toBeUndefined()
    expect(scheme?.privileges?.corsEnabled).toBeUndefined()
  })

  test.each(STRANGE)('does not go to %s', (url) => {
    for (const isMainFrame of [true, false]) {
      expect(stopped('will-frame-navigate', { url, isMainFrame })).toBe(true)
      expect(stopped('will-redirect', { url, isMainFrame })).toBe(true)
    }
  })

  test('may be loaded anew, whatever its query says, but never becomes a paper; a frame may', () => {
    expect(
      stopped('will-frame-navigate', { url: 'penstock://office/due?x=https://example.com', isMainFrame: true }),
    ).toBe(false)
    expect(stopped('will-frame-navigate', { url: 'penstock://office/papers/letters/1.pdf', isMainFrame: true })).toBe(
      true,
    )
    expect(stopped('will-frame-navigate', { url: 'penstock://office/papers/letters/1.pdf', isMainFrame: false })).toBe(
      false,
    )
    expect(stopped('will-frame-navigate', { url: 'penstock://office/due', isMainFrame: false })).toBe(true)
  })

  test.each([...STRANGE, 'penstock://office/', 'penstock://office/papers/letters/1.pdf'])(
    'opens no second window for %s',
    (url) => {
      expect(page().openHandler?.({ url })).toEqual({ action: 'deny' })
    },
  )

  test('embeds no webview, and neither does any page made later', () => {
    expect(stopped('will-attach-webview', {})).toBe(true)
    const later = new PageDouble()
    running.electron.app.emit('web-contents-created', {}, later)
    expect(stopped('will-attach-webview', {}, later)).toBe(true)
    expect(later.openHandler?.({ url: 'https://example.com' })).toEqual({ action: 'deny' })
    expect(stopped('will-frame-navigate', { url: 'https://example.com', isMainFrame: true }, later)).toBe(true)
  })
})

describe('the session', () => {
  const session = () => running.electron.session.defaultSession

  test.each([
    'media',
    'geolocation',
    'notifications',
    'clipboard-read',
    'fullscreen',
    'openExternal',
    'usb',
    'hid',
    'serial',
    'unknown',
  ])('grants nobody %s', (permission) => {
    const answers: boolean[] = []
    const request: unknown = session().permissionRequest
    const check: unknown = session().permissionCheck
    if (typeof request !== 'function' || typeof check !== 'function') throw new Error('Permissions are not held')
    request(page(), permission, (granted: boolean) => answers.push(granted), {})
    answers.push(check(page(), permission, 'penstock://office', {}))
    expect(answers).toEqual([false, false])
  })

  test('hands out no device', () => {
    const device: unknown = session().devicePermission
    if (typeof device !== 'function') throw new Error('Devices are not held')
    expect(device({ deviceType: 'usb', origin: 'penstock://office' })).toBe(false)
  })

  test.each(STRANGE.filter((url) => !/^(data|about):/.test(url)))('fetches nothing from %s', (url) => {
    let answer: { cancel?: boolean } = {}
    session().beforeRequest?.({ url }, (decided) => {
      answer = decided
    })
    expect(answer).toEqual({ cancel: true })
  })

  test('fetches from the office', () => {
    let answer: { cancel?: boolean } = {}
    session().beforeRequest?.({ url: 'penstock://office/rpc/due/list' }, (decided) => {
      answer = decided
    })
    expect(answer).toEqual({ cancel: false })
  })

  test('downloads what the office or the page made, and nothing else', () => {
    const download = (address: string): boolean => {
      let prevented = false
      session().emit(
        'will-download',
        {
          preventDefault: () => {
            prevented = true
          },
        },
        { getURL: () => address },
      )
      return !prevented
    }
    expect(download('penstock://office/papers/letters/1.pdf?save=1')).toBe(true)
    expect(download('blob:penstock://office/2b1c')).toBe(true)
    for (const address of STRANGE) expect(download(address)).toBe(false)
    expect(download('blob:https://example.com/2b1c')).toBe(false)
  })
})

describe('the scheme', () => {
  const ask = async (address: string, init?: RequestInit): Promise<Response> => {
    const handler = running.electron.session.defaultSession.schemes.get('penstock')
    if (!handler) throw new Error('The scheme is not answered')
    return handler(new Request(address, init))
  }

  test('answers the page under its strict policy, and its files', async () => {
    const answer = await ask('penstock://office/due')
    expect(answer.headers.get('content-security-policy')).toMatch(
      /default-src 'none'; script-src 'self'; style-src 'self' 'nonce-[^']+'/,
    )
    expect(answer.headers.get('content-security-policy')).not.toContain('unsafe')
    expect(await answer.text()).toContain('<title>Penstock</title>')
    expect((await ask('penstock://office/assets/start.js')).headers.get('content-type')).toContain('javascript')
  })

  test('passes questions to the office', async () => {
    const answer = await ask('penstock://office/rpc/office/state', {
      method: 'POST',
      body: '{}',
      headers: { 'content-type': 'application/json' },
    })
    expect(answer.headers.get('content-security-policy')).toContain("default-src 'none'")
    expect(answer.status).toBeLessThan(500)
  })

  test.each([
    'penstock://office/..%2f..%2fetc%2fpasswd',
    'penstock://office/%2e%2e/%2e%2e/package.json',
    'penstock://office/assets/..%2f..%2felectron%2fmain.js',
    'penstock://office/assets/..%5c..%5cmain.js',
    'penstock://office/assets/%00',
    'penstock://office/%',
    'penstock://elsewhere/',
  ])('%s leads nowhere', async (address) => {
    const answer = await ask(address)
    const text = await answer.text()
    expect(text).not.toMatch(/root:|penstock"|import /)
    if (answer.ok) expect(text).toContain('<title>Penstock</title>')
  })

  test('another page may not ask', async () => {
    const answer = await ask('penstock://office/rpc/office/state', {
      method: 'POST',
      headers: { origin: 'https://example.com' },
    })
    expect(answer.status).toBe(403)
  })
})

describe('the channels', () => {
  const CHANNELS = [
    'desktop:print-paper',
    'desktop:save-paper',
    'desktop:save-text',
    'desktop:choose-file',
    'desktop:open-data-folder',
  ]
  const ours = () => ({ sender: page(), senderFrame: page().mainFrame })
  const say = async (channel: string, event: object, ...input: unknown[]): Promise<unknown> =>
    running.electron.handlers.get(channel)?.(event, ...input)

  test('are these and no others', () => {
    expect([...running.electron.handlers.keys()].toSorted()).toEqual(CHANNELS.toSorted())
  })

  test.each(CHANNELS)('%s turns away a frame, a stranger and a page that is gone', async (channel) => {
    const stranger = { mainFrame: { url: 'https://example.com/?penstock://office/' } }
    for (const event of [
      { sender: page(), senderFrame: { url: 'penstock://office/' } },
      { sender: stranger, senderFrame: stranger.mainFrame },
      { sender: page(), senderFrame: null },
    ]) {
      await expect(say(channel, event)).rejects.toThrow('A stranger spoke')
    }
  })

  test.each([
    ['desktop:print-paper', []],
    ['desktop:print-paper', ['https://example.com/papers/1.pdf']],
    ['desktop:print-paper', ['//example.com/papers/1.pdf']],
    ['desktop:print-paper', ['/papers/../rpc/x']],
    ['desktop:print-paper', ['/papers/..%2frpc']],
    ['desktop:print-paper', ['/rpc/office/state']],
    ['desktop:print-paper', [{ toString: () => '/papers/a.pdf' }]],
    ['desktop:print-paper', ['/papers/a.pdf', 'more']],
    ['desktop:save-paper', ['/papers/a.pdf']],
    ['desktop:save-paper', ['/papers/a.pdf', '../../.bashrc']],
    ['desktop:save-paper', ['/papers/a.pdf', 'a\u0000.pdf']],
    ['desktop:save-paper', ['/papers/a.pdf', '..']],
    ['desktop:save-text', ['list.csv', 7]],
    ['desktop:save-text', ['C:\\list.csv', 'x']],
    ['desktop:choose-file', ['/etc/passwd']],
    ['desktop:open-data-folder', ['/etc']],
  ])('%s refuses %j', async (channel, input) => {
    const before = running.electron.opened.length
    await expect(say(channel, ours(), ...input)).rejects.toThrow()
    expect(running.electron.opened).toHaveLength(before)
  })

  test('a text is saved where the user says, and not when the user thinks better of it', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'saved-'))
    running.electron.saveAs = undefined
    expect(await say('desktop:save-text', ours(), 'list.csv', 'a;b')).toBe(false)
    running.electron.saveAs = join(folder, 'list.csv')
    expect(await say('desktop:save-text', ours(), 'list.csv', 'a;b')).toBe(true)
    expect(readFileSync(join(folder, 'list.csv'), 'utf8')).toBe('a;b')
    rmSync(folder, { recursive: true })
  })

  test('a paper that the office does not have is neither saved nor opened', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'saved-'))
    running.electron.saveAs = join(folder, 'a.pdf')
    expect(await say('desktop:save-paper', ours(), '/papers/nothing/1.pdf', 'a.pdf')).toBe(false)
    expect(await say('desktop:print-paper', ours(), '/papers/nothing/1.pdf')).toBe('no-paper')
    expect(existsSync(join(folder, 'a.pdf'))).toBe(false)
    rmSync(folder, { recursive: true })
  })

  test('a list is chosen by the user alone', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'list-'))
    running.electron.choose = []
    expect(await say('desktop:choose-file', ours())).toBeNull()
    writeFileSync(join(folder, 'list.csv'), 'name\n')
    running.electron.choose = [join(folder, 'list.csv')]
    expect(await say('desktop:choose-file', ours())).toEqual({
      name: 'list.csv',
      bytes: new Uint8Array(Buffer.from('name\n')),
    })
    rmSync(folder, { recursive: true })
  })

  test('the data folder is the one with the books', async () => {
    expect(await say('desktop:open-data-folder', ours())).toBe(true)
    expect(running.electron.opened.at(-1)).toBe(join(running.data, 'penstock'))
  })
})
