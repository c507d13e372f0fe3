// The entry of a working thread: long work or papers, on a connection of its own.
import { setImmediate as turn } from 'node:timers/promises'
import { parentPort, workerData } from 'node:worker_threads'
import type { Clock } from '../clock.ts'
import { openDatabase } from '../database/open-books.ts'
import { deskOf } from '../desk-of-office.ts'
import { refused } from '../result.ts'
import { WORKS } from '../works.ts'
import { findPaper } from './find-paper.ts'
import { secondHandFor } from './second-hand.ts'
import type { FromThread, ThreadStart, ToThread } from './thread-messages.ts'

const port = parentPort
if (!port) throw new Error('This file is the entry of a working thread')
const start = workerData as ThreadStart
const database = openDatabase(start.database)
const say = (message: FromThread) => port.postMessage(message)
const noWork = { start: async () => Promise.reject(new Error('A work does not start another')) }
const clockAt = (today: ThreadStart['today'], now: string): Clock => ({ today: () => today, now: () => now })

if (start.task.kind === 'work') await runWork(start.task.name, start.task.input)
else servePapers()

async function runWork(name: string, input: unknown): Promise<void> {
  let stopped = false
  port?.on('message', (message: ToThread) => {
    if (message.kind === 'stop') stopped = true
  })
  try {
    const secondHand = database.dialect === 'sqlite' ? secondHandFor(start.database) : null
    const desk = deskOf(database, clockAt(start.today, start.now), start.by, noWork, { secondHand })
    const progress = async (step: { done: number; total: number; saying: string }) => {
      say({ kind: 'step', step })
      await turn()
      return !stopped
    }
    const work = WORKS[name]
    say({ kind: 'result', result: work ? await work.run({ ...desk, progress }, input) : refused('WORK_UNKNOWN') })
  } catch (error) {
    say({ kind: 'broke', message: error instanceof Error ? (error.stack ?? error.message) : String(error) })
  } finally {
    await database.close()
    port?.close()
  }
}

function servePapers(): void {
  const waiting = new Map<number, { more: () => void; dropped: boolean }>()
  port?.on('message', (message: ToThread) => {
    if (message.kind === 'paper') void makePaper(message, waiting)
    else if (message.kind === 'more') waiting.get(message.id)?.more()
    else if (message.kind === 'drop') {
      const paper = waiting.get(message.id)
      if (paper) paper.dropped = true
      paper?.more()
    } else if (message.kind === 'end') void database.close().then(() => port?.close())
  })
}

class Dropped extends Error {}

async function makePaper(
  wanted: Extract<ToThread, { kind: 'paper' }>,
  waiting: Map<number, { more: () => void; dropped: boolean }>,
): Promise<void> {
  const turnstile = { more: () => {}, dropped: false }
  waiting.set(wanted.id, turnstile)
  try {
    const desk = deskOf(database, clockAt(wanted.today, wanted.now), start.by, noWork)
    const paper = await findPaper(desk, wanted.path, new URLSearchParams(wanted.query))
    if (!paper.ok) return say({ kind: 'head', id: wanted.id, head: paper })
    const { fileName, contentType, write } = paper.value
    const firstAsked = new Promise<void>((resolve) => {
      turnstile.more = resolve
    })
    say({ kind: 'head', id: wanted.id, head: { ok: true, value: { fileName, contentType } } })
    await firstAsked
    await write({
      write: async (bytes) => {
        if (turnstile.dropped) throw new Dropped()
        const taken = new Promise<void>((resolve) => {
          turnstile.more = resolve
        })
        say({ kind: 'chunk', id: wanted.id, bytes: new Uint8Array(bytes) })
        await taken
      },
    })
    say({ kind: 'paper-end', id: wanted.id })
  } catch (error) {
    if (!(error instanceof Dropped))
      say({
        kind: 'paper-broke',
        id: wanted.id,
        message: error instanceof Error ? (error.stack ?? error.message) : String(error),
      })
  } finally {
    waiting.delete(wanted.id)
  }
}
