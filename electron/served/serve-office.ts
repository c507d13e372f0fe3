import type { Server } from 'node:http'
import { createAdaptorServer } from '@hono/node-server'
import { type AnsweringOffice, answerRequest, plain } from '../page/answer-request.ts'
import type { PageFiles } from '../page/page-files.ts'
import { withHouseHeaders } from '../page/page-headers.ts'
import { cookieValue, turnAway } from './door-guard.ts'
import { type DoorKeys, doorKeys, isSameSecret, secret } from './door-keys.ts'
import { WORD_HEADER } from './second-start.ts'

export interface ServeOptions {
  readonly office: AnsweringOffice
  readonly files: PageFiles
  /** 0 lets the machine choose. */
  readonly port: number
  readonly log: (line: string) => void
}

/** The office at an address of this machine. */
export interface ServedOffice {
  /** `http://127.0.0.1:49152`, without a key. */
  readonly origin: string
  /** The word by which a second start on this machine asks for an address (POST /knock). */
  readonly word: string
  /** An address that opens the door once. */
  newAddress(): string
  /** Lets what is being answered finish, for at most a few seconds, and closes the port. */
  close(): Promise<void>
}

const LOOPBACK = '127.0.0.1'
const PATIENCE_MS = 3_000

/** Serves on loopback. Rejects when the port is taken. */
export async function serveOffice(options: ServeOptions): Promise<ServedOffice> {
  const keys = doorKeys()
  const word = secret()
  const address = { host: '' }
  const server = createAdaptorServer({
    overrideGlobalObjects: false,
    fetch: (request) => answer(request, { host: address.host, keys, word }, options),
  })
  if (!isPlainHttp(server)) throw new Error('The adapter made a server that does not speak plain HTTP')
  const port = await listen(server, options.port)
  address.host = `${LOOPBACK}:${port}`
  const origin = `http://${address.host}`
  return {
    origin,
    word,
    newAddress: () => newAddress(address.host, keys),
    close: () => close(server),
  }
}

function isPlainHttp(server: ReturnType<typeof createAdaptorServer>): server is Server {
  return 'closeAllConnections' in server
}

function listen(server: Server, port: number): Promise<number> {
  return new Promise((resolve, reject) => {
    server.once('error', reject)
    server.listen(port, LOOPBACK, () => {
      server.off('error', reject)
      const at = server.address()
      if (at === null || typeof at === 'string') reject(new Error('The port has no number'))
      else resolve(at.port)
    })
  })
}

/** A connection that has been answered is closed soon after, not when the browser lets go of it. */
function close(server: Server): Promise<void> {
  return new Promise((resolve) => {
    const tidy = setInterval(() => server.closeIdleConnections(), 50)
    const hurry = setTimeout(() => server.closeAllConnections(), PATIENCE_MS)
    server.close(() => {
      clearInterval(tidy)
      clearTimeout(hurry)
      resolve()
    })
  })
}

const newAddress = (host: string, keys: DoorKeys): string => `http://${host}/enter?key=${keys.cut()}`

/** What stands at the door: its own name, the keys that were cut, and the word of a second start. */
interface Door {
  readonly host: string
  readonly keys: DoorKeys
  readonly word: string
}

/** One cookie a port: cookies do not know ports, and two offices on one machine must not sign each other out. */
const cookieName = (host: string): string => `penstock-${host.split(':').at(-1)}`

async function answer(
  request: Request,
  { host, keys, word }: Door,
  { office, files, log }: ServeOptions,
): Promise<Response> {
  try {
    const away = turnAway(request.method, request.headers, host)
    if (away) return plain(away.status, away.sentence)
    const { pathname, searchParams } = new URL(request.url)
    if (pathname === '/enter') return enter(request, searchParams.get('key') ?? '', host, keys)
    if (pathname === '/knock') return answerKnock(request, { host, keys, word })
    const session = cookieValue(request.headers.get('cookie'), cookieName(host))
    if (session === null || !keys.knows(session)) return notIn(request)
    return await answerRequest(request, office, files)
  } catch (error) {
    log(
      `The served office broke on a request: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
    )
    return plain(500, 'Something broke here, and nothing was changed. Try again; the log says more.')
  }
}

/** Exchanges a key for the cookie and leads on to an address without the key. Whoever is in already is only led on. */
function enter(request: Request, key: string, host: string, keys: DoorKeys): Response {
  if (request.method !== 'GET') return plain(405, 'Only reading is possible here.')
  const session = keys.exchange(key)
  const before = cookieValue(request.headers.get('cookie'), cookieName(host))
  if (session === null && !(before !== null && keys.knows(before))) return notIn(request)
  const headers = new Headers({ location: '/' })
  if (session !== null) headers.set('set-cookie', `${cookieName(host)}=${session}; HttpOnly; SameSite=Strict; Path=/`)
  return withHouseHeaders(new Response(null, { status: 303, headers }))
}

/** A second start on this machine: whoever can read the note beside the books can read the books. */
function answerKnock(request: Request, { host, keys, word }: Door): Response {
  if (request.method !== 'POST') return plain(405, 'A knock is sent, not read.')
  if (!isSameSecret(request.headers.get(WORD_HEADER) ?? '', word)) return notIn(request)
  return plain(200, newAddress(host, keys))
}

const NOT_IN = `<!doctype html>
<html lang="en">
<meta charset="utf-8">
<title>Penstock is open elsewhere</title>
<h1>Penstock is open, but not in this window</h1>
<p>An address opens Penstock once, in one browser. This window has none, or one that was used before.</p>
<p>Go to the terminal where Penstock was started and press Enter: it prints a new address. Open that one here. Nothing was lost.</p>
</html>
`

function notIn(request: Request): Response {
  if (!request.headers.get('accept')?.includes('text/html'))
    return plain(401, 'Open Penstock by the address it printed when it started.')
  return withHouseHeaders(
    new Response(NOT_IN, { status: 401, headers: { 'content-type': 'text/html; charset=utf-8' } }),
  )
}
