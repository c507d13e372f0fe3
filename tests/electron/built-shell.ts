import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { registerHooks } from 'node:module'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath, pathToFileURL } from 'node:url'
import { build } from 'vite'
import { vi } from 'vitest'
import { ElectronDouble } from './electron-double.ts'

const root = fileURLToPath(new URL('../..', import.meta.url))

/** The shell as it ships, built into a folder of its own beside dist, where its packages can be found. */
export interface BuiltShell {
  readonly folder: string
  remove(): void
}

/** Builds main and preload once for a test file. */
export async function buildShell(): Promise<BuiltShell> {
  mkdirSync(join(root, 'dist'), { recursive: true })
  const folder = mkdtempSync(join(root, 'dist', 'shell-under-test-'))
  const into = (name: string) => ({ outDir: join(folder, name), emptyOutDir: false })
  await build({ configFile: join(root, 'vite.electron.config.ts'), logLevel: 'error', build: into('electron') })
  await build({ configFile: join(root, 'vite.preload.config.ts'), logLevel: 'error', build: into('preload') })
  mkdirSync(join(folder, 'renderer', 'assets'), { recursive: true })
  writeFileSync(join(folder, 'renderer', 'index.html'), '<!doctype html><title>Penstock</title>')
  writeFileSync(join(folder, 'renderer', 'assets', 'start.js'), 'export const a = 1')
  return { folder, remove: () => rmSync(folder, { recursive: true, force: true }) }
}

/** What the running program's `electron` is: one double a run, found by the number in the importing file's address. */
const doubles: ElectronDouble[] = []
const DOUBLE = 'penstock-electron-double:'
const PARTS = Object.keys(new ElectronDouble().module())

registerHooks({
  resolve: (specifier, context, next) => {
    if (specifier !== 'electron') return next(specifier, context)
    const run = /[?&]run=(\d+)/.exec(context.parentURL ?? '')?.[1] ?? String(doubles.length - 1)
    return { url: `${DOUBLE}${run}`, format: 'module', shortCircuit: true }
  },
  load: (url, context, next) => {
    if (!url.startsWith(DOUBLE)) return next(url, context)
    const run = url.slice(DOUBLE.length)
    const source = `const all = globalThis.penstockElectronDoubles[${run}]\n${PARTS.map((part) => `export const ${part} = all.${part}`).join('\n')}`
    return { format: 'module', source, shortCircuit: true }
  },
})

export interface RunningShell {
  readonly electron: ElectronDouble
  readonly data: string
  /** Closes the program as a user would, and waits until its books are closed. */
  quit(): Promise<number | null>
}

export interface RunOptions {
  readonly prepare?: (electron: ElectronDouble) => void
  readonly words?: readonly string[]
  readonly data?: string
}

/** Starts the built main process under a double, with a data folder of its own. */
export async function runMain(
  shell: BuiltShell,
  { prepare, words = [], data = mkdtempSync(join(tmpdir(), 'penstock-data-')) }: RunOptions = {},
): Promise<RunningShell> {
  const electron = new ElectronDouble()
  prepare?.(electron)
  hand(electron)
  const run = doubles.push(electron) - 1
  process.env.XDG_DATA_HOME = data
  process.argv = [process.argv[0] ?? 'node', shell.folder, ...words]
  // Node keeps what it loaded: every run gets a copy of the entry under a name of its own, beside the first.
  const entry = join(shell.folder, 'electron', `main-${run}.js`)
  cpSync(join(shell.folder, 'electron', 'main.js'), entry)
  await import(/* @vite-ignore */ `${pathToFileURL(entry).href}?run=${run}`)
  await settled(electron)
  return {
    electron,
    data,
    quit: async () => {
      const gone = new Promise<void>((resolve) => electron.app.once('gone', () => resolve()))
      electron.app.quit()
      await gone
      return electron.app.exitCode
    },
  }
}

/** Loads the built preload under a double and gives what it shows to the page. */
export async function runPreload(shell: BuiltShell): Promise<ElectronDouble> {
  const electron = new ElectronDouble()
  hand(electron)
  const run = doubles.push(electron) - 1
  const { readFileSync } = await import('node:fs')
  const text = readFileSync(join(shell.folder, 'preload', 'preload.cjs'), 'utf8')
  const load = new Function('require', 'module', 'exports', text)
  load((name: string) => requireInPreload(name, run), { exports: {} }, {})
  return electron
}

/** A sandboxed preload can load Electron and nothing else. */
function requireInPreload(name: string, run: number): unknown {
  if (name !== 'electron') throw new Error(`A sandboxed preload cannot load ${name}`)
  return doubles[run]?.module()
}

function hand(electron: ElectronDouble): void {
  const shared = globalThis as typeof globalThis & { penstockElectronDoubles?: unknown[] }
  shared.penstockElectronDoubles ??= []
  shared.penstockElectronDoubles.push(electron.module())
}

/** Until the window is open, or an error box, or the program gave up. */
async function settled(electron: ElectronDouble): Promise<void> {
  const isSettled = () => electron.windows.length > 0 || electron.errors.length > 0 || !electron.app.first
  await vi.waitUntil(isSettled, { timeout: 100_000, interval: 25 })
}
