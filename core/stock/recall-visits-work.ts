import type { OpenBooks } from '../answering.ts'
import { ok, type Result } from '../result.ts'
import type { LotId, SiteId } from '../units/ids.ts'
import { namedWork, type WorkDesk } from '../work/work.ts'
import { type RecallBooked, recallVisitsInput } from './recall-contract.ts'
import { addRecallChange, bookRecallVisit, type RecallVisitsSeen, readRecallVisits } from './recall-visits-answers.ts'

/** Visits to a transaction: whoever else wants the books waits no longer than these take. */
const AT_ONCE = 8

interface Step {
  readonly siteId: SiteId
  readonly does: 'books' | 'adds'
  readonly run: (books: OpenBooks) => Promise<Result<'done' | 'needless'>>
}

type Outcome = Result<'done' | 'needless'>

/**
 * Books a visit for every home of a recalled lot that has none, and adds the change to those that have, some at a time, each turn one
 * transaction. Stopped on the way, what is booked stays and the rest waits for the next press, which books nothing twice.
 */
export const recallVisitsWork = namedWork({ input: recallVisitsInput, run: bookRecall })

async function bookRecall(
  desk: WorkDesk,
  input: { lotId: LotId; from: RecallVisitsSeen['from'] | null },
): Promise<Result<RecallBooked>> {
  const seen = await readRecallVisits(desk, input)
  if (!seen.ok) return seen
  const steps = stepsOf(input.lotId, seen.value)
  const came: RecallBooked = { booked: 0, added: 0, left: [], notComeTo: steps.length }
  const homes = new Map(
    seen.value.stages.map(({ siteId, household, town, phone }) => [siteId, { siteId, household, town, phone }]),
  )
  const leave = (siteId: SiteId, why: string): void => {
    const home = homes.get(siteId)
    if (home) came.left.push({ ...home, why })
  }
  for (let done = 0; done < steps.length; ) {
    const saying = `${came.booked + came.added} of ${steps.length} visits booked`
    if (!(await desk.progress({ done, total: steps.length, saying }))) break
    const turn = steps.slice(done, done + AT_ONCE)
    const outcomes = await runTurn(desk, turn)
    for (const [index, step] of turn.entries()) {
      const outcome = outcomes[index]
      if (outcome && !outcome.ok) leave(step.siteId, outcome.problem.sentence)
      else if (outcome?.value === 'done') came[step.does === 'books' ? 'booked' : 'added'] += 1
    }
    done += turn.length
    came.notComeTo = steps.length - done
  }
  for (const { siteId } of seen.value.left) leave(siteId, 'The coming weeks have no room for it.')
  return ok(came)
}

function stepsOf(lotId: LotId, { bookings, added }: RecallVisitsSeen): Step[] {
  return [
    ...added.map(
      ({ home, visit }): Step => ({
        siteId: home.siteId,
        does: 'adds',
        run: (books) => addRecallChange(books, lotId, visit.visitId),
      }),
    ),
    ...bookings.map(
      (booking): Step => ({
        siteId: booking.siteId,
        does: 'books',
        run: (books) => bookRecallVisit(books, lotId, booking),
      }),
    ),
  ]
}

/** One that cannot be takes its turn back with it: then each goes by itself, and only that one is left. */
async function runTurn(desk: WorkDesk, turn: readonly Step[]): Promise<Outcome[]> {
  const together = await desk.write(async (books) => {
    const outcomes: ('done' | 'needless')[] = []
    for (const step of turn) {
      const outcome = await step.run(books)
      if (!outcome.ok) return outcome
      outcomes.push(outcome.value)
    }
    return ok(outcomes)
  })
  if (together.ok) return together.value.map((outcome) => ok(outcome))
  const outcomes: Outcome[] = []
  for (const step of turn) outcomes.push(await desk.write(step.run))
  return outcomes
}
