import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { mkdirSync } from 'node:fs'
import { homedir } from 'node:os'
import { dirname, join } from 'node:path'
import { createInterface } from 'node:readline'
import { fileURLToPath } from 'node:url'
import { isOpenElsewhere, isPostgresAddress, type Office, openOffice } from '../../core/office.ts'
import { refused } from '../../core/result.ts'
import { openPageFiles } from '../page/page-files.ts'
import { booksAddress, dataFolder } from '../place/data-place.ts'
import { openLog } from '../place/log-file.ts'
import { machineClock } from '../place/machine-clock.ts'
import { parseStartOptions, START_HELP, type StartOptions } from '../place/start-options.ts'
import { askRunningOffice, leaveNote } from '../served/second-start.ts'
import { type ServedOffice, serveOffice } from '../served/serve-office.ts'
import { buildWhenStale } from './build-when-stale.ts'
import { findChromium } from './chromium-places.ts'
import { ownProfile } from './chromium-profile.ts'
import { electronRuntime, fetchElectronOnce } from './electron-runtime.ts'

// `npm start`: the desktop window where Electron's runtime is there or can be had, otherwise the served office.

const root = fileURLToPath(new URL('../..', import.meta.url))
const machine = { platform: process.platform, home: homedir(), environment: process.env }
/** Only as root does Chromium refuse to start with its sandbox. */
const asRoot = process.getuid?.() === 0 ? ['--no-sandbox'] : []

function hasDisplay(): boolean {
  return process.platform !== 'linux' || Boolean(process.env.DISPLAY || process.env.WAYLAND_DISPLAY)
}

async function start(words: readonly string[]): Promise<number> {
  const parsed = parseStartOptions(words, process.env.INIT_CWD ?? process.cwd())
  if (!parsed.ok) {
    console.error(parsed.sentence)
    return 2
  }
  const { options } = parsed
  if (options.help) {
    console.log(START_HELP)
    return 0
  }
  if (await buildWhenStale(root, 'window')) console.log('Built the window.')
  const wantsWindow = options.window && hasDisplay()
  const electron = wantsWindow ? (electronRuntime(root, process.env) ?? fetchElectronOnce(root, process.env)) : null
  return electron ? openDesktop(electron, options) : openServed(options, wantsWindow)
}

async function openDesktop(electron: string, options: StartOptions): Promise<number> {
  await buildWhenStale(root, 'shell')
  const data = options.data === null ? [] : ['--data', options.data]
  return ended(spawn(electron, [...asRoot, root, ...data], { stdio: 'inherit' }))
}

async function ended(child: ChildProcess): Promise<number> {
  const [code] = await once(child, 'exit')
  return typeof code === 'number' ? code : 1
}

async function openServed(options: StartOptions, wantsWindow: boolean): Promise<number> {
  const books = booksAddress(machine, options.data)
  const file = isPostgresAddress(books) ? null : books
  const chromium = wantsWindow ? findChromium(machine) : null
  if (file !== null) {
    const running = await askRunningOffice(file)
    if (running !== null) return openOneMore(running, chromium)
    mkdirSync(dirname(file), { recursive: true, mode: 0o700 })
  }
  const log = openLog(dataFolder(machine), machineClock.now)
  const opened = await openBooks(books, file, log)
  if (!opened) return 1
  const files = openPageFiles(join(root, 'dist', 'renderer'))
  const served = await serveOffice({ office: opened, files, port: options.port, log }).catch((error: unknown) => {
    console.error(
      `Port ${options.port} could not be opened (${error instanceof Error ? error.message : String(error)}). Name another after --port.`,
    )
    return null
  })
  if (served) {
    const takeNote = file === null ? () => {} : leaveNote(file, served)
    await (chromium ? untilWindowCloses(chromium, served) : untilStopped(served))
    takeNote()
    await served.close()
  }
  await opened.close()
  return served ? 0 : 1
}

/** A second start on books that are served already: one more window on the same office, or one more address. */
async function openOneMore(address: string, chromium: string | null): Promise<number> {
  if (chromium === null) {
    console.log(
      'Penstock is already open on these books. Open this address in a browser on this machine; it opens once:',
    )
    console.log(address)
    return 0
  }
  console.log('Penstock is already open on these books; this is one more window on them.')
  await untilChromiumCloses(chromium, address)
  return 0
}

/** The office on these books; null, after saying why, when they cannot be opened. */
async function openBooks(books: string, file: string | null, log: (line: string) => void): Promise<Office | null> {
  try {
    const isFree = file === null || !isOpenElsewhere(file)
    const opened = isFree
      ? await openOffice({ database: books, clock: machineClock, log, threads: 'worker' })
      : refused('DATABASE_OPEN_ELSEWHERE')
    if (opened.ok) return opened.value
    console.error(`${opened.problem.sentence} ${opened.problem.nextStep}`)
  } catch (error) {
    log(`The books did not open: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
    console.error(
      `The books cannot be opened, and nothing was changed: ${error instanceof Error ? error.message : String(error)}`,
    )
  }
  return null
}

/** A Chromium window without a browser's frame, with a profile of its own: when it is closed, the program ends. */
async function untilWindowCloses(chromium: string, served: ServedOffice): Promise<void> {
  console.log(
    "Electron's own window is not to be had on this machine; Penstock opens in a Chromium window instead. Closing it ends Penstock.",
  )
  await untilChromiumCloses(chromium, served.newAddress())
}

/** Chromium with a profile of this run: one that is shared would hand the window to a Chromium that a killed run left behind. */
async function untilChromiumCloses(chromium: string, address: string): Promise<void> {
  const profile = ownProfile(dataFolder(machine), process.pid)
  const words = [
    `--app=${address}`,
    '--test-type',
    `--user-data-dir=${profile.folder}`,
    '--no-first-run',
    '--window-size=1440,900',
    ...asRoot,
  ]
  const window = spawn(chromium, words, { stdio: 'ignore' })
  const stopped = new AbortController()
  process.once('SIGINT', () => window.kill())
  process.once('SIGTERM', () => window.kill())
  await Promise.race([once(window, 'exit'), once(window, 'error', { signal: stopped.signal })]).catch(() => null)
  stopped.abort()
  profile.remove()
}

/** Prints an address that opens once, and a new one whenever Enter is pressed, until the program is told to stop. */
async function untilStopped(served: ServedOffice): Promise<void> {
  console.log('Penstock is open. No window was opened here; open this address in a browser on this machine:')
  console.log(served.newAddress())
  const keyboard = process.stdin.isTTY ? createInterface({ input: process.stdin }) : null
  if (keyboard) {
    console.log('It opens once. Press Enter for another, Ctrl+C to close Penstock.')
    keyboard.on('line', () => console.log(served.newAddress()))
  }
  await new Promise<void>((resolve) => {
    process.once('SIGINT', () => resolve())
    process.once('SIGTERM', () => resolve())
    keyboard?.once('SIGINT', () => resolve())
    keyboard?.once('close', () => resolve())
  })
  keyboard?.close()
}

process.exitCode = await start(process.argv.slice(2))
