import { EventEmitter } from 'node:events'
import type * as Electron from 'electron'

/**
 * A double of just the part of Electron that our main process and preload use, typed by Electron's own declarations: what they
 * register is kept, so that a test can knock on every door.
 */
type Handler = (event: unknown, ...input: unknown[]) => unknown
type SchemeHandler = (request: Request) => Promise<Response>
type BeforeRequest = (details: { url: string }, decide: (answer: { cancel?: boolean }) => void) => void

export class PageDouble extends EventEmitter {
  mainFrame = { url: 'penstock://office/' }
  openHandler: ((details: { url: string }) => Electron.WindowOpenHandlerResponse) | null = null
  readonly pressed: unknown[] = []
  printed = 0
  setWindowOpenHandler(handler: (details: { url: string }) => Electron.WindowOpenHandlerResponse): void {
    this.openHandler = handler
  }
  sendInputEvent(event: unknown): void {
    this.pressed.push(event)
  }
  print(): void {
    this.printed += 1
  }
}

export class SessionDouble extends EventEmitter {
  permissionRequest: Parameters<Electron.Session['setPermissionRequestHandler']>[0] = null
  permissionCheck: Parameters<Electron.Session['setPermissionCheckHandler']>[0] = null
  devicePermission: Parameters<Electron.Session['setDevicePermissionHandler']>[0] = null
  beforeRequest: BeforeRequest | null = null
  readonly schemes = new Map<string, SchemeHandler>()
  readonly protocol = { handle: (scheme: string, handler: SchemeHandler) => void this.schemes.set(scheme, handler) }
  readonly webRequest = {
    onBeforeRequest: (handler: BeforeRequest) => {
      this.beforeRequest = handler
    },
  }
  setPermissionRequestHandler(handler: typeof this.permissionRequest): void {
    this.permissionRequest = handler
  }
  setPermissionCheckHandler(handler: typeof this.permissionCheck): void {
    this.permissionCheck = handler
  }
  setDevicePermissionHandler(handler: typeof this.devicePermission): void {
    this.devicePermission = handler
  }
}

/** Everything one run of the program said to Electron. */
export class ElectronDouble {
  readonly app = new AppDouble()
  readonly session = { defaultSession: new SessionDouble() }
  readonly privileged: Electron.CustomScheme[] = []
  readonly handlers = new Map<string, Handler>()
  readonly windows: WindowDouble[] = []
  readonly opened: string[] = []
  readonly errors: string[] = []
  readonly exposed = new Map<string, unknown>()
  readonly invoked: unknown[][] = []
  menu: Electron.MenuItemConstructorOptions[] = []
  saveAs: string | undefined
  choose: string[] = []
  /** What Electron says when no program takes a file; empty when one did. */
  noReader = ''
  displays = [{ id: 1, workArea: { x: 0, y: 0, width: 1920, height: 1040 } }]

  /** What `import ... from 'electron'` gives. */
  module(): Record<string, unknown> {
    const double = this
    return {
      app: this.app,
      session: this.session,
      protocol: {
        registerSchemesAsPrivileged: (schemes: Electron.CustomScheme[]) => void this.privileged.push(...schemes),
      },
      ipcMain: { handle: (channel: string, handler: Handler) => void this.handlers.set(channel, handler) },
      dialog: {
        showErrorBox: (title: string, text: string) => void this.errors.push(`${title} ${text}`),
        showSaveDialog: async () => ({ canceled: this.saveAs === undefined, filePath: this.saveAs ?? '' }),
        showOpenDialog: async () => ({ canceled: this.choose.length === 0, filePaths: this.choose }),
        showMessageBox: async () => ({ response: 1 }),
      },
      shell: {
        openPath: async (path: string) => {
          this.opened.push(path)
          return this.noReader
        },
      },
      screen: { getPrimaryDisplay: () => this.displays[0], getAllDisplays: () => this.displays },
      Menu: {
        buildFromTemplate: (template: Electron.MenuItemConstructorOptions[]) => template,
        setApplicationMenu: (menu: Electron.MenuItemConstructorOptions[]) => {
          this.menu = menu
        },
      },
      BrowserWindow: class extends WindowDouble {
        constructor(options: Electron.BrowserWindowConstructorOptions) {
          super(options)
          double.windows.push(this)
          double.app.emit('web-contents-created', {}, this.webContents)
        }
        static getAllWindows = () => double.windows
      },
      contextBridge: { exposeInMainWorld: (name: string, api: unknown) => void this.exposed.set(name, api) },
      ipcRenderer: {
        invoke: async (...words: unknown[]) => {
          this.invoked.push(words)
          return true
        },
      },
    }
  }
}

class AppDouble extends EventEmitter {
  isPackaged = false
  first = true
  sandboxed = false
  exitCode: number | null = null
  readonly paths = new Map<string, string>()
  setPath(name: string, path: string): void {
    this.paths.set(name, path)
  }
  enableSandbox(): void {
    this.sandboxed = true
  }
  requestSingleInstanceLock(): boolean {
    return this.first
  }
  async whenReady(): Promise<void> {}
  showAboutPanel(): void {}
  quit(): void {
    this.emit('will-quit', { preventDefault: () => {} })
  }
  exit(code: number): void {
    this.exitCode = code
    this.emit('gone')
  }
}

export class WindowDouble extends EventEmitter {
  readonly webContents = new PageDouble()
  readonly options: Electron.BrowserWindowConstructorOptions
  loaded = ''
  shown = false
  maximised = false
  minimised = false
  focused = 0
  constructor(options: Electron.BrowserWindowConstructorOptions) {
    super()
    this.options = options
  }
  async loadURL(address: string): Promise<void> {
    this.loaded = address
  }
  show = (): void => {
    this.shown = true
  }
  maximize = (): void => {
    this.maximised = true
  }
  isMaximized = (): boolean => this.maximised
  isMinimized = (): boolean => this.minimised
  restore = (): void => {
    this.minimised = false
  }
  focus = (): void => {
    this.focused += 1
  }
  reload = (): void => {}
  getNormalBounds = () => ({ x: 100, y: 60, width: 1300, height: 850 })
}
