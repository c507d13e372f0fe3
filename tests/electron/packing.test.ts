import { spawnSync } from 'node:child_process'
import { existsSync, globSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import { tmpdir } from 'node:os'
import { join, relative, sep } from 'node:path'
import { fileURLToPath } from 'node:url'
import { extractAll } from '@electron/asar'
import { FuseState, FuseV1Options, getCurrentFuseWire } from '@electron/fuses'
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { buildWhenStale } from '../../electron/start/build-when-stale.ts'
import { type RunningShell, runMain } from './built-shell.ts'
import { fakeProgram } from './fake-program.ts'

/**
 * electron-builder itself packs the program, by our own electron-builder.yml, around a file that stands for Electron's program. What
 * comes out is looked through, unpacked into a folder that stands for app.asar, and started from there under the double.
 */
const root = fileURLToPath(new URL('../..', import.meta.url))
let place = ''
let packed = ''
let program = ''

interface Ran {
  readonly status: number | null
  readonly said: string
}

function pack(...more: readonly string[]): Ran {
  const cli = createRequire(import.meta.url).resolve('electron-builder/cli.js')
  const words = ['--linux', 'dir', '--x64', `-c.electronDist=${join(place, 'electron')}`]
  const ran = spawnSync(process.execPath, [cli, ...words, `-c.directories.output=${join(place, 'out')}`, ...more], {
    cwd: root,
    encoding: 'utf8',
  })
  return { status: ran.status, said: `${ran.stdout}${ran.stderr}` }
}

beforeAll(async () => {
  place = mkdtempSync(join(tmpdir(), 'shell-under-test-packed-'))
  mkdirSync(join(place, 'electron'))
  writeFileSync(
    join(place, 'electron', 'electron'),
    fakeProgram([true, false, true, true, false, false, false, true, true]),
  )
  writeFileSync(join(place, 'electron', 'version'), '45.4.1')
  await buildWhenStale(root, 'window')
  await buildWhenStale(root, 'shell')
  const ran = pack()
  if (ran.status !== 0) throw new Error(ran.said)
  packed = join(place, 'out', 'linux-unpacked')
  program = join(place, 'program')
  extractAll(join(packed, 'resources', 'app.asar'), program)
})
afterAll(() => rmSync(place, { recursive: true, force: true }))

const filesIn = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => relative(folder, join(entry.parentPath, entry.name)).split(sep).join('/'))
    .toSorted()

