import { randomBytes } from 'node:crypto'
import type { PageFiles } from './page-files.ts'
import { pagePolicy, withHouseHeaders } from './page-headers.ts'

/** The office as far as the shell knows it. */
export interface AnsweringOffice {
  handle(request: Request): Promise<Response>
}

/** An address of a screen: words, no file name. The window itself decides what it shows. */
const SCREEN = /^\/(?:[\w-]+\/?)*$/
/** Lists travel in pieces far smaller than this; the largest of all are the choices made for the rows of a long list. */
const LARGEST_BODY_BYTES = 8 * 1024 * 1024

/**
 * Everything the window can ask, however the request came: questions and papers go to the office, files and screens to the built
 * window. The caller has made sure that the request may be answered at all.
 */
export async function answerRequest(request: Request, office: AnsweringOffice, files: PageFiles): Promise<Response> {
  const { pathname } = new URL(request.url)
  const path = decoded(pathname)
  if (path === null) return plain(400, 'This address cannot be read.')
  if (path.startsWith('/rpc/') || path.startsWith('/papers/')) {
    if (Number(request.headers.get('content-length') ?? 0) > LARGEST_BODY_BYTES) return tooLarge()
    return answerWithin(LARGEST_BODY_BYTES, request, office)
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') return plain(405, 'Only reading is possible here.')
  // Every browser asks for it unasked; the page names its own.
  if (path === '/favicon.ico') return withHouseHeaders(new Response(null, { status: 204 }))
  const file = files.file(path)
  if (file) return withHouseHeaders(file)
  if (!SCREEN.test(path)) return plain(404, 'Nothing lives at this address.')
  return answerPage(files)
}

const tooLarge = (): Response => plain(413, 'This is too large to take in at once.')

/** Answers a request whose body says nothing of its length: no more of it is read than may be, and the rest is not waited for. */
async function answerWithin(most: number, request: Request, office: AnsweringOffice): Promise<Response> {
  if (request.body === null || request.headers.has('content-length'))
    return withHouseHeaders(await office.handle(request))
  let taken = 0
  const counting = new TransformStream<Uint8Array, Uint8Array>({
    transform: (bytes, onward) => {
      taken += bytes.byteLength
      if (taken > most) onward.error(new RangeError('The body is too large'))
      else onward.enqueue(bytes)
    },
  })
  const { url, method, headers, signal } = request
  const body = request.body.pipeThrough(counting)
  try {
    const answer = await office.handle(new Request(url, { method, headers, signal, body, duplex: 'half' }))
    return taken > most ? tooLarge() : withHouseHeaders(answer)
  } catch (error) {
    if (taken > most) return tooLarge()
    throw error
  }
}

async function answerPage(files: PageFiles): Promise<Response> {
  const nonce = randomBytes(16).toString('base64')
  const page = await files.page(nonce)
  if (page === null) return plain(503, 'The window was not built yet. Run npm start.')
  return withHouseHeaders(
    new Response(page, { headers: { 'content-type': 'text/html; charset=utf-8' } }),
    pagePolicy(nonce),
  )
}

/** The path without its escapes; null for one that hides a way up, a backslash or a NUL, or is no proper text. */
function decoded(pathname: string): string | null {
  try {
    const path = decodeURIComponent(pathname)
    return path.includes('\0') || path.includes('\\') || path.split('/').includes('..') ? null : path
  } catch {
    return null
  }
}

/** A short answer in words. */
export function plain(status: number, sentence: string): Response {
  return withHouseHeaders(
    new Response(`${sentence}\n`, { status, headers: { 'content-type': 'text/plain; charset=utf-8' } }),
  )
}
