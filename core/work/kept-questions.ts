import { setImmediate as breath } from 'node:timers/promises'
import type { Asking, KeptDoor, KeptQuestion } from '../answering.ts'
import { markOfBooks } from '../database/books-mark.ts'
import type { ReadDb } from '../database/handles.ts'
import type { LaunchWork } from './work-runner.ts'

type Asked = Asking & { readonly read: ReadDb }

interface Kept {
  readonly mark: string
  readonly value: Promise<unknown>
}

/** Reckons anew each time: for works, papers and the command line, which ask once. */
export const RECKONED_EACH_TIME: KeptDoor = { ask: (question, asked) => question.reckon(asked) }

/**
 * Keeps an answer until something is written into the books or the day turns, so that it is never another than a fresh one would be.
 * In a large office it is reckoned in a thread of its own: whoever asks for it waits, nobody else does. At most one reckoning of a
 * question runs; those who ask meanwhile share it, or the one after it.
 */
export class KeptAnswers implements KeptDoor {
  readonly #launch: LaunchWork | null
  readonly #kept = new Map<string, Kept>()
  readonly #running = new Map<string, { readonly over: Promise<unknown>; readonly stop: () => void }>()
  #isClosed = false

  /** `launch` is null where there are no threads: everything is reckoned here. */
  constructor(launch: LaunchWork | null) {
    this.#launch = launch
  }

  async ask<Value>(question: KeptQuestion<Value>, asked: Asked): Promise<Value> {
    const books = await markOfBooks(asked.read, asked.dialect)
    const mark = `${asked.officeId} ${asked.today} ${books}`
    const known = this.#kept.get(question.name)
    // A name stands for one question: what is kept under it has been through its schema.
    if (known?.mark === mark) return (await known.value) as Value
    const value = this.#reckon(question, asked)
    this.#kept.set(question.name, { mark, value })
    try {
      return await value
    } catch (error) {
      if (this.#kept.get(question.name)?.value === value) this.#kept.delete(question.name)
      throw error
    }
  }

  async close(): Promise<void> {
    this.#isClosed = true
    for (const { stop } of this.#running.values()) stop()
    await Promise.allSettled([...this.#running.values()].map(({ over }) => over))
  }

  async #reckon<Value>(question: KeptQuestion<Value>, asked: Asked): Promise<Value> {
    const value = question.output.parse(await this.#reckonSomewhere(question, asked))
    await breath()
    return value
  }

  async #reckonSomewhere<Value>(question: KeptQuestion<Value>, asked: Asked): Promise<unknown> {
    if (this.#launch === null || !(await question.isLarge(asked))) return question.reckon(asked)
    // One thread a question: the next begins when the one before is over, however that ended.
    const before = this.#running.get(question.name)?.over
    if (before) await Promise.allSettled([before])
    if (this.#isClosed) return question.reckon(asked)
    const work = this.#launch(question.name, {}, () => {})
    const over = work.finished.then((result) => {
      if (!result.ok) throw new Error(`${question.name} was not reckoned: ${result.problem.sentence}`)
      return result.value
    })
    const entry = { over, stop: work.stop }
    this.#running.set(question.name, entry)
    try {
      const value = await over
      // A large answer takes a while to be taken in: others have their turn before it is looked at.
      await breath()
      return value
    } finally {
      if (this.#running.get(question.name) === entry) this.#running.delete(question.name)
    }
  }
}
