import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { request as ask } from 'node:http'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { openPageFiles } from '../../electron/page/page-files.ts'
import { type ServedOffice, serveOffice } from '../../electron/served/serve-office.ts'

interface Answer {
  readonly status: number
  readonly headers: Record<string, string | string[] | undefined>
  readonly text: string
}

let folder = ''
let served: ServedOffice
let asked: string[] = []
let finishSlowly = (): void => {}

beforeEach(async () => {
  folder = mkdtempSync(join(tmpdir(), 'served-'))
  writeFileSync(join(folder, 'index.html'), '<!doctype html><title>Penstock</title><meta nonce="PENSTOCK_PAGE_NONCE">')
  asked = []
  served = await serveOffice({ office: { handle: answerOffice }, files: openPageFiles(folder), port: 0, log: () => {} })
})

afterEach(async () => {
  await served.close()
  rmSync(folder, { recursive: true })
})

/** An office that notes what reaches it; `/papers/slow.pdf` comes in two pieces. */
async function answerOffice(request: Request): Promise<Response> {
  asked.push(`${request.method} ${new URL(request.url).pathname}`)
  if (!request.url.endsWith('slow.pdf')) return new Response('answered')
  const body = new ReadableStream<Uint8Array>({
    start: (controller) => {
      controller.enqueue(new TextEncoder().encode('first '))
      finishSlowly = () => {
        controller.enqueue(new TextEncoder().encode('last'))
        controller.close()
      }
    },
  })
  return new Response(body)
}

/** A request as any program could make it: every header, Host included, and a path that nobody tidied up. */
function send(
  path: string,
  headers: Record<string, string> = {},
  method = 'GET',
  onData: (text: string) => void = () => {},
): Promise<Answer> {
  const { hostname, port } = new URL(served.origin)
  return new Promise((resolve, reject) => {
    const sent = ask({ hostname, port, path, method, headers, setHost: !('host' in headers) }, (response) => {
      let text = ''
      response.on('data', (bytes: Buffer) => {
        text += bytes.toString('utf8')
        onData(bytes.toString('utf8'))
      })
      response.on('end', () => resolve({ status: response.statusCode ?? 0, headers: response.headers, text }))
    })
    sent.on('error', reject)
    sent.end()
  })
}

async function signIn(): Promise<string> {
  const answer = await send(served.newAddress().slice(served.origin.length))
  return String(answer.headers['set-cookie']).split(';')[0] ?? ''
}

describe('the way in', () => {
  test('a key is exchanged for a strict cookie and a clean address', async () => {
    const answer = await send(served.newAddress().slice(served.origin.length))
    expect([answer.status, answer.headers.location]).toEqual([303, '/'])
    expect(String(answer.headers['set-cookie'])).toMatch(/^penstock-\d+=[\w-]{43}; HttpOnly; SameSite=Strict; Path=\/$/)
  })

  test('a key that was used does not open again, not even for its own guesser', async () => {
    const path = served.newAddress().slice(served.origin.length)
    await send(path)
    const again = await send(path)
    expect([again.status, again.headers['set-cookie']]).toEqual([401, undefined])
  })

  test.each(['/enter', '/enter?key=', '/enter?key=guess', `/enter?key=${'A'.repeat(43)}`, '/enter?key=%00'])(
    '%s opens nothing',
    async (path) => {
      const answer = await send(path)
      expect([answer.status, answer.headers['set-cookie']]).toEqual([401, undefined])
    },
  )

  test('a key is not used up by a browser that fetches ahead', async () => {
    const path = served.newAddress().slice(served.origin.length)
    expect((await send(path, { 'sec-purpose': 'prefetch;prerender' })).status).toBe(403)
    expect((await send(path)).status).toBe(303)
  })

  test('a key is not taken from a change', async () => {
    const answer = await send(served.newAddress().slice(served.origin.length), { origin: served.origin }, 'POST')
    expect(answer.status).toBe(405)
  })

  test('two browsers each have a session of their own', async () => {
    const [first, second] = [await signIn(), await signIn()]
    expect(first).not.toBe(second)
    for (const cookie of [first, second]) expect((await send('/', { cookie })).status).toBe(200)
  })
})

describe('without the cookie nothing answers', () => {
  test.each([
    '/',
    '/due',
    '/index.html',
    '/assets/a.js',
    '/rpc/due/list',
    '/papers/letters/1.pdf',
    '/../../etc/passwd',
  ])('%s', async (path) => {
    const answer = await send(path)
    expect(answer.status).toBe(401)
    expect(asked).toEqual([])
  })

  test.each(['penstock=1', 'penstock-0=x', 'other=1', '=', ';;;'])(
    'a wrong cookie is no cookie: %s',
    async (cookie) => {
      expect((await send('/', { cookie })).status).toBe(401)
    },
  )

  test('a guessed session at the right name is no session', async () => {
    const name = `penstock-${new URL(served.origin).port}`
    expect((await send('/rpc/due/list', { cookie: `${name}=${'A'.repeat(43)}` })).status).toBe(401)
  })

  test('a person is told in words how to get in', async () => {
    const answer = await send('/', { accept: 'text/html' })
    expect(answer.status).toBe(401)
    expect(answer.text).toContain('it prints a new address')
  })
})

