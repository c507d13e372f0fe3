import { globSync, readFileSync } from 'node:fs'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, test } from 'vitest'
import { HARDENED } from '../../electron/main/window-hardening.ts'

/**
 * Electron's own security checklist (docs/tutorial/security.md, 20 items), and for each item the tests that try to break it. A test
 * that is renamed or taken away fails here: no item loses its guard unnoticed.
 */
const root = fileURLToPath(new URL('../..', import.meta.url))
const HARDENING = 'tests/electron/hardening.test.ts'
const MAIN = 'tests/electron/main-process.test.ts'
const FUSES = 'tests/electron/fuses.test.ts'
const HERE = 'tests/electron/checklist.test.ts'
const DOOR = 'tests/e2e/served-door.spec.ts'

const CHECKLIST: readonly { readonly item: string; readonly tried: readonly (readonly [string, string])[] }[] = [
  {
    item: '1 only secure content',
    tried: [
      [HARDENING, 'fetches nothing from %s'],
      [HARDENING, 'opens at home, under a scheme that is secure'],
    ],
  },
  { item: '2 no Node for remote content', tried: [[HARDENING, 'is made sandboxed, isolated and without Node']] },
  {
    item: '3 context isolation',
    tried: [
      [HARDENING, 'is made sandboxed, isolated and without Node'],
      [MAIN, 'shows the page five extras and nothing else'],
    ],
  },
  { item: '4 sandbox', tried: [[HARDENING, 'is made sandboxed, isolated and without Node']] },
  {
    item: '5 permission requests are handled',
    tried: [
      [HARDENING, 'grants nobody %s'],
      [HARDENING, 'hands out no device'],
    ],
  },
  {
    item: '6 webSecurity stays on',
    tried: [
      [HARDENING, 'is made sandboxed, isolated and without Node'],
      [HERE, 'nothing is switched on or off by a command line'],
    ],
  },
  {
    item: '7 a content policy',
    tried: [
      [HARDENING, 'answers the page under its strict policy'],
      [DOOR, 'the page may load nothing from elsewhere'],
    ],
  },
  { item: '8 no insecure content', tried: [[HARDENING, 'is made sandboxed, isolated and without Node']] },
  {
    item: '9 no experimental features',
    tried: [
      [HARDENING, 'is made sandboxed, isolated and without Node'],
      [HERE, 'nothing is switched on or off by a command line'],
    ],
  },
  { item: '10 no enableBlinkFeatures', tried: [[HARDENING, 'is made sandboxed, isolated and without Node']] },
  {
    item: '11 webviews open no windows',
    tried: [[HARDENING, 'embeds no webview, and neither does any page made later']],
  },
  { item: '12 webviews are checked', tried: [[HARDENING, 'embeds no webview, and neither does any page made later']] },
  {
    item: '13 navigation is limited',
    tried: [
      [HARDENING, 'does not go to %s'],
      [HARDENING, 'may be loaded anew, whatever its query says'],
    ],
  },
  { item: '14 new windows are limited', tried: [[HARDENING, 'opens no second window for %s']] },
  {
    item: '15 nothing foreign is opened outside',
    tried: [
      [HERE, 'no address is ever handed to the machine'],
      [HARDENING, '%s refuses %j'],
    ],
  },
  { item: '16 a current Electron', tried: [[HERE, 'one exact Electron is named, and it is the one installed']] },
  {
    item: '17 the sender of every message is checked',
    tried: [[HARDENING, '%s turns away a frame, a stranger and a page that is gone']],
  },
  {
    item: '18 a scheme of our own instead of file:',
    tried: [
      [HERE, 'no page comes from a file'],
      [HARDENING, '%s leads nowhere'],
    ],
  },
  {
    item: '19 fuses',
    tried: [
      [FUSES, '%s is set as it should be'],
      [FUSES, 'are flipped in what was packed for %s'],
    ],
  },
  {
    item: '20 no Electron for the page',
    tried: [
      [MAIN, 'shows the page five extras and nothing else'],
      [MAIN, 'lets through what fits and keeps back what does not'],
    ],
  },
]

describe('the security checklist', () => {
  test('has its twenty items in order', () => {
    expect(CHECKLIST.map(({ item }) => Number.parseInt(item, 10))).toEqual(
      Array.from({ length: 20 }, (_, at) => at + 1),
    )
  })

  test.each(CHECKLIST)('$item is tried', ({ tried }) => {
    expect(tried.length).toBeGreaterThan(0)
    for (const [file, title] of tried) expect(titlesIn(file).filter((one) => one.startsWith(title))).not.toEqual([])
  })
})

/** The titles of the tests in a file, a table's as it is written: the first word of `test(` and of `test.each(...)(`. */
function titlesIn(file: string): string[] {
  const text = readFileSync(join(root, file), 'utf8')
  return [...text.matchAll(/(?:\btest|\))\(\s*(['"])(.*?)\1/g)].map((match) => match[2] ?? '')
}

/** Everything that runs in the desktop program's own processes. */
const SHELL = globSync('electron/{main,page,place,preload}/**/*.ts', { cwd: root }).map((file) => ({
  file,
  text: readFileSync(join(root, file), 'utf8'),
}))
const where = (pattern: RegExp): string[] => SHELL.filter(({ text }) => pattern.test(text)).map(({ file }) => file)

test('no address is ever handed to the machine: only files of our own making and the folder of the books are opened', () => {
  expect(where(/openExternal/)).toEqual([])
  expect(where(/openPath\(/).toSorted()).toEqual(['electron/main/desktop-door.ts', 'electron/main/main.ts'])
})

test('no page comes from a file, and no file address is made', () => {
  expect(where(/loadFile\(|file:\/\/|pathToFileURL/)).toEqual([])
  expect(where(/loadURL\(/)).toEqual(['electron/main/office-window.ts'])
  expect(where(/loadURL\((?!HOME\))/)).toEqual([])
})

test('nothing is switched on or off by a command line, and nothing is run inside the page from outside', () => {
  expect(where(/commandLine|appendSwitch|executeJavaScript|insertCSS|openDevTools|\.debugger\b/)).toEqual([])
})

test('every window is made with the hardened settings, and no setting takes one back', () => {
  expect(where(/new BrowserWindow\(/)).toEqual(['electron/main/office-window.ts'])
  expect(where(/new (?:BrowserView|WebContentsView|BaseWindow)\(/)).toEqual([])
  expect(HARDENED).not.toHaveProperty('enableBlinkFeatures')
  expect(where(/webPreferences: (?!\{ \.\.\.HARDENED, preload \})/)).toEqual([])
})

test('the preload hands on no part of Electron itself', () => {
  const preload = SHELL.find(({ file }) => file.endsWith('preload/preload.ts'))?.text ?? ''
  expect(preload).toContain("exposeInMainWorld('desktop', desktop)")
  expect(preload.match(/ipcRenderer/g)?.length).toBe(
    (preload.match(/ipcRenderer\.invoke\(CHANNELS\./g)?.length ?? 0) + 1,
  )
})

test('one exact Electron is named, and it is the one installed', () => {
  const wanted: unknown = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')).devDependencies.electron
  const installed: unknown = JSON.parse(readFileSync(join(root, 'node_modules/electron/package.json'), 'utf8')).version
  expect(wanted).toMatch(/^\d+\.\d+\.\d+$/)
  expect(installed).toBe(wanted)
})
