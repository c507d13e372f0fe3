import { nameInLine } from '../due/household-reason.ts'
import { STAGE_KIND_WORDS } from '../installations/stage-kinds.ts'
import { addDays, type CalendarDate, daysBetween } from '../units/calendar-date.ts'
import { type Cents, cents } from '../units/money.ts'
import { minutes } from '../units/time-of-day.ts'
import type { NextDueShelf } from './next-due-shelf.ts'
import {
  type HouseholdToPlan,
  type HouseholdVisits,
  type PlanFigures,
  planHousehold,
  type StageToPlan,
} from './plan-household.ts'
import { leavingCosts, takingCosts } from './plan-leaving.ts'
import type { HouseholdPlan, PlannedChangeShape, PlannedVisitShape } from './plan-shapes.ts'
import { eachOnItsOwnDate, everythingEveryTime } from './plan-visits.ts'
import {
  figuresInWords,
  type Manner,
  nextInWords,
  savingsInWords,
  stageInLine,
  visitInWords,
  whenInPlan,
  whyChanged,
  whyNotTaken,
  wishesInWords,
} from './plan-words.ts'
import { callCentsOn, changeCents, type PlanDay, type PlannedVisit, type VisitPlan } from './visit-plan.ts'

/** A stage that is due within so many days after the next visit is spoken of when it is not taken along. */
const SOON_DAYS = 400

const NO_END = { visits: Number.POSITIVE_INFINITY, days: Number.POSITIVE_INFINITY }

/** A planned visit without words: what the books keep. */
export interface PlainVisit {
  readonly visitOn: CalendarDate
  readonly latestOn: CalendarDate
  readonly minutes: number
  readonly cents: Cents
  readonly changes: readonly PlainChange[]
}

export interface PlainChange {
  readonly stage: StageToPlan
  readonly index: number
  readonly because: PlannedChangeShape['because']
  readonly dueOn: CalendarDate | null
}

/**
 * The visits of a plan by date. A visit is worth the drive from the day on which the first stage that calls for it is due, not before
 * today nor before the visit before it; and must be by the day on which the plan has it.
 */
export function datedVisits(
  visits: HouseholdVisits,
  figures: PlanFigures,
  most: { readonly visits: number; readonly days: number } = NO_END,
): PlainVisit[] {
  const { question, stages } = visits
  const dueDays = question.stages.map((stage) => stage.dueDay)
  const dated: PlainVisit[] = []
  let before = question.firstDay - 1
  for (const visit of visits.plan.visits) {
    if (dated.length >= most.visits || (dated.length > 0 && visit.day > most.days)) break
    const changes = visit.changes.flatMap((index): PlainChange[] => {
      const stage = stages[index]
      return stage
        ? [
            {
              stage,
              index,
              because: becauseOf(visits, visit, dueDays, index),
              dueOn: dateOf(stage, dueDays[index] ?? 0, figures, visits),
            },
          ]
        : []
    })
    const calling = changes
      .filter(({ because }) => because === 'forced')
      .map(({ index }) => dueDays[index] ?? visit.day)
    const opens = calling.length === 0 ? visit.day : Math.min(...calling)
    const first = Math.min(Math.max(opens, before + 1, question.firstDay), visit.day)
    const plan = costOfOne(visits, visit)
    dated.push({
      visitOn: addDays(figures.today, first),
      latestOn: addDays(figures.today, visit.day),
      minutes: figures.callMinutes + changes.reduce((sum, { stage }) => sum + stage.minutes, 0),
      cents: plan,
      changes,
    })
    for (const index of visit.changes) dueDays[index] = question.stages[index]?.next.dueAt[visit.day] ?? visit.day
    before = visit.day
  }
  return dated
}

/** Cannot wait for a later visit, goes with what carries it, or comes along because that is cheaper. */
function becauseOf(
  { question }: HouseholdVisits,
  visit: PlannedVisit,
  dueDays: readonly number[],
  index: number,
): PlainChange['because'] {
  const stage = question.stages[index]
  if (!stage) return 'along'
  if ((dueDays[index] ?? 0) + stage.graceDays <= visit.day) return 'forced'
  return visit.changes.some((other) => question.stages[other]?.carries.includes(index)) ? 'carried' : 'along'
}

/** The due date that a change answers; none for a stage without a date that goes with another. */
function dateOf(
  stage: StageToPlan,
  dueDay: PlanDay,
  figures: PlanFigures,
  { question }: HouseholdVisits,
): CalendarDate | null {
  return stage.dueOn === null && dueDay > question.horizonDay ? null : addDays(figures.today, dueDay)
}

function costOfOne({ question }: HouseholdVisits, visit: PlannedVisit): Cents {
  const changes = visit.changes.reduce((sum, index) => {
    const stage = question.stages[index]
    return stage ? sum + changeCents(stage, visit.day) : sum
  }, 0)
  return cents(callCentsOn(question, visit.day) + changes)
}

