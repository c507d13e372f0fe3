import { randomUUID } from 'node:crypto'
import type { Result } from '../result.ts'
import { ok, refused } from '../result.ts'
import type { WorkStep } from './work.ts'
import type { WorkState } from './work-contract.ts'

/** Runs one work to its end. `step` is told how far it is; `stop` asks it to stop. */
export interface RunningWork {
  readonly finished: Promise<Result<unknown>>
  readonly stop: () => void
}
/** `who` asks for it; without one it is whoever the office was opened for. */
export type LaunchWork = (name: string, input: unknown, step: (step: WorkStep) => void, who?: string) => RunningWork

/** Keeps the last finished works for a while, so that a screen that comes late still hears how they ended. */
const REMEMBERED = 50

/** What a work says when it ended because somebody pressed Stop. */
const STOPPED: ReadonlySet<string> = new Set(['WORK_STOPPED', 'WORK_STOPPED_HALF_WAY'])

/** The works of one office: started by name, watched, stopped. */
export class WorkRunner {
  readonly #launch: LaunchWork
  readonly #log: (line: string) => void
  readonly #works = new Map<string, { state: WorkState; stop: () => void; finished: Promise<void> }>()

  constructor(launch: LaunchWork, log: (line: string) => void) {
    this.#launch = launch
    this.#log = log
  }

  start(name: string, input: unknown): string {
    const workId = randomUUID()
    const state: WorkState = {
      workId,
      name,
      state: 'running',
      done: 0,
      total: 0,
      saying: 'starting',
      outcome: null,
      problem: null,
    }
    const running = this.#launch(name, input, (step) => this.#change(workId, step))
    const finished = running.finished.then(
      (result) => this.#finish(workId, result),
      (error: unknown) => {
        this.#log(
          `work ${name} ${workId} broke: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`,
        )
        this.#change(workId, {
          state: 'broken',
          saying: `It broke off; nothing was changed. Its number in the log is ${workId.slice(0, 8)}.`,
        })
      },
    )
    this.#works.set(workId, { state, stop: running.stop, finished })
    this.#forgetOld()
    return workId
  }

  progress(workId: string): Result<WorkState> {
    const work = this.#works.get(workId)
    return work ? ok(work.state) : refused('WORK_GONE')
  }

  running(): WorkState[] {
    return [...this.#works.values()].map((work) => work.state).filter((state) => state.state === 'running')
  }

  stop(workId: string): Result<WorkState> {
    const work = this.#works.get(workId)
    if (!work) return refused('WORK_GONE')
    work.stop()
    return ok(work.state)
  }

  /** Stops what runs and waits for it. */
  async close(): Promise<void> {
    for (const work of this.#works.values()) if (work.state.state === 'running') work.stop()
    await Promise.all([...this.#works.values()].map((work) => work.finished))
  }

  #finish(workId: string, result: Result<unknown>): void {
    if (result.ok) this.#change(workId, { state: 'done', outcome: result.value ?? null })
    else if (STOPPED.has(result.problem.code)) this.#change(workId, { state: 'stopped', problem: result.problem })
    else this.#change(workId, { state: 'refused', problem: result.problem })
  }

  #change(workId: string, change: Partial<WorkState>): void {
    const work = this.#works.get(workId)
    if (work) work.state = { ...work.state, ...change }
  }

  #forgetOld(): void {
    for (const [workId, work] of this.#works) {
      if (this.#works.size <= REMEMBERED) return
      if (work.state.state !== 'running') this.#works.delete(workId)
    }
  }
}
