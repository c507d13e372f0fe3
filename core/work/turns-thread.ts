// The entry of a second thread: takes turns of a task from a shared pile, reads for them, and gives back what they come to.
import { workerData } from 'node:worker_threads'
import { openToRead } from '../database/open-sqlite.ts'
import { TURNS } from '../turns.ts'
import { type FromTurns, type TurnsStart, takeTurn } from './turns.ts'

const { database, task, input, turns, pile, given } = workerData as TurnsStart
const say = (message: FromTurns) => given.postMessage(message)
const begin = TURNS[task]
if (!begin) throw new Error(`Nobody knows the turns of ${task}`)
const books = openToRead(database)
try {
  const make = begin(books.read, input)
  for (let turn = takeTurn(pile, turns); turn !== null; turn = takeTurn(pile, turns))
    say({ kind: 'turn', turn, made: await make(turn) })
  say({ kind: 'over' })
} finally {
  await books.close()
  given.close()
}
