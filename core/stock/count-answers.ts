import { implement } from '@orpc/server'
import { answer, type Desk, type OpenBooks } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { counted } from '../units/date-words.ts'
import { approve, compare } from './approve-count-answers.ts'
import { type CountLine, type CountRound, type CountScope, countContract } from './count-contract.ts'
import { countableHeaps } from './count-facts-store.ts'
import { addFound, countAgain, leaveOut, writeDown } from './count-lines-answers.ts'
import { openCount } from './open-count-answers.ts'
import { findPlace } from './places-store.ts'
import {
  endCount,
  findCount,
  findOpenCountByName,
  insertCount,
  insertCountLines,
  linesOfCount,
  linesOfOpenCounts,
  listCounts,
  type NewCountLine,
  progressOfCounts,
} from './stock-counts-store.ts'
import { heapKey, week, weekToCount } from './what-to-count-answers.ts'

const ENDED_SHOWN = 40

async function rounds(desk: Desk): Promise<Result<CountRound[]>> {
  const counts = await listCounts(desk.read, desk.officeId, ENDED_SHOWN)
  const progress = await progressOfCounts(
    desk.read,
    desk.officeId,
    counts.map((count) => count.countId),
  )
  return ok(
    counts.map(({ version: _, ...count }) => ({
      ...count,
      ...(progress.get(count.countId) ?? { lines: 0, counted: 0 }),
    })),
  )
}

/** A round as whoever counts sees it: what the books say is not in it. */
async function round(
  desk: Desk,
  input: { countId: number },
): Promise<Result<CountRound & { version: number; rows: CountLine[] }>> {
  const found = await findCount(desk.read, desk.officeId, input.countId)
  if (!found) return refused('COUNT_GONE')
  const rows = (await linesOfCount(desk.read, desk.officeId, input.countId)).map(
    ({ booksSaid: _, cost: __, ...line }) => line,
  )
  return ok({ ...found, lines: rows.length, counted: rows.filter((row) => row.counted !== null).length, rows })
}

function begin(
  desk: Desk,
  input: { name: string; scope: CountScope },
): Promise<Result<{ countId: number; lines: number }>> {
  return desk.write(async (books) => {
    const { read, tx, officeId, today: on, now: at, by } = books
    if (await findOpenCountByName(read, officeId, input.name)) return refused('COUNT_NAME_TAKEN', { name: input.name })
    const lines = await linesOfScope(books, input.scope)
    if (lines.length === 0) return refused('COUNT_NOTHING_THERE')
    const countId = await insertCount(tx, officeId, { name: input.name, on, at, by, state: 'open' })
    await insertCountLines(tx, officeId, countId, lines)
    const sentence = `Counting begun: ${input.name}, ${counted(lines.length, 'lot')}`
    await books.record({ subjectKind: 'count', subjectId: countId, verb: 'begun', sentence })
    return ok({ countId, lines: lines.length })
  })
}

/** The heaps of a round, those of other open rounds left out. */
async function linesOfScope(books: OpenBooks, scope: CountScope): Promise<NewCountLine[]> {
  if (scope.of === 'week') return (await weekToCount(books)).heaps
  const begun = new Set((await linesOfOpenCounts(books.read, books.officeId)).map(heapKey))
  const heaps = await countableHeaps(books.read, books.officeId)
  const place = scope.of === 'place' ? await findPlace(books.read, books.officeId, scope.placeId) : null
  const why = {
    all: 'Everything is counted.',
    aisle: `All of aisle ${scope.of === 'aisle' ? scope.aisle : ''} is counted.`,
    place: `All of ${place?.name ?? 'this place'} is counted.`,
  }[scope.of]
  return heaps
    .filter((heap) => scope.of !== 'aisle' || heap.aisle === scope.aisle)
    .filter((heap) => scope.of !== 'place' || heap.placeId === scope.placeId)
    .filter((heap) => !begun.has(heapKey(heap)))
    .map(({ placeId, partId, lotId }) => ({ placeId, partId, lotId, why }))
}

/** A round that is dropped changes nothing: what was counted in it is kept to look at, and the books say what they said. */
function drop(desk: Desk, input: { countId: number }): Promise<Result<{ sentence: string }>> {
  return desk.write(async (books) => {
    const open = await openCount(books, input.countId)
    if (!open.ok) return open
    await endCount(books.tx, books.officeId, input.countId, { state: 'dropped', at: books.now, by: books.by })
    const sentence = `The round ${open.value.name} is dropped. The books are as they were.`
    await books.record({ subjectKind: 'count', subjectId: input.countId, verb: 'dropped', sentence })
    return ok({ sentence })
  })
}

const door = implement(countContract).$context<Desk>()
export const countAnswers = door.router({
  week: door.week.handler(answer((desk) => week(desk))),
  rounds: door.rounds.handler(answer((desk) => rounds(desk))),
  begin: door.begin.handler(answer(begin)),
  round: door.round.handler(answer(round)),
  writeDown: door.writeDown.handler(answer(writeDown)),
  addFound: door.addFound.handler(answer(addFound)),
  leaveOut: door.leaveOut.handler(answer(leaveOut)),
  compare: door.compare.handler(answer(compare)),
  countAgain: door.countAgain.handler(answer(countAgain)),
  approve: door.approve.handler(answer(approve)),
  drop: door.drop.handler(answer(drop)),
})
