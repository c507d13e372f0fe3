import type { MenuItemConstructorOptions } from 'electron'

/** What the menu can do that no role of Electron does. */
export interface MenuHands {
  /** Turns to the tray at this place of the line, 1 to 7. */
  readonly openTray: (place: number) => void
  readonly printPage: () => void
  readonly openDataFolder: () => void
  readonly showAbout: () => void
}

/** The trays in the order the work runs. */
export const TRAYS = ['Due', 'Letters', 'Bookings', 'Pull', 'Visits', 'Invoices', 'Orders'] as const

/** The application menu. The page listens to Alt+1 to Alt+7 itself; the menu only shows the keys. */
export function menuTemplate(platform: NodeJS.Platform, hands: MenuHands): MenuItemConstructorOptions[] {
  const trays = TRAYS.map(
    (label, at): MenuItemConstructorOptions => ({
      label,
      accelerator: `Alt+${at + 1}`,
      registerAccelerator: false,
      click: () => hands.openTray(at + 1),
    }),
  )
  const mac: MenuItemConstructorOptions[] = platform === 'darwin' ? [{ role: 'appMenu' }] : []
  return [
    ...mac,
    {
      label: '&File',
      submenu: [
        { label: 'Print this sheet…', accelerator: 'CmdOrCtrl+P', click: hands.printPage },
        { type: 'separator' },
        platform === 'darwin' ? { role: 'close' } : { role: 'quit', label: 'Close Penstock' },
      ],
    },
    { label: '&Edit', submenu: editing() },
    { label: '&Trays', submenu: trays },
    { label: '&View', submenu: viewing() },
    {
      label: '&Help',
      role: 'help',
      submenu: [
        { label: 'Open the data folder', click: hands.openDataFolder },
        { label: 'About Penstock', click: hands.showAbout },
      ],
    },
  ]
}

function editing(): MenuItemConstructorOptions[] {
  return [
    { role: 'undo' },
    { role: 'redo' },
    { type: 'separator' },
    { role: 'cut' },
    { role: 'copy' },
    { role: 'paste' },
    { type: 'separator' },
    { role: 'selectAll' },
  ]
}

function viewing(): MenuItemConstructorOptions[] {
  return [
    { role: 'resetZoom', label: 'Actual size' },
    { role: 'zoomIn', label: 'Larger' },
    { role: 'zoomOut', label: 'Smaller' },
    { type: 'separator' },
    { role: 'togglefullscreen', label: 'Full screen' },
    { role: 'reload', label: 'Load the window again' },
  ]
}
