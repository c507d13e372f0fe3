import type { NextDueRule } from '../due/next-due-date.ts'
import { STAGE_KIND_WORDS, type StageKind } from '../installations/stage-kinds.ts'
import { addDays, addMonths, type CalendarDate, dateFromParts, daysBetween, partsOf } from '../units/calendar-date.ts'
import type { InstallationId, SiteId, StageId } from '../units/ids.ts'
import { type Cents, cents, divideHalfAwayFromZero } from '../units/money.ts'
import type { NextDueShelf } from './next-due-shelf.ts'
import type { PlanWishes } from './plan-shapes.ts'
import { planVisits } from './plan-visits.ts'
import {
  type CallDifference,
  costOfVisits,
  type PlanDay,
  type PlannableStage,
  type VisitPlan,
  type VisitPlanQuestion,
} from './visit-plan.ts'

/** A stage of the household as the plan looks at it; the list is in flow order, unit after unit. */
export interface StageToPlan {
  readonly stageId: StageId
  readonly installationId: InstallationId
  readonly kind: StageKind
  readonly label: string
  /** Where the unit stands; said only where the household has several. */
  readonly unit: string
  readonly dueOn: CalendarDate | null
  /** Why it is due then, or why it has no date. */
  readonly reason: string
  /** A membrane that holds: it is measured at every visit and not changed, so it has no date here. */
  readonly stays?: boolean
  /** Null: nothing says when it falls due again. */
  readonly again: NextDueRule | null
  /** What a part costs the office, or its price where no cost is known; null where the part is not known. */
  readonly partCents: Cents | null
  /** The work at this stage. */
  readonly minutes: number
}

export interface HouseholdToPlan {
  readonly siteId: SiteId
  readonly stages: readonly StageToPlan[]
  readonly wishes: PlanWishes
  /** Days on which a neighbouring place of the same customer is visited. */
  readonly neighbourDays: readonly CalendarDate[]
  /** A visit that is booked already: the plan begins with it. */
  readonly bookedOn: CalendarDate | null
}

/** The office's figures for planning. */
export interface PlanFigures {
  readonly today: CalendarDate
  readonly graceDays: number
  readonly planHorizonYears: number
  readonly callCostCents: Cents
  readonly hourCostCents: Cents
  readonly callMinutes: number
  readonly avoidMonths: readonly number[]
  readonly membraneNeverEarly: boolean
}

/** A household's plan with what it was reckoned from. Indexes of `plan` are those of `stages`, less the booked visit's own. */
export interface HouseholdVisits {
  readonly stages: readonly StageToPlan[]
  readonly leftOut: readonly StageToPlan[]
  readonly question: VisitPlanQuestion
  /** Costs of the visits without what months to be avoided weigh. */
  readonly plan: VisitPlan
  /** What the search made of it, wishes weighed in; and the question it was asked. */
  readonly searched: VisitPlanQuestion
  readonly searchedCents: number
  readonly proved: boolean
  readonly horizonOn: CalendarDate
}

/** As if so many more calls: a month that is to be avoided is, unless something runs over its grace. */
const AVOIDED_CALLS = 4
/** A call next door on the same day costs half: nobody drives twice. */
const NEIGHBOUR_SHARE = 2

/** A booking so long after the grace of a stage has ended is not waited for. */
const TOO_LATE_DAYS = 60

/**
 * What the plan is asked: every stage of the household that has a date and an interval, at what it costs the office. A tank without a
 * date goes with the membrane of its unit. A booked visit stands as a stage of its own that is due on that day and never again.
 */
export function questionOfHousehold(
  household: HouseholdToPlan,
  figures: PlanFigures,
  shelf: NextDueShelf,
  booked: 'in-time' | 'whenever' = 'in-time',
): Pick<HouseholdVisits, 'stages' | 'leftOut' | 'question' | 'horizonOn'> {
  const horizonOn = horizonOf(figures)
  const horizonDay = daysBetween(figures.today, horizonOn)
  const membranes = new Set(
    household.stages
      .filter((stage) => stage.kind === 'membrane' && isDated(stage))
      .map(({ installationId }) => installationId),
  )
  const goes = (stage: StageToPlan) =>
    isDated(stage) || (stage.again !== null && isSanitised(stage) && membranes.has(stage.installationId))
  const stages = household.stages.filter(goes)
  const leftOut = household.stages.filter((stage) => !goes(stage))
  const neverEarly = household.wishes.membraneNeverEarly ?? figures.membraneNeverEarly
  const bookedDay = bookedDayOf(household, figures, booked)
  const firstDay = bookedDay ?? 0
  const plannable = stages.map((stage): PlannableStage => {
    const carries = stage.kind === 'membrane' ? tanksOf(stages, stage.installationId) : []
    return {
      dueDay: stage.dueOn === null ? horizonDay + 1 : daysBetween(figures.today, stage.dueOn),
      graceDays: figures.graceDays,
      next: shelf.tableOf(stage.again, horizonDay),
      costCents: careCents(stage, figures),
      neverEarly: neverEarly && stage.kind === 'membrane',
      carries,
    }
  })
  if (bookedDay !== null && bookedDay <= horizonDay) plannable.push(bookedVisit(bookedDay, horizonDay, shelf))
  const question: VisitPlanQuestion = {
    stages: plannable,
    firstDay,
    horizonDay,
    callCents: figures.callCostCents,
    callDifferences: wishedDifferences(household, figures, horizonDay),
    creditsLifeLeft: true,
  }
  return { stages, leftOut, question, horizonOn }
}

