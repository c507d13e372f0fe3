import { setTimeout as pause } from 'node:timers/promises'
import { MessageChannel, type MessagePort, receiveMessageOnPort, Worker } from 'node:worker_threads'
import type { SecondHand, SharedTurns } from '../answering.ts'
import { type FromTurns, newPile, type TurnsStart, takeTurn } from './turns.ts'

/** Beside this file: `turns-thread.ts` when run from source, `turns-thread.js` when built. */
function threadEntry(): URL {
  return new URL(import.meta.url.endsWith('.ts') ? './turns-thread.ts' : './turns-thread.js', import.meta.url)
}

/** Lends a thread that reads the SQLite file at an address; each task has one of its own, for as long as it lasts. */
export function secondHandFor(database: string): SecondHand {
  return {
    share: <Turn>(task: string, input: unknown, turns: number): SharedTurns<Turn> => {
      const { port1: port, port2: given } = new MessageChannel()
      const start: TurnsStart = { database, task, input, turns, pile: newPile(), given }
      const thread = new Worker(threadEntry(), { workerData: start, transferList: [given] })
      // A thread that fails says so by ending: what it took is done here then.
      thread.on('error', () => {})
      const gone = new Promise<void>((resolve) => thread.once('exit', () => resolve()))
      return new Shared<Turn>(start, port, gone)
    },
  }
}

/** How long the first thread sleeps while it waits for the last turns of the other. */
const A_MOMENT = 1

class Shared<Turn> implements SharedTurns<Turn> {
  readonly #start: TurnsStart
  readonly #port: MessagePort
  readonly #gone: Promise<void>
  /** Turns that were done, or are being done here. */
  readonly #mine = new Set<number>()
  #isOver = false

  constructor(start: TurnsStart, port: MessagePort, gone: Promise<void>) {
    this.#start = start
    this.#port = port
    this.#gone = gone.then(() => {
      this.#isOver = true
    })
  }

  take(): number | null {
    const turn = takeTurn(this.#start.pile, this.#start.turns) ?? this.#leftBehind()
    if (turn !== null) this.#mine.add(turn)
    return turn
  }

  /** A turn that the other thread took and did not finish before it ended. */
  #leftBehind(): number | null {
    if (!this.#isOver) return null
    for (let turn = 0; turn < this.#start.turns; turn += 1) if (!this.#mine.has(turn)) return turn
    return null
  }

  /** Asks without waiting: while the first thread writes, nothing else in it has a turn. */
  ready(): Turn | null {
    const heard: { readonly message: FromTurns } | undefined = receiveMessageOnPort(this.#port)
    if (!heard) return null
    if (heard.message.kind !== 'turn') {
      this.#isOver = true
      return null
    }
    this.#mine.add(heard.message.turn)
    return heard.message.made as Turn
  }

  async awaited(): Promise<Turn | null> {
    for (;;) {
      const turn = this.ready()
      if (turn !== null) return turn
      // What was said before the end is heard first.
      if (this.#isOver) return this.ready()
      await pause(A_MOMENT)
    }
  }

  async end(): Promise<void> {
    // Takes all that is left off the pile, so that the other thread stops soon when this one gave up.
    Atomics.store(new Int32Array(this.#start.pile), 0, this.#start.turns)
    this.#port.close()
    await this.#gone
  }
}
