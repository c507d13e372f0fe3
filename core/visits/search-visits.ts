import { groupsOfAlike, type StageGroup } from './alike-stages.ts'
import { bestRuleOfThumb } from './rules-of-thumb.ts'
import { searchEverySet } from './search-every-set.ts'
import type { PlannedVisit, VisitPlanQuestion } from './visit-plan.ts'
import { type SearchedVisits, VisitSearch } from './visit-search.ts'

/*
 * Why only a few days and a few sets of stages need to be looked at.
 *
 * Let the last day of a stage be its due date plus its grace. Between visits all that matters is the last day of every stage: it says
 * what must happen when, and a later last day is never worse.
 *
 * 1. Which days. Take a best plan and a visit in it on which no stage stands at its last day. Do the visit a day later, with the same
 *    changes. No stage runs over. What was changed falls due again no sooner than before, so everything after it still fits, and the
 *    life left at the horizon is no less. If the next visit is reached, the two become one and a call is saved. Only two things stop
 *    this: a call that costs more tomorrow than today, and a stage that is never changed early, for which a later change means a later
 *    first day next time. So a visit lies on the last day of some stage, on the last day before the call grows dearer, or, if it
 *    changes a stage that is never changed early, on one of the days on which that stage may be changed.
 * 2. Which stages. Say the days are settled. A stage that costs the same on every day is then best changed as late as can be: at the
 *    last visit on or before its last day. Moving one of its changes to a later visit leaves no fewer days until the next, so it needs
 *    no more changes, and the life left is no less. One more change near the horizon brings at most its own price in life left, so it
 *    does not pay. Hence at a visit exactly those stages are changed whose last day comes before the next visit: the choice of what to
 *    change is the choice of the next day, and there are no more such choices than stages.
 *    Two kinds of stage are chosen openly instead: one that carries another along (a membrane, with its tank to be sanitised), for the
 *    other may want it sooner, and one that is never changed early.
 * 3. Which states. Of two ways to arrive at the same next day, one that cost no more and leaves every last day no earlier makes the
 *    other needless (a stage that is never changed early must agree to the day). A way that cannot end below the best known cost,
 *    even with the fewest changes and calls still to come, is needless too.
 * 4. A stage that is not to be seen to before some day, though it may be due, changes nothing in 1 and 2: they only put changes off.
 *
 * Stages whose cost depends on the day fall outside 2; then every day and every set of stages is looked at (`search-every-set.ts`),
 * which is for small questions only.
 */

/** What was found, and whether nothing can be cheaper. */
export interface FoundVisits {
  readonly visits: PlannedVisit[]
  readonly proved: boolean
}

/** So many visits are tried before the best plan found so far is taken: a second's work or two. */
const MOST_STEPS = 400_000

/** Nearly every household is planned within so many. */
const EASY_STEPS = 4_000

/** Ways followed from a day, first few, then more. */
const NARROW = [12, 100]

/** Sets of stages are bits of a whole number. */
const MOST_GROUPS = 30

/** Stages chosen openly double the choices each. */
const MOST_OPEN = 12

/**
 * The visits of a best plan. Where there is too much to weigh (more than `mostSteps` visits to try, or more than 30 stages that all
 * differ), the best that was found, and `proved` is false. RangeError: a stage that is carried along and never changed early.
 */
export function searchVisits(question: VisitPlanQuestion, mostSteps = MOST_STEPS): FoundVisits {
  for (const { carries } of question.stages)
    if (carries.some((index) => question.stages[index]?.neverEarly))
      throw new RangeError('What is carried along goes with its carrier, early or not')
  if (question.stages.some((stage) => typeof stage.costCents !== 'number'))
    return { visits: searchEverySet(question), proved: true }
  const groups = groupsOfAlike(question)
  const thumb = bestRuleOfThumb(question, groups)
  const open = groups.filter((group) => group.neverEarly || group.carries.length > 0).length
  const found =
    groups.length > MOST_GROUPS || open > MOST_OPEN
      ? { visits: null, cents: thumb.cents, proved: false }
      : searchInTurns(question, groups, thumb.cents, mostSteps)
  const visits = found.visits ?? thumb.visits()
  return {
    visits: visits.map(({ day, changes }) => ({ day, changes: stagesOf(groups, changes) })),
    proved: found.proved,
  }
}

/**
 * Most questions are answered at once. Where one is not, a narrow search finds a very good plan first: the better the plan that is
 * known, the more of the wide search is needless.
 */
function searchInTurns(
  question: VisitPlanQuestion,
  groups: readonly StageGroup[],
  knownCents: number,
  mostSteps: number,
): SearchedVisits {
  const search = (known: SearchedVisits, steps: number, widest?: number): SearchedVisits => {
    const found = new VisitSearch(question, groups, known.cents).run(steps, widest)
    return found.visits === null ? { ...known, proved: found.proved } : found
  }
  let found = search({ visits: null, cents: knownCents, proved: false }, Math.min(EASY_STEPS, mostSteps))
  for (const widest of NARROW) if (!found.proved) found = search(found, mostSteps, widest)
  return found.proved ? found : search(found, mostSteps)
}

function stagesOf(groups: readonly StageGroup[], chosen: readonly number[]): number[] {
  return chosen.flatMap((index) => groups[index]?.members ?? []).sort((a, b) => a - b)
}
