import type { MessagePort } from 'node:worker_threads'
import type { ReadDb } from '../database/handles.ts'

/** Does turns of a task from the committed books; what comes of one is plain data. */
export type NamedTurns = (read: ReadDb, input: unknown) => (turn: number) => Promise<unknown>

/** Binds turns to the input that the first thread hands over: both are the same program, so nothing is parsed. */
export function namedTurns<Input, Turn>(
  begin: (read: ReadDb, input: Input) => (turn: number) => Promise<Turn>,
): NamedTurns {
  return (read, input) => begin(read, input as Input)
}

/** What the second thread is started with. */
export interface TurnsStart {
  readonly database: string
  readonly task: string
  readonly input: unknown
  readonly turns: number
  /** The pile that both take from, see `takeTurn`. */
  readonly pile: SharedArrayBuffer
  /** Where what was made is handed over: the first thread looks there between two writes. */
  readonly given: MessagePort
}

/** From the second thread: what it made of a turn; that there is nothing left. One that fails just ends. */
export type FromTurns =
  | { readonly kind: 'turn'; readonly turn: number; readonly made: unknown }
  | { readonly kind: 'over' }

/** A number that both threads see: the first turn that nobody has taken. */
export function newPile(): SharedArrayBuffer {
  return new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT)
}

/** Takes a turn from the pile, each once whoever asks; null when none is left. */
export function takeTurn(pile: SharedArrayBuffer, turns: number): number | null {
  const turn = Atomics.add(new Int32Array(pile), 0, 1)
  return turn < turns ? turn : null
}
