import { implement } from '@orpc/server'
import { answer, type Desk } from '../answering.ts'
import { ok, type Result, refused } from '../result.ts'
import { approve, compare } from './approve-count-answers.ts'
import { beginCount } from './begin-count-answers.ts'
import { type CountLine, type CountRound, countContract } from './count-contract.ts'
import { addFound, countAgain, leaveOut, writeDown } from './count-lines-answers.ts'
import { openCount } from './open-count-answers.ts'
import { endCount, findCount, linesOfCount, listCounts, progressOfCounts } from './stock-counts-store.ts'
import { week } from './what-to-count-answers.ts'

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
  week: door.week.handler(answer(week)),
  rounds: door.rounds.handler(answer((desk) => rounds(desk))),
  begin: door.begin.handler(answer(beginCount)),
  round: door.round.handler(answer(round)),
  writeDown: door.writeDown.handler(answer(writeDown)),
  addFound: door.addFound.handler(answer(addFound)),
  leaveOut: door.leaveOut.handler(answer(leaveOut)),
  compare: door.compare.handler(answer(compare)),
  countAgain: door.countAgain.handler(answer(countAgain)),
  approve: door.approve.handler(answer(approve)),
  drop: door.drop.handler(answer(drop)),
})