describe('with the cookie, strangers are still turned away', () => {
  test.each(['evil.example.com', 'localhost', '127.0.0.1', '127.0.0.1:1', '[::1]', '127.0.0.1.evil.example.com'])(
    'Host %s',
    async (host) => {
      const answer = await send('/rpc/due/list', { cookie: await signIn(), host })
      expect(answer.status).toBe(421)
      expect(asked).toEqual([])
    },
  )

  test.each(['https://evil.example.com', 'null', 'http://127.0.0.1:1', 'http://localhost', 'https://127.0.0.1'])(
    'Origin %s',
    async (origin) => {
      const cookie = await signIn()
      for (const method of ['GET', 'POST'])
        expect((await send('/rpc/due/list', { cookie, origin }, method)).status).toBe(403)
      expect(asked).toEqual([])
    },
  )

  test('an origin that only begins like ours', async () => {
    const answer = await send(
      '/rpc/due/list',
      { cookie: await signIn(), origin: `${served.origin}.evil.example.com` },
      'POST',
    )
    expect(answer.status).toBe(403)
  })

  test.each(['cross-site', 'same-site'])(
    'Sec-Fetch-Site %s: another page, or another port, speaks through the browser',
    async (site) => {
      const answer = await send('/rpc/due/list', { cookie: await signIn(), 'sec-fetch-site': site }, 'GET')
      expect(answer.status).toBe(403)
    },
  )

  test.each(['POST', 'PUT', 'DELETE'])('a %s that does not say where it comes from', async (method) => {
    expect((await send('/rpc/due/list', { cookie: await signIn() }, method)).status).toBe(403)
    expect(asked).toEqual([])
  })

  test.each([
    '/../../../etc/passwd',
    '/..%2f..%2fetc%2fpasswd',
    '/%2e%2e/%2e%2e/etc/passwd',
    '/assets/..%5c..%5cwindows',
    '/assets/%00.js',
    '/%c0%ae%c0%ae/x',
    '/rpc%2f..%2f..%2fx',
    '//evil.example.com/x.js',
  ])('the path %s leads nowhere', async (path) => {
    const answer = await send(path, { cookie: await signIn() })
    expect(answer.text).not.toContain('root:')
    expect([200, 400, 404]).toContain(answer.status)
    if (answer.status === 200) expect(answer.text).toContain('<title>Penstock</title>')
    expect(asked).toEqual([])
  })
})

describe('what may be asked', () => {
  test('questions and papers reach the office, screens and files come from the window', async () => {
    const cookie = await signIn()
    expect((await send('/rpc/due/list', { cookie, origin: served.origin }, 'POST')).text).toBe('answered')
    expect((await send('/papers/letters/1.pdf', { cookie })).text).toBe('answered')
    expect((await send('/due', { cookie })).text).toContain('<title>Penstock</title>')
    expect(asked).toEqual(['POST /rpc/due/list', 'GET /papers/letters/1.pdf'])
  })

  test('every answer carries the headers of the house', async () => {
    const cookie = await signIn()
    for (const path of ['/', '/rpc/x', '/papers/x.pdf', '/nothing.js']) {
      const { headers } = await send(path, { cookie })
      expect(headers).toMatchObject({
        'x-content-type-options': 'nosniff',
        'referrer-policy': 'no-referrer',
        'cross-origin-opener-policy': 'same-origin',
        'cross-origin-resource-policy': 'same-origin',
      })
      expect(headers['content-security-policy']).toContain("default-src 'none'")
    }
    expect((await send('/', { cookie })).headers['content-security-policy']).toContain("frame-ancestors 'none'")
  })

  test('each page has a nonce of its own, in the page and in its policy', async () => {
    const cookie = await signIn()
    const nonces = new Set<string>()
    for (const { text, headers } of [await send('/', { cookie }), await send('/', { cookie })]) {
      const nonce = /nonce="([^"]+)"/.exec(text)?.[1] ?? ''
      expect(headers['content-security-policy']).toContain(`'nonce-${nonce}'`)
      nonces.add(nonce)
    }
    expect(nonces.size).toBe(2)
  })

  test('a paper streams: its beginning is here before its end is made', async () => {
    const cookie = await signIn()
    const answer = await send('/papers/slow.pdf', { cookie }, 'GET', (text) => {
      if (text === 'first ') finishSlowly()
    })
    expect(answer.text).toBe('first last')
  })

  test('closing lets a paper that is being made finish', async () => {
    const cookie = await signIn()
    let closed: Promise<void> | null = null
    const answer = await send('/papers/slow.pdf', { cookie }, 'GET', (text) => {
      if (text !== 'first ') return
      closed = served.close()
      finishSlowly()
    })
    await closed
    expect(answer.text).toBe('first last')
    await expect(send('/', { cookie })).rejects.toThrow()
    served = await serveOffice({
      office: { handle: answerOffice },
      files: openPageFiles(folder),
      port: 0,
      log: () => {},
    })
  })

  test('something far too large is not taken in', async () => {
    const headers = { cookie: await signIn(), origin: served.origin, 'content-length': String(65 * 1024 * 1024) }
    const { hostname, port } = new URL(served.origin)
    const status = await new Promise<number>((resolve) => {
      const sent = ask({ hostname, port, path: '/rpc/imports/read', method: 'POST', headers }, (response) => {
        resolve(response.statusCode ?? 0)
        sent.destroy()
      })
      sent.on('error', () => {})
      sent.flushHeaders()
    })
    expect(status).toBe(413)
  })
})
