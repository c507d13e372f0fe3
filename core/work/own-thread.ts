import { type ResourceLimits, Worker } from 'node:worker_threads'
import type { Clock } from '../clock.ts'
import type { Result } from '../result.ts'
import type { FromThread, PaperHead, ThreadStart, ToThread } from './thread-messages.ts'
import type { LaunchWork } from './work-runner.ts'

/** Beside this file: `work-thread.ts` when run from source, `work-thread.js` when built. */
function threadEntry(): URL {
  return new URL(import.meta.url.endsWith('.ts') ? './work-thread.ts' : './work-thread.js', import.meta.url)
}

/** A paper holds one page at a time; a small heap is tidied often instead of growing with the number of pages. */
const PAPER_LIMITS = { maxYoungGenerationSizeMb: 8, maxOldGenerationSizeMb: 160 } as const
/** The same for work that holds little at a time. Its old heap has no bound: work that holds more than it said is slow, not dead. */
const LITTLE_LIMITS = { maxYoungGenerationSizeMb: 8 } as const

function startThread(start: ThreadStart, resourceLimits: ResourceLimits = {}): Worker {
  return new Worker(threadEntry(), { workerData: start, resourceLimits })
}

/** Runs each work in a thread and on a connection of its own, so that no request waits for it. */
export function launchInOwnThread(
  database: string,
  clock: Clock,
  by: string,
  keepsLittle: (name: string) => boolean,
): LaunchWork {
  return (name, input, step, who = by) => {
    const start: ThreadStart = {
      database,
      today: clock.today(),
      now: clock.now(),
      by: who,
      task: { kind: 'work', name, input },
    }
    const thread = startThread(start, keepsLittle(name) ? LITTLE_LIMITS : {})
    const finished = new Promise<Result<unknown>>((resolve, reject) => {
      thread.on('message', (message: FromThread) => {
        if (message.kind === 'step') step(message.step)
        else if (message.kind === 'result') resolve(message.result)
        else if (message.kind === 'broke') reject(new Error(message.message))
      })
      thread.on('error', reject)
      thread.on('exit', (code) => reject(new Error(`The thread of ${name} ended early (${code})`)))
    })
    return { finished, stop: () => thread.postMessage({ kind: 'stop' } satisfies ToThread) }
  }
}

export interface MadePaper {
  readonly head: PaperHead
  readonly body: ReadableStream<Uint8Array>
}

interface Awaited {
  readonly head: (head: Result<PaperHead>) => void
  readonly failed: (error: Error) => void
  stream: ReadableStreamDefaultController<Uint8Array> | null
}

/** One warm thread that makes papers; started when the first paper is asked for, and again should it ever die. */
export class PaperThread {
  readonly #database: string
  readonly #clock: Clock
  readonly #by: string
  readonly #awaited = new Map<number, Awaited>()
  #thread: Worker | null = null
  #next = 1

  constructor(database: string, clock: Clock, by: string) {
    this.#database = database
    this.#clock = clock
    this.#by = by
  }

  async make(path: string, query: URLSearchParams): Promise<Result<MadePaper>> {
    const id = this.#next++
    const thread = this.#running()
    const send = (message: ToThread) => thread.postMessage(message)
    const head = await new Promise<Result<PaperHead>>((resolve, reject) => {
      // A process that waits for a paper does not end; one that has its papers need not end the thread first.
      thread.ref()
      this.#awaited.set(id, { head: resolve, failed: reject, stream: null })
      send({ kind: 'paper', id, path, query: query.toString(), today: this.#clock.today(), now: this.#clock.now() })
    })
    const awaited = this.#awaited.get(id)
    if (!head.ok || !awaited) {
      this.#over(id)
      return head.ok
        ? {
            ok: false,
            problem: { code: 'PAPER_UNKNOWN', sentence: 'The paper was dropped.', nextStep: 'Ask for it again.' },
          }
        : head
    }
    const body = new ReadableStream<Uint8Array>(
      {
        start: (controller) => {
          awaited.stream = controller
        },
        pull: () => send({ kind: 'more', id }),
        cancel: () => {
          this.#over(id)
          send({ kind: 'drop', id })
        },
      },
      { highWaterMark: 1 },
    )
    return { ok: true, value: { head: head.value, body } }
  }

  async close(): Promise<void> {
    const thread = this.#thread
    this.#thread = null
    if (!thread) return
    const gone = new Promise<void>((resolve) => {
      thread.once('exit', () => resolve())
    })
    thread.ref()
    thread.postMessage({ kind: 'end' } satisfies ToThread)
    await gone
  }

  #running(): Worker {
    if (this.#thread) return this.#thread
    const start: ThreadStart = {
      database: this.#database,
      today: this.#clock.today(),
      now: this.#clock.now(),
      by: this.#by,
      task: { kind: 'papers' },
    }
    const thread = startThread(start, PAPER_LIMITS)
    thread.on('message', (message: FromThread) => this.#hear(message))
    const died = (error: Error) => {
      if (this.#thread === thread) this.#thread = null
      for (const awaited of this.#awaited.values()) this.#fail(awaited, error)
      this.#awaited.clear()
    }
    thread.on('error', died)
    thread.on('exit', () => died(new Error('The thread that makes papers ended')))
    thread.unref()
    this.#thread = thread
    return thread
  }

  #over(id: number): void {
    this.#awaited.delete(id)
    if (this.#awaited.size === 0) this.#thread?.unref()
  }

  #hear(message: FromThread): void {
    if (!('id' in message)) return
    const awaited = this.#awaited.get(message.id)
    if (!awaited) return
    if (message.kind === 'head') awaited.head(message.head)
    else if (message.kind === 'chunk') awaited.stream?.enqueue(message.bytes)
    else if (message.kind === 'paper-end') {
      awaited.stream?.close()
      this.#over(message.id)
    } else {
      this.#fail(awaited, new Error(message.message))
      this.#over(message.id)
    }
  }

  #fail(awaited: Awaited, error: Error): void {
    if (awaited.stream) awaited.stream.error(error)
    else awaited.failed(error)
  }
}