/** The patterns of one list of electron-builder.yml, at any depth. */
function patterns(list: string): string[] {
  const lines = readFileSync(join(root, 'electron-builder.yml'), 'utf8').split('\n')
  return lines.flatMap((line, at) => {
    if (line.trim() !== `${list}:`) return []
    const rest = lines.slice(at + 1)
    const end = rest.findIndex((one) => !/^\s+(-|#)/.test(one))
    return rest.slice(0, end).flatMap((one) => /^\s+- ["']?([^"']+)["']?$/.exec(one)?.[1] ?? [])
  })
}

/** Packages by name in a node_modules folder. */
function packagesIn(folder: string): string[] {
  return globSync(['*/package.json', '@*/*/package.json'], { cwd: folder })
    .map((file) => file.split(sep).slice(0, -1).join('/'))
    .toSorted()
}

/** The packages that the built shell leaves outside (vite.electron.config.ts), and all that those rest on. */
function neededPackages(): string[] {
  const needed = new Set<string>()
  const need = (name: string): void => {
    const file = join(root, 'node_modules', name, 'package.json')
    if (needed.has(name) || !existsSync(file)) return
    needed.add(name)
    const { dependencies = {}, optionalDependencies = {} } = JSON.parse(readFileSync(file, 'utf8'))
    for (const other of [...Object.keys(dependencies), ...Object.keys(optionalDependencies)]) need(other)
  }
  const shell = globSync('dist/electron/*.js', { cwd: root }).map((file) => readFileSync(join(root, file), 'utf8'))
  for (const [, name = ''] of shell.join('\n').matchAll(/^(?:import|export) .*?from ?"([^"./][^"]*)"/gm))
    if (!name.startsWith('node:') && name !== 'electron') need(name)
  return [...needed].toSorted()
}

describe('the words of electron-builder.yml', () => {
  test('are known to electron-builder, which refuses one that it does not know', () => {
    const wrong = pack('-c.asarUnpak=assets/**')
    expect(wrong.status).not.toBe(0)
    expect(wrong.said).toMatch(/asarUnpak/)
  })

  test.each([...patterns('files'), ...patterns('asarUnpack')])('%s hits something', (pattern) => {
    expect(
      globSync(pattern.replace(/^!/, '').replace(/\$\{platform\}/, 'linux'), { cwd: root }).length,
    ).toBeGreaterThan(0)
  })

  test('the lists are read whole', () => {
    expect(patterns('files').length).toBeGreaterThan(10)
    expect(patterns('asarUnpack')).toEqual(['node_modules/better-sqlite3/prebuilds/**'])
  })
})

describe('what is packed', () => {
  test('is the built program, the typefaces, and the packages it loads: nothing is missing, nothing is more', () => {
    const files = filesIn(program)
    expect(files).toEqual(
      expect.arrayContaining([
        'package.json',
        'dist/electron/main.js',
        'dist/electron/work-thread.js',
        'dist/electron/turns-thread.js',
        'dist/preload/preload.cjs',
        'dist/renderer/index.html',
        'assets/fonts/source-sans-3-regular.ttf',
        'assets/fonts/source-sans-3-semibold.ttf',
        'assets/fonts/source-sans-3-licence.txt',
        ...readdirSync(join(root, 'assets/letter-wording')).map((name) => `assets/letter-wording/${name}`),
      ]),
    )
    const tops = new Set(files.map((file) => file.split('/')[0]))
    expect([...tops].toSorted()).toEqual(['assets', 'dist', 'node_modules', 'package.json'])
    for (const built of ['electron', 'preload', 'renderer'])
      expect(filesIn(join(program, 'dist', built))).toEqual(filesIn(join(root, 'dist', built)))
    expect(packagesIn(join(program, 'node_modules'))).toEqual(neededPackages())
  })

  test('says in its own package.json where it begins, and nothing of how it is made', () => {
    const told = JSON.parse(readFileSync(join(program, 'package.json'), 'utf8'))
    expect(told).toMatchObject({ name: 'penstock', type: 'module', main: 'dist/electron/main.js' })
    expect(told.scripts).toBeUndefined()
    expect(told.devDependencies).toBeUndefined()
  })

  test('holds no sources, maps, notes of the makers or keys', () => {
    const strange = filesIn(program).filter((file) =>
      /\.(map|sqlite|log|env|pem|key)$|(^|\/)\.env|better-sqlite3\/(deps|src)\/|^(core|renderer|tests)\//.test(file),
    )
    expect(strange).toEqual([])
  })

  test('keeps the database binary outside the archive, as a real file, and only for this kind of machine', () => {
    const outside = filesIn(join(packed, 'resources', 'app.asar.unpacked'))
    const binaries = outside.filter((file) => file.endsWith('.node'))
    expect(binaries).toContain('node_modules/better-sqlite3/prebuilds/linux-x64.node')
    expect(binaries.every((file) => /prebuilds\/linux/.test(file))).toBe(true)
    // Whatever else lies outside could be changed without the archive noticing: the one package, and nothing of ours.
    expect(outside.filter((file) => !file.startsWith('node_modules/better-sqlite3/'))).toEqual([])
    expect(filesIn(program).filter((file) => file.endsWith('.node'))).toEqual(binaries)
  })

  test('has its fuses flipped', async () => {
    const wire = await getCurrentFuseWire(join(packed, 'penstock'))
    expect(wire[FuseV1Options.RunAsNode]).toBe(FuseState.DISABLE)
    expect(wire[FuseV1Options.OnlyLoadAppFromAsar]).toBe(FuseState.ENABLE)
    expect(wire[FuseV1Options.EnableEmbeddedAsarIntegrityValidation]).toBe(FuseState.ENABLE)
  })
})

describe('the program, started from what was packed and nothing else', () => {
  let running: RunningShell
  beforeAll(async () => {
    running = await runMain({ folder: join(program, 'dist'), remove: () => {} })
  })
  afterAll(async () => {
    await running.quit()
    rmSync(running.data, { recursive: true, force: true })
  })

  async function ask(path: string, input?: unknown): Promise<unknown> {
    const scheme = running.electron.session.defaultSession.schemes.get('penstock')
    const answer = await scheme?.(
      new Request(`penstock://office/rpc/${path}`, {
        method: 'POST',
        headers: { 'content-type': 'application/json', origin: 'penstock://office' },
        body: JSON.stringify({ json: input }),
      }),
    )
    const told: unknown = await answer?.json()
    return typeof told === 'object' && told !== null && 'json' in told ? told.json : told
  }

  test('opens a new office and shows its window', async () => {
    expect(running.electron.errors).toEqual([])
    expect(running.electron.windows[0]?.loaded).toBe('penstock://office/')
    const scheme = running.electron.session.defaultSession.schemes.get('penstock')
    const page = await scheme?.(new Request('penstock://office/'))
    expect(await page?.text()).toContain('id="penstock"')
    expect(await ask('office/state')).toMatchObject({ founded: false })
  })

  test('writes its demo office in a thread of its own, and prints a letter from the thread of the papers', async () => {
    const { workId } = (await ask('work/start', { name: 'demo', input: {} })) as { workId: string }
    await expect
      .poll(async () => (await ask('work/progress', { workId })) as unknown, { timeout: 180_000, interval: 250 })
      .toMatchObject({ state: 'done' })
    expect(await ask('office/state')).toMatchObject({ founded: true })
    const page = running.electron.windows[0]?.webContents
    const printed = await running.electron.handlers.get('desktop:print-paper')?.(
      { sender: page, senderFrame: page?.mainFrame },
      '/papers/letters-owed/all.pdf',
    )
    expect(printed).toBe('opened')
    const [file = ''] = running.electron.opened
    const paper = await getDocument({ data: new Uint8Array(readFileSync(file)), verbosity: 0 }).promise
    const { items } = await (await paper.getPage(1)).getTextContent()
    expect(items.map((item) => ('str' in item ? item.str : '')).join(' ')).toContain('Larkmoor Water')
    expect(readFileSync(file, 'latin1')).toContain('SourceSans3')
  }, 300_000)
})