/** The whole plan of a household, as a screen shows it. */
export function viewOfPlan(
  household: HouseholdToPlan,
  figures: PlanFigures,
  shelf: NextDueShelf,
  manner: Manner,
  version: number,
): HouseholdPlan {
  const visits = planHousehold(household, figures, shelf)
  const ownDates = eachOnItsOwnDate(visits.question)
  const everything = everythingEveryTime(visits.question)
  const dated = datedVisits(visits, figures)
  const shown = dated.map((visit, at) => shownVisit(visit, at, visits, manner))
  const notPlanned = notPlannedOf(visits, dated[0], manner)
  const savings = savingsInWords(
    compared(visits.plan),
    compared(ownDates),
    compared(everything),
    figures,
    visits.proved,
    manner,
  )
  const next = nextInWords(shown[0], household.stages, missingInWords(visits), manner)
  const wishesInForce = wishesInWords(
    household.wishes,
    figures,
    costOfWishes(household, visits, figures, shelf),
    manner,
  )
  return {
    siteId: household.siteId,
    plannedOn: figures.today,
    horizonOn: visits.horizonOn,
    visits: shown,
    next,
    totalCents: cents(visits.plan.totalCents),
    creditCents: cents(visits.plan.creditCents),
    savesOwnDatesCents: cents(Math.max(0, ownDates.totalCents - visits.plan.totalCents)),
    ownDatesVisits: ownDates.visits.length,
    savesEverythingCents: cents(Math.max(0, everything.totalCents - visits.plan.totalCents)),
    everythingVisits: everything.visits.length,
    savings: shown.length === 0 ? [] : savings,
    figures: figuresInWords(figures, visits.stages, manner),
    proved: visits.proved,
    wishes: household.wishes,
    wishesInForce,
    version,
    notPlanned: notPlanned.map(({ said: _, ...left }) => left),
    sentences: [
      next,
      ...(shown[0]?.changes ?? []).map((change) => `${capital(stageInLine(change))}: ${change.why}.`),
      ...notPlanned.map((left) => `Not on the next visit: ${left.said}.`),
      ...shown
        .slice(1)
        .map((visit) => `Visit ${whenInPlan(visit, manner)}: ${visitInWords(visit.changes, household.stages)}.`),
      ...(shown.length === 0 ? [] : savings),
    ],
  }
}

const capital = (text: string): string => text.slice(0, 1).toUpperCase() + text.slice(1)

const compared = ({ visits, totalCents }: VisitPlan) => ({ visits: visits.length, totalCents })

function shownVisit(visit: PlainVisit, at: number, visits: HouseholdVisits, manner: Manner): PlannedVisitShape {
  const changes = visit.changes.map((change): PlannedChangeShape => {
    const { stage, because, dueOn } = change
    const costs = at === 0 && because === 'along' ? leavingCosts(visits, change.index) : null
    const leavingCostsCents = costs === null ? null : cents(costs)
    const carrier = carrierOf(change, visit)
    return {
      stageId: stage.stageId,
      installationId: stage.installationId,
      kind: stage.kind,
      label: stage.label,
      unit: stage.unit,
      care: STAGE_KIND_WORDS[stage.kind].care,
      dueOn,
      because,
      why: whyChanged(
        { because, dueOn, visitOn: visit.visitOn, leavingCostsCents, horizonOn: visits.horizonOn, carrier },
        manner,
      ),
      givesUpDays: dueOn === null ? 0 : Math.max(0, daysBetween(visit.visitOn, dueOn)),
      leavingCostsCents,
    }
  })
  return {
    visitOn: visit.visitOn,
    latestOn: visit.latestOn,
    minutes: minutes(visit.minutes),
    cents: visit.cents,
    changes,
  }
}

/** What a stage that goes along with another goes with: its unit's membrane. */
export function carrierOf(change: PlainChange, visit: PlainVisit): string {
  const carrier = visit.changes.find(
    ({ stage }) => stage.kind === 'membrane' && stage.installationId === change.stage.installationId,
  )
  return nameInLine(carrier?.stage ?? { kind: 'membrane', label: '' })
}

/** Stages due soon that the next visit leaves alone, and those that cannot be planned; each with why. */
export function notPlannedOf(
  visits: HouseholdVisits,
  next: PlainVisit | undefined,
  manner: Manner,
): (HouseholdPlan['notPlanned'][number] & { readonly said: string })[] {
  const taken = new Set(next?.changes.map(({ stage }) => stage.stageId))
  const left = visits.stages.flatMap((stage, index) => {
    if (!next || taken.has(stage.stageId) || stage.dueOn === null) return []
    const givesUp = daysBetween(next.visitOn, stage.dueOn)
    if (givesUp > SOON_DAYS) return []
    const why = whyNotTaken(stage, Math.max(0, givesUp), takingCosts(visits, index), visits.horizonOn, manner)
    return [{ stage, why }]
  })
  const undated = visits.leftOut.map((stage) => ({
    stage,
    why: whyNotTaken(stage, 0, null, visits.horizonOn, manner),
  }))
  return [...left, ...undated].map(({ stage, why }) => ({
    stageId: stage.stageId,
    label: stage.label,
    unit: stage.unit,
    why,
    stays: stage.stays === true,
    said: `${stageInLine(stage)}, ${why}`,
  }))
}

/** What the wishes in force cost over the horizon; null when nothing is wished or there was too much to weigh. */
function costOfWishes(
  household: HouseholdToPlan,
  visits: HouseholdVisits,
  figures: PlanFigures,
  shelf: NextDueShelf,
): number | null {
  const { wishes } = household
  const wished =
    wishes.avoidMonths.length + figures.avoidMonths.length > 0 ||
    (wishes.membraneNeverEarly ?? figures.membraneNeverEarly)
  if (!wished) return null
  const free = planHousehold(
    { ...household, wishes: { ...wishes, avoidMonths: [], membraneNeverEarly: false } },
    { ...figures, avoidMonths: [] },
    shelf,
  )
  return free.proved && visits.proved ? Math.max(0, visits.plan.totalCents - free.plan.totalCents) : null
}

function missingInWords(visits: HouseholdVisits): string {
  if (visits.stages.length + visits.leftOut.length === 0)
    return 'No stages are recorded here: add them to the unit first.'
  if (visits.stages.length === 0 && visits.leftOut.every((stage) => stage.stays))
    return 'Nothing is to be changed as far as one can see: the membrane holds.'
  if (visits.stages.length === 0) return 'Nothing has a date yet: write down when the stages were last changed.'
  return `Nothing falls due before ${visits.horizonOn.slice(0, 4)}.`
}
