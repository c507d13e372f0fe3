import { randomBytes } from 'node:crypto'
import type { PageFiles } from './page-files.ts'
import { pagePolicy, withHouseHeaders } from './page-headers.ts'

/** The office as far as the shell knows it. */
export interface AnsweringOffice {
  handle(request: Request): Promise<Response>
}

/** An address of a screen: words, no file name. The window itself decides what it shows. */
const SCREEN = /^\/(?:[\w-]+\/?)*$/
const LARGEST_BODY_BYTES = 64 * 1024 * 1024

/**
 * Everything the window can ask, however the request came: questions and papers go to the office, files and screens to the built
 * window. The caller has made sure that the request may be answered at all.
 */
export async function answerRequest(request: Request, office: AnsweringOffice, files: PageFiles): Promise<Response> {
  const { pathname } = new URL(request.url)
  const path = decoded(pathname)
  if (path === null) return plain(400, 'This address cannot be read.')
  if (path.startsWith('/rpc/') || path.startsWith('/papers/')) {
    if (Number(request.headers.get('content-length') ?? 0) > LARGEST_BODY_BYTES)
      return plain(413, 'This is too large to take in at once.')
    return withHouseHeaders(await office.handle(request))
  }
  if (request.method !== 'GET' && request.method !== 'HEAD') return plain(405, 'Only reading is possible here.')
  // Every browser asks for it unasked; the page names its own.
  if (path === '/favicon.ico') return withHouseHeaders(new Response(null, { status: 204 }))
  const file = files.file(path)
  if (file) return withHouseHeaders(file)
  if (!SCREEN.test(path)) return plain(404, 'Nothing lives at this address.')
  return answerPage(files)
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
