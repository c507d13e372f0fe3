import { type ChildProcess, spawn } from 'node:child_process'
import { once } from 'node:events'
import { existsSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import { isOpenElsewhere } from '../../core/database/backup-files.ts'

/** `npm start` as it is, with a home folder that is empty and has a space in its name, and no display. */
const wayIn = fileURLToPath(new URL('../../electron/start/with-modern-node.mjs', import.meta.url))
let home = ''
let started: ChildProcess[] = []
const books = (): string => join(home, 'data', 'penstock', 'books.sqlite')

beforeEach(() => {
  home = mkdtempSync(join(tmpdir(), 'an empty home '))
})
afterEach(async () => {
  for (const one of started) one.kill('SIGKILL')
  started = []
  await free()
  rmSync(home, { recursive: true, force: true })
})

const free = () => expect.poll(() => isOpenElsewhere(books()), { timeout: 60_000, interval: 200 }).toBe(false)

interface Started {
  readonly process: ChildProcess
  /** The address that it printed. */
  readonly address: string
  readonly said: string
}

/** Starts as npm does: with a shell between. Resolves when an address is printed. */
async function start(): Promise<Started> {
  const { DISPLAY: _, WAYLAND_DISPLAY: __, DATABASE_URL: ___, ...environment } = process.env
  const shell = spawn('sh', ['-c', '"$0" "$1" start; exit $?', process.execPath, wayIn], {
    env: { ...environment, HOME: home, XDG_DATA_HOME: join(home, 'data'), npm_lifecycle_event: 'start' },
    stdio: ['ignore', 'pipe', 'inherit'],
  })
  started.push(shell)
  let said = ''
  for await (const bytes of shell.stdout) {
    said += String(bytes)
    const address = /http:\/\/127\.0\.0\.1:\d+\/enter\?key=\S+/.exec(said)?.[0]
    if (address) return { process: shell, address, said }
  }
  throw new Error(`No address was printed: ${said}`)
}

const statusOf = async (address: string): Promise<number> => (await fetch(address, { redirect: 'manual' })).status

describe.runIf(process.platform !== 'win32')('npm start', () => {
  test('opens new books in an empty home; a second start is one more way into the same office, and ends by itself', async () => {
    const first = await start()
    expect(existsSync(books())).toBe(true)
    expect(isOpenElsewhere(books())).toBe(true)
    const second = await start()
    expect(second.said).toContain('already open on these books')
    expect(new URL(second.address).origin).toBe(new URL(first.address).origin)
    expect([await statusOf(first.address), await statusOf(second.address)]).toEqual([303, 303])
    if (second.process.exitCode === null) await once(second.process, 'exit')
    expect(second.process.exitCode).toBe(0)
  }, 240_000)

  test('when whoever started it is gone, the program ends and lets go of the books', async () => {
    const { process: shell, address } = await start()
    shell.kill('SIGTERM')
    await free()
    await expect(statusOf(address)).rejects.toThrow()
    expect(existsSync(`${books()}.served`)).toBe(false)
    expect(existsSync(`${books()}-wal`)).toBe(false)
  }, 240_000)
})
