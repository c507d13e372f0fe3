import { mkdirSync } from 'node:fs'
import { homedir, tmpdir } from 'node:os'
import { dirname, join } from 'node:path'
import { app, BrowserWindow, dialog, ipcMain, Menu, protocol, session, shell } from 'electron'
import { isOpenElsewhere, isPostgresAddress, type Office, openOffice } from '../../core/office.ts'
import { refused } from '../../core/result.ts'
import { openPageFiles } from '../page/page-files.ts'
import { booksAddress, dataFolder } from '../place/data-place.ts'
import { isRunning } from '../place/is-running.ts'
import { openLog } from '../place/log-file.ts'
import { machineClock } from '../place/machine-clock.ts'
import { parseStartOptions } from '../place/start-options.ts'
import { openDesktopDoor } from './desktop-door.ts'
import { menuTemplate } from './menu.ts'
import { answerScheme, registerScheme } from './office-scheme.ts'
import { openOfficeWindow } from './office-window.ts'
import { openPaperFolder, type PaperFolder } from './paper-folder.ts'
import { holdPages, holdSession } from './window-hardening.ts'

// The desktop program: the office inside, one window in front. What it may not do stands in window-hardening.ts.

const machine = { platform: process.platform, home: homedir(), environment: process.env }
const folder = dataFolder(machine)
const log = openLog(folder, machineClock.now)
const built = join(import.meta.dirname, '..')
const words = process.argv.slice(app.isPackaged ? 1 : 2)

app.setPath('userData', join(folder, 'window'))
app.enableSandbox()
registerScheme(protocol)
holdPages(app)

if (app.requestSingleInstanceLock()) void open()
else app.quit()

async function open(): Promise<void> {
  const started = parseStartOptions(words, process.cwd())
  const books = booksAddress(machine, started.ok ? started.options.data : null)
  await app.whenReady()
  const office = await openBooks(books)
  if (office) receive(office, books)
  else app.exit(1)
}

/** The office on these books; null, after telling the user why, when they cannot be opened. */
async function openBooks(books: string): Promise<Office | null> {
  try {
    const isFile = !isPostgresAddress(books)
    if (isFile) mkdirSync(dirname(books), { recursive: true, mode: 0o700 })
    const opened =
      isFile && isOpenElsewhere(books)
        ? refused('DATABASE_OPEN_ELSEWHERE')
        : await openOffice({ database: books, clock: machineClock, log, threads: 'worker' })
    if (opened.ok) return opened.value
    dialog.showErrorBox(opened.problem.sentence, opened.problem.nextStep)
  } catch (error) {
    log(`The books did not open: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
    dialog.showErrorBox(
      'The books cannot be opened. Nothing was changed.',
      'Another program may hold them, or the file is no books of Penstock. The log beside them says more.',
    )
  }
  return null
}

function receive(office: Office, books: string): void {
  const papers = openPaperFolder(tmpdir(), process.pid, isRunning, Date.now)
  const booksFolder = isPostgresAddress(books) ? folder : dirname(books)
  const preload = join(built, 'preload', 'preload.cjs')
  let window: BrowserWindow | null = null
  const openWindow = (): void => {
    window = openOfficeWindow(preload, folder, log)
    window.once('closed', () => {
      window = null
    })
  }
  holdSession(session.defaultSession)
  answerScheme(session.defaultSession, office, openPageFiles(join(built, 'renderer')), log)
  openDesktopDoor({
    ipcMain,
    dialog,
    shell,
    office,
    window: () => window,
    dataFolder: booksFolder,
    log,
    papers,
  })
  Menu.setApplicationMenu(
    Menu.buildFromTemplate(
      menuTemplate(
        process.platform,
        menuHands(() => window, booksFolder),
      ),
    ),
  )
  app.on('second-instance', () => {
    if (window?.isMinimized()) window.restore()
    window?.focus()
  })
  app.on('activate', () => {
    if (BrowserWindow.getAllWindows().length === 0) openWindow()
  })
  app.on('window-all-closed', () => app.quit())
  closeInOrder(office, papers)
  openWindow()
}

function menuHands(window: () => BrowserWindow | null, booksFolder: string) {
  return {
    // The page answers Alt+1 to Alt+7 itself, and keeps what was typed: the menu presses the same keys.
    openTray: (place: number) => {
      const contents = window()?.webContents
      contents?.sendInputEvent({ type: 'keyDown', keyCode: String(place), modifiers: ['alt'] })
      contents?.sendInputEvent({ type: 'keyUp', keyCode: String(place), modifiers: ['alt'] })
    },
    printPage: () => window()?.webContents.print(),
    openDataFolder: () => void shell.openPath(booksFolder),
    showAbout: () => app.showAboutPanel(),
  }
}

/** The program ends when the books are closed, and not before. */
function closeInOrder(office: Office, papers: PaperFolder): void {
  let closing = false
  app.on('will-quit', (event) => {
    if (closing) return
    closing = true
    event.preventDefault()
    papers.remove()
    office.close().then(
      () => app.exit(0),
      (error: unknown) => {
        log(`The books did not close in order: ${String(error)}`)
        app.exit(1)
      },
    )
  })
}
