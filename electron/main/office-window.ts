import { readFileSync, writeFileSync } from 'node:fs'
import { join } from 'node:path'
import { app, BrowserWindow, dialog, screen } from 'electron'
import { HARDENED, HOME } from './window-hardening.ts'
import { placeWindow, readWindowPlace, SMALLEST, type WindowPlace } from './window-place.ts'

/** Opens the one window, where it was when it was closed last. */
export function openOfficeWindow(preload: string, folder: string, log: (line: string) => void): BrowserWindow {
  const file = join(folder, 'window-place.json')
  const { maximised, ...bounds } = placeWindow(remembered(file), workAreas())
  const window = new BrowserWindow({
    ...bounds,
    minWidth: SMALLEST.width,
    minHeight: SMALLEST.height,
    title: 'Penstock',
    show: false,
    backgroundColor: '#f1ede4',
    webPreferences: { ...HARDENED, preload },
  })
  window.once('ready-to-show', () => {
    if (maximised) window.maximize()
    window.show()
  })
  window.on('close', () => remember(file, { ...window.getNormalBounds(), maximised: window.isMaximized() }, log))
  window.webContents.on('render-process-gone', (_event, { reason }) => void offerAgain(window, reason, log))
  void window.loadURL(HOME)
  return window
}

function workAreas() {
  const first = screen.getPrimaryDisplay()
  const others = screen.getAllDisplays().filter((display) => display.id !== first.id)
  return [first, ...others].map((display) => display.workArea)
}

function remembered(file: string): WindowPlace | null {
  try {
    return readWindowPlace(readFileSync(file, 'utf8'))
  } catch {
    return null
  }
}

/** Losing the window's place is no reason to keep it from closing. */
function remember(file: string, place: WindowPlace, log: (line: string) => void): void {
  try {
    writeFileSync(file, JSON.stringify(place))
  } catch (error) {
    log(`The window's place could not be kept: ${String(error)}`)
  }
}

async function offerAgain(window: BrowserWindow, reason: string, log: (line: string) => void): Promise<void> {
  if (reason === 'clean-exit') return
  log(`The window stopped: ${reason}`)
  const { response } = await dialog.showMessageBox(window, {
    type: 'warning',
    message: 'The window stopped. The books are safe: what was saved is saved.',
    buttons: ['Open the window again', 'Close Penstock'],
    defaultId: 0,
    cancelId: 0,
  })
  if (response === 0) window.reload()
  else app.quit()
}
