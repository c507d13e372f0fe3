import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import type { CalendarDate } from '../units/calendar-date.ts'
import { cents } from '../units/money.ts'
import type { NextDueShelf } from './next-due-shelf.ts'
import { type HouseholdToPlan, type PlanFigures, planHousehold } from './plan-household.ts'
import { leavingCosts } from './plan-leaving.ts'
import { carrierOf, datedVisits, notPlannedOf, type PlainChange } from './plan-view.ts'
import { type Manner, whyChanged } from './plan-words.ts'
import type { ProposedTask } from './propose-tasks.ts'

/**
 * What a visit on that very day should see to, stage by stage in the order given: the plan of the household with its first visit there.
 * On a day that is past the visit is taken to be today.
 */
export function proposalOfPlan(
  household: HouseholdToPlan,
  on: CalendarDate,
  figures: PlanFigures,
  shelf: NextDueShelf,
  manner: Manner,
): ProposedTask[] {
  const visits = planHousehold({ ...household, bookedOn: on }, figures, shelf, 'whenever')
  const first = datedVisits(visits, figures)[0]
  const taken = new Map<number, PlainChange>(first?.changes.map((change) => [change.stage.stageId, change]))
  const left = new Map(notPlannedOf(visits, first, manner).map(({ stageId, why }) => [stageId, why]))
  return household.stages.map((stage): ProposedTask => {
    const { care } = STAGE_KIND_WORDS[stage.kind]
    const change = taken.get(stage.stageId)
    if (!first || !change)
      return {
        stageId: stage.stageId,
        care,
        proposed: false,
        why: left.get(stage.stageId) ?? 'not due for a long time',
      }
    const costs = change.because === 'along' ? leavingCosts(visits, change.index) : null
    const why = whyChanged(
      {
        because: change.because,
        dueOn: change.dueOn,
        visitOn: on,
        leavingCostsCents: costs === null ? null : cents(costs),
        horizonOn: visits.horizonOn,
        carrier: carrierOf(change, first),
      },
      manner,
    )
    return { stageId: stage.stageId, care, proposed: true, why }
  })
}
