import type { App, Session, WebContents, WebPreferences } from 'electron'

/** Where the window lives. */
export const SCHEME = 'penstock'
export const HOST = 'office'
export const HOME = `${SCHEME}://${HOST}/`

/** What every window of ours is made with. The page is a guest: it has no Node, no view of our world, no way around the web's rules. */
export const HARDENED: WebPreferences = {
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
  safeDialogs: true,
  spellcheck: false,
  disableBlinkFeatures: 'Auxclick',
}

/** True for an address of the office itself: parsed and compared, never searched for a word. */
export function isOurs(address: string): boolean {
  if (!URL.canParse(address)) return false
  const { protocol, host, username, password } = new URL(address)
  return protocol === `${SCHEME}:` && host === HOST && username === '' && password === ''
}

/** The page may stay where it is or be loaded anew; a frame in it may show a paper of the office. */
function mayGoTo(address: string, isMainFrame: boolean): boolean {
  if (!isOurs(address)) return !isMainFrame && address === 'about:blank'
  const { pathname } = new URL(address)
  const answersOnly = pathname.startsWith('/papers/') || pathname.startsWith('/rpc/')
  return isMainFrame ? !answersOnly : pathname.startsWith('/papers/')
}

/** Every page that is ever made in this program is held: it goes nowhere, opens nothing, embeds nothing. */
export function holdPages(app: App): void {
  app.on('web-contents-created', (_event, contents) => holdPage(contents))
}

function holdPage(contents: WebContents): void {
  contents.setWindowOpenHandler(() => ({ action: 'deny' }))
  contents.on('will-attach-webview', (event) => event.preventDefault())
  contents.on('will-frame-navigate', (event) => {
    if (!mayGoTo(event.url, event.isMainFrame)) event.preventDefault()
  })
  contents.on('will-redirect', (event) => {
    if (!mayGoTo(event.url, event.isMainFrame)) event.preventDefault()
  })
}

/** What a page may load at all: the office, and what it made itself. Nothing leaves the machine from a window. */
const LOADED = new Set([`${SCHEME}:`, 'blob:', 'data:'])

/** No permission is granted, asked or checked; no device is handed out; nothing is fetched from elsewhere. */
export function holdSession(session: Session): void {
  session.setPermissionRequestHandler((_contents, _permission, decide) => decide(false))
  session.setPermissionCheckHandler(() => false)
  session.setDevicePermissionHandler(() => false)
  session.webRequest.onBeforeRequest((details, decide) => {
    const known = URL.canParse(details.url) && LOADED.has(new URL(details.url).protocol)
    decide({ cancel: !known || (details.url.startsWith(`${SCHEME}:`) && !isOurs(details.url)) })
  })
  session.on('will-download', (event, item) => {
    const address = item.getURL()
    if (!isOurs(address) && !address.startsWith(`blob:${SCHEME}://${HOST}/`)) event.preventDefault()
  })
}
