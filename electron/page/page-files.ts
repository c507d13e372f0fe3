import { createReadStream, type Dirent, existsSync, readdirSync } from 'node:fs'
import { readFile } from 'node:fs/promises'
import { extname, join, relative, sep } from 'node:path'
import { Readable } from 'node:stream'

/** The files of the built window. Only what lay there when it was opened can be had: a request is looked up, never joined to a path. */
export interface PageFiles {
  /** The page itself, its nonce filled in; null when the window was never built. */
  readonly page: (nonce: string) => Promise<string | null>
  /** The file at a decoded path such as `/assets/start-3f2a.js`; null when there is none. */
  readonly file: (path: string) => Response | null
}

/** What vite writes into the page where the nonce belongs (vite.config.ts). */
export const NONCE_PLACE = 'PENSTOCK_PAGE_NONCE'

const KINDS: Readonly<Record<string, string>> = {
  '.css': 'text/css; charset=utf-8',
  '.ico': 'image/x-icon',
  '.js': 'text/javascript; charset=utf-8',
  '.json': 'application/json; charset=utf-8',
  '.png': 'image/png',
  '.svg': 'image/svg+xml',
  '.ttf': 'font/ttf',
  '.txt': 'text/plain; charset=utf-8',
  '.wasm': 'application/wasm',
  '.webmanifest': 'application/manifest+json',
  '.woff2': 'font/woff2',
}

/** Looks up what lies below `folder` once. A link is not followed. */
export function openPageFiles(folder: string): PageFiles {
  const files = new Map(listed(folder).map((file) => [`/${relative(folder, file).split(sep).join('/')}`, file]))
  return {
    page: async (nonce) => {
      const file = files.get('/index.html')
      return file ? (await readFile(file, 'utf8')).replaceAll(NONCE_PLACE, nonce) : null
    },
    file: (path) => {
      const file = files.get(path)
      const kind = KINDS[extname(path)]
      if (!file || !kind || path === '/index.html') return null
      // Names under /assets carry a hash of what they hold.
      const cache = path.startsWith('/assets/') ? 'max-age=31536000, immutable' : 'no-cache'
      return new Response(asBody(file), { headers: { 'content-type': kind, 'cache-control': cache } })
    },
  }
}

function listed(folder: string): string[] {
  if (!existsSync(folder)) return []
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry: Dirent) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
}

function asBody(file: string): ReadableStream<Uint8Array> {
  const stream: ReadableStream<Uint8Array> = Readable.toWeb(createReadStream(file))
  return stream
}