/** The visits that cost the office least over the horizon, none of the household's stages running past its grace. */
export function planHousehold(
  household: HouseholdToPlan,
  figures: PlanFigures,
  shelf: NextDueShelf,
  booked: 'in-time' | 'whenever' = 'in-time',
): HouseholdVisits {
  const asked = questionOfHousehold(household, figures, shelf, booked)
  const found = planVisits(asked.question)
  // Months to be avoided weigh in the choice, but nobody pays for them.
  const honest = {
    ...asked.question,
    callDifferences: neighbourDifferences(household, figures, asked.question.horizonDay),
  }
  return {
    ...asked,
    question: honest,
    plan: costOfVisits(honest, found.visits),
    searched: asked.question,
    searchedCents: found.totalCents,
    proved: found.proved,
  }
}

export function horizonOf(figures: Pick<PlanFigures, 'today' | 'planHorizonYears'>): CalendarDate {
  return addMonths(figures.today, figures.planHorizonYears * 12)
}

/** What one change of a stage costs the office: the part and the work. */
export function careCents(stage: StageToPlan, figures: Pick<PlanFigures, 'hourCostCents'>): Cents {
  const labour = divideHalfAwayFromZero(BigInt(figures.hourCostCents) * BigInt(stage.minutes), 60n)
  return cents((stage.partCents ?? 0) + labour)
}

export const isSanitised = (stage: { readonly kind: StageKind }): boolean =>
  STAGE_KIND_WORDS[stage.kind].care === 'sanitise'

const isDated = (stage: StageToPlan): boolean => stage.dueOn !== null

function tanksOf(stages: readonly StageToPlan[], installationId: InstallationId): number[] {
  return stages.flatMap((stage, index) =>
    isSanitised(stage) && stage.installationId === installationId ? [index] : [],
  )
}

/** A booked visit begins the plan, unless it is booked for long after something has run over its grace: that is not left waiting. */
function bookedDayOf(household: HouseholdToPlan, figures: PlanFigures, booked: 'in-time' | 'whenever'): PlanDay | null {
  if (household.bookedOn === null) return null
  const day = Math.max(0, daysBetween(figures.today, household.bookedOn))
  const lastDays = household.stages.flatMap(({ dueOn }) =>
    dueOn === null ? [] : [Math.max(0, daysBetween(figures.today, dueOn) + figures.graceDays)],
  )
  return booked === 'in-time' && day > Math.min(...lastDays) + TOO_LATE_DAYS ? null : day
}

function bookedVisit(day: PlanDay, horizonDay: PlanDay, shelf: NextDueShelf): PlannableStage {
  return {
    dueDay: day,
    graceDays: 0,
    next: shelf.tableOf(null, horizonDay),
    costCents: 0,
    neverEarly: false,
    carries: [],
  }
}

function wishedDifferences(household: HouseholdToPlan, figures: PlanFigures, horizonDay: PlanDay): CallDifference[] {
  const wished = household.wishes.avoidMonths.length > 0 ? household.wishes.avoidMonths : figures.avoidMonths
  const avoided = new Set(wished)
  const differences = neighbourDifferences(household, figures, horizonDay)
  if (avoided.size === 0 || avoided.size >= 12) return differences
  const cost = AVOIDED_CALLS * Math.max(figures.callCostCents, 1)
  for (let day = 0; day <= horizonDay; ) {
    const { year, month } = partsOf(addDays(figures.today, day))
    const next = month === 12 ? dateFromParts(year + 1, 1, 1) : dateFromParts(year, month + 1, 1)
    if (next === null) break
    const until = daysBetween(figures.today, next) - 1
    if (avoided.has(month)) differences.push({ from: day, until: Math.min(until, horizonDay), cents: cost })
    day = until + 1
  }
  return differences
}

/** A neighbouring place is visited anyway on these days. */
function neighbourDifferences(household: HouseholdToPlan, figures: PlanFigures, horizonDay: PlanDay): CallDifference[] {
  if (!household.wishes.align) return []
  const less = Math.floor(figures.callCostCents / NEIGHBOUR_SHARE)
  return [...new Set(household.neighbourDays)]
    .map((on) => daysBetween(figures.today, on))
    .filter((day) => day >= 0 && day <= horizonDay)
    .map((day) => ({ from: day, until: day, cents: -less }))
}
